"""Every mesh of a train as cut, at its nominal, its likely tightest, its tightest and its widest centre distance."""

from __future__ import annotations

from collections.abc import Iterable

from trivet.record import record
from trivet.solve.as_cut_mesh import AsCutMesh, as_cut_mesh
from trivet.solve.derived import Derived, MeshState


@record
class AsCutProof:
    """One mesh. `likely`: nearer by the root sum of squares of all that moves the axes; `tightest`, `loosest`: by all of it at once.

    Outlines are as drawn for the cutter; an error of a flank, and the teeth that a tilted axis crosses, are in the backlash's budget
    alone. Moisture counts in the distance as what board and gears move unlike each other.
    """

    nominal: AsCutMesh
    likely: AsCutMesh
    tightest: AsCutMesh
    loosest: AsCutMesh


def as_cut_proofs(derived: Derived, meshes: Iterable[MeshState] | None = None) -> dict[str, AsCutProof]:
    """By mesh id, of all meshes or of those named. Equal pairs at equal distances are turned once."""
    states = {state.id: state for state in derived.train.gears}

    def turned(mesh: MeshState, distance_mm: float) -> AsCutMesh:
        a, b = states[mesh.a], states[mesh.b]
        return as_cut_mesh(a.geometry, b.geometry, distance_mm, (a.cutter_diameter_mm / 2.0, b.cutter_diameter_mm / 2.0))

    return {
        mesh.id: AsCutProof(
            nominal=turned(mesh, mesh.centre_distance_mm),
            likely=turned(mesh, mesh.centre_distance_likely_mm),
            tightest=turned(mesh, mesh.centre_distance_least_mm),
            loosest=turned(mesh, mesh.centre_distance_most_mm),
        )
        for mesh in (derived.train.meshes if meshes is None else meshes)
    }
