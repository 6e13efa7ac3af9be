"""The record of each foot: heights, engagement, limits, zeroing, and what the insert driven the other way would give."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from trivet.model.base import Band
from trivet.solve.corner import Corner
from trivet.solve.derived import Because, FootState, Limit
from trivet.solve.foot_case import Bound, FootCase, FootSpec, World
from trivet.solve.foot_riding import proud_mm
from trivet.solve.limit_words import limit_of
from trivet.solve.rise import exact_lead_mm, rise_per_turn_mm, zeroing
from trivet.solve.stroke import Stroke
from trivet.solve.thread_zone import engagement_mm
from trivet.units import length_text, number_text

Key = tuple[str, str, str, bool]
Remedies = Mapping[tuple[str, Key], tuple[tuple[str, float], ...]]


def key_of(bound: Bound) -> Key:
    """What a bound is in every combination: its end, cause, other part (not for the bench, where it changes) and hardness."""
    return bound.end, bound.cause, "" if bound.cause == "bench" else f"{bound.gear}{bound.party}", bound.hard


def foot_limits(
    spec: FootSpec, case: FootCase, worst: Sequence[FootCase], low_cause: str, unit: str, remedies: Remedies
) -> tuple[Limit, ...]:
    """All limits of one foot, least end first, the tightest first; each with its worst over `worst`."""
    extremes: dict[Key, float] = {}
    for other in (case, *worst):
        for bound in other.bounds:
            key = key_of(bound)
            held = extremes.get(key, bound.at_mm)
            extremes[key] = max(held, bound.at_mm) if bound.end == "least" else min(held, bound.at_mm)
    ordered = sorted(
        case.bounds, key=lambda bound: (bound.end, -bound.at_mm if bound.end == "least" else bound.at_mm, key_of(bound))
    )
    return tuple(
        limit_of(bound, spec, extremes[key_of(bound)], low_cause, unit, remedies.get((spec.id, key_of(bound)), ()))
        for bound in ordered
    )


def foot_state(
    spec: FootSpec,
    world: World,
    case: FootCase,
    worst: Sequence[FootCase],
    stroke: Stroke | None,
    remedies: Remedies,
    other_way_travel_mm: float | None,
    unit: str,
) -> FootState:
    """One foot at mean sheets, with its limits also at the worst."""
    lead = spec.foot.thread.lead_mm
    step, clockings = zeroing(spec.gear.gear.z, lead)
    zero = case.height_at_zero_mm
    zeros = [zero, *(item.height_at_zero_mm for item in worst)]
    proud = proud_mm(spec, Corner(), 0.0) if spec.foot.kind == "riding" else _below_mm(spec)
    touches = "gear" if proud <= 0.0 else "pad" if spec.drop_mm > 0.0 else "head"
    ends = (stroke.low.height_mm - zero, stroke.high.height_mm - zero) if stroke is not None else (0.0, 0.0)
    engaged = [_engaged_mm(spec, case, extension) for extension in ends]
    rise = rise_per_turn_mm(spec.foot, spec.gear)
    because = (
        Because(
            quantity=f"rise of {spec.id} per clockwise drive turn",
            value=length_text(float(rise), unit, 4) if rise is not None else "not driven",
            formula="lead · speed · direction · hand · kind",
            inputs=(
                ("lead", f"{number_text(exact_lead_mm(lead))} mm", spec.foot.thread.origin),
                ("speed", str(spec.gear.speed), spec.gear.gear.name.origin),
                ("direction", "with the drive" if spec.gear.direction > 0 else "against the drive", None),
            ),
            source="derived",
        ),
        Because(
            quantity=f"thread of {spec.id} engaged at the ends of the travel",
            value=f"{length_text(engaged[0], unit)} and {length_text(engaged[1], unit)}",
            formula="min(tip, live high end) − max(lowest full thread, live low end)",
            inputs=(("screw length", length_text(spec.length_mm, unit), spec.foot.origin),),
            source="derived",
        ),
    )
    zone = case.zone
    return FootState(
        id=spec.id,
        foot=spec.foot,
        gear=spec.gear.id,
        x_mm=spec.gear.x_mm,
        y_mm=spec.gear.y_mm,
        lead_mm=lead,
        rise_per_turn_mm=rise,
        limits=foot_limits(spec, case, worst, world.low.cause if world.low is not None else "bench", unit, remedies),
        height_at_zero_mm=zero,
        height_at_zero=Band(zero, min(zeros), max(zeros)),
        proud_mm=proud,
        touches=touches,  # type: ignore[arg-type]  # one of the three words by its function
        screw_length_mm=spec.length_mm,
        threaded_mm=spec.threaded_mm,
        engagement_at_least_mm=engaged[0],
        engagement_at_most_mm=engaged[1],
        zero_step_mm=step,
        zero_clockings=clockings,
        other_way_travel_mm=other_way_travel_mm,
        because=because,
        pocket_mm=spec.pocket_mm,
        keeper_z_mm=world.keepers.get(spec.gear.id),
        insert_z_mm=(zone.bottom_mm, zone.top_mm) if zone is not None else None,
        live_z_mm=(zone.low_mm, zone.high_mm) if zone is not None else None,
    )


def _below_mm(spec: FootSpec) -> float:
    """What stands below the bearing face of a foot that does not ride: the rod's pad, or the head and its post."""
    head = spec.foot.screw.head.height_mm if spec.foot.screw is not None and spec.foot.kind == "sliding_hex" else 0.0
    return head + spec.drop_mm


def _engaged_mm(spec: FootSpec, case: FootCase, extension_mm: float) -> float:
    if case.zone is None:
        return 0.0
    tip = case.bearing_mm + spec.length_mm - extension_mm
    return engagement_mm(case.zone, tip - spec.threaded_mm, tip)
