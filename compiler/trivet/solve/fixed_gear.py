"""A gear that does not move along its axis with the feet: where its faces are and how far play lets them go."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.record import record
from trivet.solve.corner import Corner, pick
from trivet.solve.derived import GearState


@record
class FixedGear:
    """z in mm. `bottom_mm`, `top_mm`: at rest, as it hangs or is pushed; the others: the face with all play and washers against us."""

    bottom_mm: float
    top_mm: float
    highest_bottom_mm: float
    lowest_top_mm: float


def stacked_gears(
    stack: Sequence[GearState], corner: Corner, rest_top_mm: float, highest_top_mm: float, lowest_top_mm: float
) -> dict[str, FixedGear]:
    """The gears of one shaft, given where the top face of the uppermost lies at rest, at its highest and at its lowest."""
    found: dict[str, FixedGear] = {}
    depth = 0.0
    for state in stack:
        width = pick(state.face_width, corner.gear)
        found[state.id] = FixedGear(
            bottom_mm=rest_top_mm - depth - width,
            top_mm=rest_top_mm - depth,
            highest_bottom_mm=highest_top_mm - depth - width,
            lowest_top_mm=lowest_top_mm - depth,
        )
        depth += width
    return found


def stack_width_mm(stack: Sequence[GearState], corner: Corner) -> float:
    """Thickness of all gears of one shaft, mm."""
    return sum(pick(state.face_width, corner.gear) for state in stack)


def droop_mm(tip_radius_mm: float, clearance_mm: float, bore_mm: float, play_mm: float, washer_mm: float) -> float:
    """How far a rim sinks when its gear leans: R min(c/l_bore, play/D_washer), mm.

    Derived: the lean ends where the bore touches the shaft at both ends, or where a face touches its washer on both sides.
    """
    lean = [clearance_mm / bore_mm] if bore_mm > 0.0 else []
    if washer_mm > 0.0:
        lean.append(play_mm / washer_mm)
    return tip_radius_mm * min(lean) if lean else 0.0
