"""A climbing idler that ends the travel before the feet would."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, Limit
from trivet.solve.limit_words import CLIMBER
from trivet.solve.solve import solve
from trivet.units import Quantity, length_text, two_lengths

# Travel that is not missed, mm, and the steps and the reach in which another start is looked for, mm (common practice, no source).
ALLOWED_MM = 0.5
STEP_MM = 1
MOST_MM = 20

RULE = Rule(
    "climber-shortens-travel",
    "warning",
    "an idler that rides a thread ends the travel more than 0.5 mm before the feet alone would",
    "turning against its neighbours it needs the other hand of thread to move with them; with the same hand they part twice as fast",
    "derived: shift per mm of travel |1 + eta (lead_i z_f)/(lead_f z_i)|, eta +1 for the same hand, -1 for the opposite",
    failing="""
+ 
+ foot climber
+   kind riding
+   thread M8
+   screw ISO 4017, length 25 mm, pocket 5.8 mm
+   insert my_insert, driven_from topside, flush underside
+   climbs from 8 mm
- turns_on pin
+   carries climber
""",
    passing="""
+ 
+ foot climber
+   kind riding
+   thread M8-LH
+   screw ISO 4017, length 30 mm, pocket 5.8 mm
+   insert my_insert, driven_from topside, flush underside
+   climbs from 1 mm
- turns_on pin
+   carries climber
- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
+   row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
+   row M8-LH, 16.0 +/- 0.1, 15, 4, 15, 13.5
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for the fixture, at the first climber that ends the travel. None where the feet alone have no travel."""
    if not derived.climbers or not derived.feet:
        return
    zero = {foot.id: foot.height_at_zero_mm for foot in derived.feet}
    soft = [(zero[foot.id] + limit.extension_mm, limit) for foot in derived.feet for limit in foot.limits]
    alone = _travel([item for item in soft if not item[1].cause.startswith(CLIMBER)])
    whole = _travel(soft)
    lost = alone - max(whole, 0.0)
    if alone <= 0.0 or lost <= ALLOWED_MM:
        return
    blamed = _ending(soft)
    first = next(item for item in derived.climbers if item.gear in blamed.parts)
    left, most = two_lengths(max(whole, 0.0), alone, design.units)
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"`{first.id}` climbs so that {left} of travel are left; the feet alone have {most}",
        place(first.foot.climbs_from.origin if first.foot.climbs_from is not None else None, first.foot.name.origin),
        related((blamed.sentence, first.foot.name.origin)),
        _remedy(design, first.foot.name.text, max(whole, 0.0), design.units),
        tuple(dict.fromkeys((first.id, *blamed.parts))),
    )


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


def _remedy(design: Design, name: str, now_mm: float, unit: str) -> str:
    """The start in whole millimetres that leaves most travel, where it is more; else the other hand of thread."""
    best, best_mm = now_mm + ALLOWED_MM, None
    for start in range(0, MOST_MM + 1, STEP_MM):
        stated = Quantity(Fraction(start), "mm")
        feet = tuple(foot.model_copy(update={"climbs_from": stated}) if foot.name.text == name else foot for foot in design.feet)
        lift = solve(design.model_copy(update={"feet": feet})).lift
        if lift is not None and lift.travel_mm > best:
            best, best_mm = lift.travel_mm, start
    if best_mm is not None:
        return f"`climbs from {length_text(float(best_mm), 'mm')}` leaves {length_text(best, unit)}"
    return "the other hand of thread (`-LH`), so that it moves with the gears it turns"
