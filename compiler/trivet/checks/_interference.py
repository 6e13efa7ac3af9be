"""Meshes whose tips reach too far, and the profile shift that ends it, tried out."""

from __future__ import annotations

from collections.abc import Hashable, Iterator

from trivet.record import replace
from trivet.solve.derived import Derived, GearState, MeshState
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry, tight_centre_distance_mm

SHIFT_STEP = 0.01
MOST_SHIFT = 1.0
# A mesh, the gear whose tips dig, the one they dig into, and by how much, mm.
Pair = tuple[MeshState, GearState, GearState, float]


def interfering(derived: Derived) -> Iterator[tuple[Hashable, Pair]]:
    """Each pair with what makes it like another."""
    for mesh in derived.train.meshes:
        a, b = derived.train.gear(mesh.a), derived.train.gear(mesh.b)
        for tip, root, past in ((a, b, mesh.interference_a_mm), (b, a, mesh.interference_b_mm)):
            if past > 1e-9:
                alike = (tip.geometry, root.geometry, round(past, 6), mesh.mesh.centre_distance is None)
                yield alike, (mesh, tip, root, past)


def least_shift(tip: ToothGeometry, root: ToothGeometry) -> float | None:
    """Least profile shift of the gear dug into, to 0.01, that ends the interference at centres derived anew."""
    for step in range(1, int((MOST_SHIFT - root.profile_shift) / SHIFT_STEP) + 1):
        shifted = replace(root, profile_shift=round(root.profile_shift + step * SHIFT_STEP, 4))
        geometry = mesh_geometry(tip, shifted, tight_centre_distance_mm(tip, shifted))
        if geometry is not None and max(geometry.interference_mm) <= 0.0:
            return shifted.profile_shift
    return None


def least_distance_mm(mesh: MeshState, tip: ToothGeometry, root: ToothGeometry) -> float | None:
    """The least centre distance, mm, at which neither tip reaches too far; None where the pair interferes at its own distance too."""
    low, high = mesh.centre_distance_mm, max(tight_centre_distance_mm(tip, root), mesh.centre_distance_mm)
    geometry = mesh_geometry(tip, root, high)
    if geometry is None or max(geometry.interference_mm) > 0.0:
        return None
    for _ in range(40):
        middle = (low + high) / 2.0
        geometry = mesh_geometry(tip, root, middle)
        clear = geometry is not None and max(geometry.interference_mm) <= 0.0
        low, high = (low, middle) if clear else (middle, high)
    return high
