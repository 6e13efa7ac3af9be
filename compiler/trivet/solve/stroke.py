"""The board's stroke: what all feet allow together.

All feet stand on one bench, so their strokes are compared as heights of the work surface, not as extensions.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from trivet.record import record
from trivet.solve.climber import with_climbers
from trivet.solve.corner import Corner
from trivet.solve.foot_captured_nut import captured_nut_case
from trivet.solve.foot_case import Bound, FootCase, FootSpec, World
from trivet.solve.foot_riding import riding_case
from trivet.solve.foot_sliding_hex import sliding_hex_case


@record
class Ending:
    """The bound that ends the stroke on one side: the height there, whose it is."""

    height_mm: float
    foot: str
    bound: Bound


@record
class Stroke:
    """Heights of the work surface above the bench at one combination; `low`, `high` comfortable, the others to parting."""

    low: Ending
    high: Ending
    hard_low: Ending
    hard_high: Ending

    @property
    def travel_mm(self) -> float:
        """Comfortable travel; negative when the ends cross."""
        return self.high.height_mm - self.low.height_mm

    @property
    def to_parting_mm(self) -> float:
        """Travel to parting."""
        return self.hard_high.height_mm - self.hard_low.height_mm


def foot_case(spec: FootSpec, world: World, corner: Corner) -> FootCase:
    """A foot of any kind at one combination; `corner` has the sheets of `world`."""
    if spec.foot.kind == "riding":
        return riding_case(spec, world, corner)
    if spec.foot.kind == "captured_nut":
        return captured_nut_case(spec, world, corner)
    return sliding_hex_case(spec, world, corner)


def cases_at(specs: Sequence[FootSpec], world: World, corner: Corner) -> dict[str, FootCase]:
    """Every foot at one combination, with what idlers that climb with the board allow."""
    cases = {spec.id: foot_case(spec, world, corner) for spec in specs}
    if not world.climbers or not specs:
        return cases
    alone = stroke_of(cases)
    return cases if alone is None else with_climbers(cases, specs, world, corner, alone.low.height_mm)


def stroke_of(cases: Mapping[str, FootCase]) -> Stroke | None:
    """The overlap of all feet's strokes; None where some end has no bound at all."""
    ends: dict[tuple[str, bool], tuple[float, str, Bound]] = {}
    for foot, case in cases.items():
        zero = case.height_at_zero_mm
        for bound in case.bounds:
            height, end = zero + bound.at_mm, bound.end
            for hard in (False, True) if bound.hard else (False,):
                held = ends.get((end, hard))
                if held is None or (height > held[0] if end == "least" else height < held[0]):
                    ends[end, hard] = (height, foot, bound)
    if len(ends) < 4 or not all(math.isfinite(item[0]) for item in ends.values()):
        return None
    low, high, hard_low, hard_high = (Ending(*ends[end, hard]) for hard in (False, True) for end in ("least", "most"))
    return Stroke(low, high, hard_low, hard_high)


def mean_stroke(specs: Sequence[FootSpec], world: World) -> Stroke | None:
    """The stroke at one world with everything else nominal."""
    return stroke_of(cases_at(specs, world, world.corner))
