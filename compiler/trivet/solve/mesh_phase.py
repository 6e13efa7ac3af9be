"""Tooth phases: how a gear must be turned to mesh, and whether a closed ring of meshes can be put together."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trivet.record import record

Point = tuple[float, float]


def direction_rad(start: Point, end: Point) -> float:
    """Direction from one centre to another, anticlockwise from +x."""
    return math.atan2(end[1] - start[1], end[0] - start[0])


def next_phase_rad(teeth: int, phase_rad: float, direction_to_mate_rad: float, mate_teeth: int) -> float:
    """Direction of one tooth of the mate, in [0, 2 pi/z), with equal backlash on both sides.

    z_i (b − t_i) + z_j (b + pi − t_j) = pi, solved for t_j: a tooth of one faces a space of the other.
    """
    turn = (teeth * (direction_to_mate_rad - phase_rad) - math.pi) / mate_teeth
    return (direction_to_mate_rad + math.pi + turn) % (2.0 * math.pi / mate_teeth)


def mesh_residual_pitches(
    teeth: int, phase_rad: float, direction_to_mate_rad: float, mate_teeth: int, mate_phase_rad: float
) -> float:
    """How far two gears already turned to their phases are from meshing evenly, in tooth pitches, −1/2 to 1/2."""
    b = direction_to_mate_rad
    total = teeth * (b - phase_rad) + mate_teeth * (b + math.pi - mate_phase_rad) - math.pi
    return _to_nearest(total / (2.0 * math.pi))


@record
class RingClosure:
    """`locked`: an odd number of meshes, no gear can turn. Residual: what is left over when all but one mesh are in
    phase, in pitches (−1/2 to 1/2) and as arc on the working circle, mm >= 0."""

    locked: bool
    residual_pitches: float
    residual_arc_mm: float

    def assembles(self, backlashes_mm: Sequence[float]) -> bool:
        """Whether the meshes' backlashes together take up the residual: |r| pi m <= half their sum."""
        return not self.locked and self.residual_arc_mm <= 0.5 * math.fsum(backlashes_mm)


def ring_closure(teeth: Sequence[int], centres: Sequence[Point], module_mm: float) -> RingClosure:
    """A closed ring of external gears of one module, in ring order, on fixed centres (mm), each meshing with the next.

    The alternating sum of z f/(2 pi) must be whole, f the angle at each gear from its previous to its next neighbour,
    anticlockwise: every phase appears twice with opposite signs in the mesh conditions. No gear of the ring may share
    its shaft with another of the ring; for those close the last mesh with `mesh_residual_pitches`. The result is
    meaningless for a locked ring and given as 0.
    """
    count = len(teeth)
    if count % 2:
        return RingClosure(True, 0.0, 0.0)
    terms: list[float] = []
    for k in range(count):
        here = centres[k]
        before, after = direction_rad(here, centres[k - 1]), direction_rad(here, centres[(k + 1) % count])
        spanned = (after - before) % (2.0 * math.pi)
        terms.append((-1.0) ** k * teeth[k] * spanned / (2.0 * math.pi))
    residual = _to_nearest(math.fsum(terms))
    return RingClosure(False, residual, abs(residual) * math.pi * module_mm)


def _to_nearest(value: float) -> float:
    return value - round(value)
