"""The overlap of every mesh's outlines as cut, at nominal centres."""

from __future__ import annotations

from trivet.solve.derived import Derived
from trivet.solve.mesh_sweep import mesh_overlap_mm2


def mesh_overlaps(derived: Derived) -> dict[str, float]:
    """Overlap (mm²) by mesh id; equal pairs are turned once. The larger of the two gears' cutters is taken for both."""
    states = {state.id: state for state in derived.train.gears}
    found = {}
    for mesh in derived.train.meshes:
        a, b = states[mesh.a], states[mesh.b]
        radius = max(a.cutter_diameter_mm, b.cutter_diameter_mm) / 2.0
        found[mesh.id] = mesh_overlap_mm2(a.geometry, b.geometry, mesh.centre_distance_mm, radius)
    return found
