"""What climbing idlers take from the travel, and the start of their thread that leaves most of it."""

from __future__ import annotations

from fractions import Fraction

from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived, FootState, Limit
from trivet.solve.limit_words import CLIMBER
from trivet.solve.solve import solve_heights
from trivet.units import Quantity, length_text

# Travel that is not missed, mm, and the steps and the reach in which another start is looked for, mm (common practice, no source).
ALLOWED_MM = 0.5
STEP_MM = 1
MOST_MM = 20


@record
class Shortened:
    """`climber` by its limit `blamed` leaves `left_mm` of the `alone_mm` that the feet alone have; below zero where none is left."""

    climber: FootState
    blamed: Limit
    left_mm: float
    alone_mm: float


def shortened(derived: Derived) -> Shortened | None:
    """None where nothing climbs, where the feet alone have no travel, and where no more is lost than is not missed."""
    if not derived.climbers or not derived.feet:
        return None
    zero = {foot.id: foot.height_at_zero_mm for foot in derived.feet}
    soft = [(zero[foot.id] + limit.extension_mm, limit) for foot in derived.feet for limit in foot.limits]
    alone = _travel([item for item in soft if not item[1].cause.startswith(CLIMBER)])
    left = _travel(soft)
    if alone - max(left, 0.0) <= ALLOWED_MM:
        return None
    blamed = _ending(soft)
    return Shortened(next(item for item in derived.climbers if item.gear in blamed.parts), blamed, left, alone)


def _travel(limits: list[tuple[float, Limit]]) -> float:
    lows = [height for height, limit in limits if limit.end == "least"]
    highs = [height for height, limit in limits if limit.end == "most"]
    return min(highs) - max(lows) if lows and highs else 0.0


def _ending(limits: list[tuple[float, Limit]]) -> Limit:
    """The climber's limit that takes most: at the least end the highest, at the most end the lowest."""
    lows = [item for item in limits if item[1].end == "least"]
    highs = [item for item in limits if item[1].end == "most"]
    ends = (max(lows, key=lambda item: item[0])[1], min(highs, key=lambda item: item[0])[1])
    return next(item for item in reversed(ends) if item.cause.startswith(CLIMBER))


def climber_remedy(design: Design, derived: Derived, found: Shortened) -> str:
    """The start in whole millimetres that leaves most travel, where it is more; else the other hand of thread."""
    name, best, best_mm = found.climber.foot.name.text, max(found.left_mm, 0.0) + ALLOWED_MM, None
    for start in range(0, MOST_MM + 1, STEP_MM) if derived.try_changes else ():
        stated = Quantity(Fraction(start), "mm")
        feet = tuple(foot.model_copy(update={"climbs_from": stated}) if foot.name.text == name else foot for foot in design.feet)
        lift = solve_heights(design.model_copy(update={"feet": feet}), derived.train).lift
        if lift is not None and lift.travel_mm > best:
            best, best_mm = lift.travel_mm, start
    if best_mm is not None:
        return f"`climbs from {length_text(float(best_mm), 'mm')}` leaves {length_text(best, design.units)}"
    return "the other hand of thread (`-LH`), so that it moves with the gears it turns"
