"""What would give more travel, tried out: each change is made to the foot set and the stroke is solved again at mean sheets."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.record import replace
from trivet.solve.bolt_length import stock_text
from trivet.solve.foot_case import FootSpec, LowPoint, World
from trivet.solve.stroke import Stroke, mean_stroke
from trivet.units import length_text, told_text

# A change of a pocket or a pad worth naming, mm; smaller gains are not named.
STEP_MM, STEP_INCH_MM = 1.0, 25.4 / 32
LEAST_GAIN_MM = 0.1
MOST_REMEDIES = 3


def remedies(specs: Sequence[FootSpec], name: str, world: World, stroke: Stroke, unit: str) -> tuple[tuple[str, float], ...]:
    """(what to change, total travel it would give), most travel first; only what gains at least 0.1 mm. `name` is the foot set."""
    one = next(spec for spec in specs if spec.foot.name.text == name)
    found: list[tuple[float, str]] = []
    by = STEP_INCH_MM if unit in ("in", "thou") else STEP_MM

    def attempt(words: str, changed: Sequence[FootSpec], where: World = world) -> None:
        after = mean_stroke(changed, where)
        if after is not None and after.travel_mm >= stroke.travel_mm + LEAST_GAIN_MM and after.travel_mm > 0.0:
            gives = length_text(after.travel_mm, unit, 2 if unit in ("in", "thou") else 1)
            found.append((after.travel_mm, f"{words} would give {gives} of travel"))

    def every(**changes: float | bool) -> list[FootSpec]:
        return [replace(spec, **changes) if spec.foot.name.text == name else spec for spec in specs]

    if one.foot.screw is not None:
        for length in _neighbouring(one):
            attempt(f"a screw of {stock_text(one.foot.screw, length)}", every(length_mm=length))
    if one.foot.insert is not None:
        way = (one.foot.insert.driven_from == "topside") != one.other_way
        attempt(f"driven from the {'underside' if way else 'topside'} it", every(other_way=not one.other_way))
    if one.foot.kind == "riding":
        step = told_text(by, unit)
        attempt(f"a pocket {step} deeper", every(pocket_mm=one.pocket_mm + by))
        if one.pocket_mm > by:
            attempt(f"a pocket {step} shallower", every(pocket_mm=one.pocket_mm - by))
    ends = (stroke.low, stroke.hard_low)
    if any(end.bound.cause == "bench" for end in ends) and world.low is not None:
        raised = LowPoint(world.low.z_mm + by, world.low.part, world.low.cause)
        attempt(f"{world.low.part} {told_text(by, unit)} higher", specs, replace(world, low=raised))
        attempt(f"a pad {told_text(by, unit)} taller", every(drop_mm=one.drop_mm + by))
    found.sort(key=lambda item: (-item[0], item[1]))
    return tuple((words, travel) for travel, words in found[:MOST_REMEDIES])


def _neighbouring(spec: FootSpec) -> tuple[float, ...]:
    """The next shorter and the two next longer stock lengths."""
    stock = spec.foot.screw.stock_mm if spec.foot.screw is not None else ()
    shorter = [length for length in stock if length < spec.length_mm - 1e-6]
    longer = [length for length in stock if length > spec.length_mm + 1e-6]
    return (*shorter[-1:], *longer[:2])
