"""The board's stroke as the maker reads it: travel, heights, turns, what ends it and what lies beyond."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from trivet.model.design import Design
from trivet.solve.derived import Because, FootState, Lift, Limit
from trivet.solve.foot_case import FootSpec
from trivet.solve.matching import match_all
from trivet.solve.stroke import Ending, Stroke
from trivet.units import length_text, number_text


def lift_of(
    design: Design,
    specs: Sequence[FootSpec],
    feet: Sequence[FootState],
    stroke: Stroke | None,
    worst: Sequence[Stroke],
    combinations: int,
) -> Lift | None:
    """None where a foot is not driven, feet rise opposite ways, or some end has no bound at some combination (`combinations` in all)."""
    rises = [foot.rise_per_turn_mm for foot in feet]
    if stroke is None or len(worst) < combinations or not rises:
        return None
    driven = [rise for rise in rises if rise is not None]
    if len(driven) < len(rises) or not all(driven) or len({rise > 0 for rise in driven}) > 1:
        return None
    unit = design.units
    rise = driven[0]
    per_turn = abs(float(rise))
    travel = max(0.0, stroke.travel_mm)
    low, high = stroke.low.height_mm, stroke.low.height_mm + travel
    zero = feet[0].height_at_zero_mm
    by_id = {foot.id: foot for foot in feet}
    matches = match_all(design.workpieces, low, high, unit)
    return Lift(
        per_turn_mm=per_turn,
        raises_when="clockwise" if rise > 0 else "anticlockwise",
        least_mm=low - zero,
        most_mm=stroke.high.height_mm - zero,
        travel_mm=travel,
        travel_worst_mm=max(0.0, min(item.travel_mm for item in worst)),
        travel_to_parting_mm=max(0.0, stroke.to_parting_mm),
        turns_for_travel=travel / per_turn,
        height_min_mm=low,
        height_max_mm=high,
        height_every_sheet=(max(item.low.height_mm for item in worst), min(item.high.height_mm for item in worst)),
        limits=tightest_limits(feet),
        beyond_least=beyond(stroke.low, stroke.hard_low, by_id, per_turn, unit),
        beyond_most=beyond(stroke.high, stroke.hard_high, by_id, per_turn, unit),
        riser_mm=tuple((item.name, item.riser_mm) for item in matches if item.riser_mm is not None),
        workpieces=tuple(
            (
                item.name,
                item.flush_from_mm if item.flush_from_mm is not None else 0.0,
                item.flush_to_mm if item.flush_to_mm is not None else 0.0,
                item.text,
            )
            for item in matches
        ),
        foot_blocks=tuple((item.name, item.blocks) for item in matches),
        because=_because(stroke, travel, per_turn, str(number_text(rise)), unit, specs),
    )


def tightest_limits(feet: Sequence[FootState]) -> tuple[Limit, ...]:
    """For each end, cause and hardness the tightest of all feet, as heights; the least end first, tightest first."""
    found: dict[tuple[str, str, bool], tuple[float, Limit]] = {}
    for foot in feet:
        for limit in foot.limits:
            height = foot.height_at_zero_mm + limit.extension_mm
            order = -height if limit.end == "least" else height
            key = (limit.end, limit.cause, limit.hard)
            if key not in found or order < found[key][0]:
                found[key] = (order, limit)
    return tuple(limit for _, limit in sorted(found.values(), key=lambda item: (item[1].end, item[0], item[1].cause, item[1].hard)))


def beyond(end: Ending, hard: Ending, feet: Mapping[str, FootState], per_turn_mm: float, unit: str) -> str:
    """What happens first beyond an end of the travel, how many turns are left to it, and what restores it."""
    foot = feet[hard.foot]
    limit = next(
        (item for item in foot.limits if item.end == hard.bound.end and item.hard and item.extension_mm == hard.bound.at_mm), None
    )
    if limit is None:
        return ""
    left = abs(hard.height_mm - end.height_mm)
    turns = left / per_turn_mm
    where = (
        "at the end of the travel"
        if turns < 0.05
        else f"{turns:.1f} turns ({length_text(left, unit)}) beyond the end of the travel"
    )
    return f"{where}: {limit.sentence}; beyond it {limit.then}"


def _because(
    stroke: Stroke, travel_mm: float, per_turn_mm: float, rise: str, unit: str, specs: Sequence[FootSpec]
) -> tuple[Because, ...]:
    foot = specs[0].foot
    low, high = length_text(stroke.low.height_mm, unit), length_text(stroke.low.height_mm + travel_mm, unit)
    ends = (
        (f"lowest height, by {stroke.low.bound.cause} at {stroke.low.foot}", low, foot.origin),
        (f"greatest height, by {stroke.high.bound.cause} at {stroke.high.foot}", high, foot.origin),
    )
    return (
        Because(
            "rise per drive turn",
            length_text(per_turn_mm, unit, 4),
            "lead · speed",
            (("signed, clockwise", f"{rise} mm", foot.origin),),
            "derived",
        ),
        Because("travel", length_text(travel_mm, unit), "greatest height − lowest height, over all feet", ends, "derived"),
        Because("height range", f"{low} to {high}", "topside of the uppermost board − foot plane", ends, "derived"),
        Because(
            "turns for the travel",
            f"{travel_mm / per_turn_mm:.2f}",
            "travel / rise per drive turn",
            (("travel", length_text(travel_mm, unit), None), ("rise per drive turn", length_text(per_turn_mm, unit, 4), None)),
            "derived",
        ),
    )
