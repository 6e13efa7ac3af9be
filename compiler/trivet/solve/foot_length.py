"""The screw's length of a foot set: as stated, else the stock length that gives the most travel."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.model.foot import Foot
from trivet.record import replace
from trivet.solve.derived import Because, BoltChoice
from trivet.solve.foot_case import TIP_BELOW_MM, FootCase, FootSpec, World
from trivet.solve.stroke import mean_stroke
from trivet.solve.thread_zone import needed_engagement_mm
from trivet.units import length_text


def starting_specs(specs: Sequence[FootSpec], world: World) -> tuple[FootSpec, ...]:
    """The feet with a length each: sets without a stated one get the stock length that gives most travel at mean sheets, or their shortest.

    Each set is tried with only its own feet, so the cost stays linear.
    """
    chosen: dict[str, float] = {}
    for spec in specs:
        name, screw = spec.foot.name.text, spec.foot.screw
        if spec.length_mm > 0.0 or name in chosen:
            continue
        chosen[name] = 0.0
        best = -1.0
        for length in screw.stock_mm if screw is not None else ():
            stroke = mean_stroke([replace(spec, length_mm=length)], world)
            travel = stroke.travel_mm if stroke is not None else -1.0
            if travel > best + 1e-6 or chosen[name] == 0.0:
                best, chosen[name] = max(travel, best), length
    return tuple(replace(spec, length_mm=chosen[spec.foot.name.text]) if spec.length_mm <= 0.0 else spec for spec in specs)


def foot_bolt(
    spec: FootSpec, cases: Sequence[FootCase], ceilings_mm: Sequence[float], least_mm: Sequence[float], unit: str
) -> BoltChoice:
    """What to buy for one foot. `cases`, `ceilings_mm`, `least_mm`: at each combination the foot, how high its tip may reach, and the
    least extension. The length must fill the needed thread at the least extension and not come through there.
    """
    foot = spec.foot
    low = max(
        (
            case.zone.low_mm + needed_engagement_mm(foot.thread.major_mm, case.zone.live_mm) + least - case.bearing_mm
            for case, least in zip(cases, least_mm, strict=True)
            if case.zone is not None
        ),
        default=spec.length_mm,
    )
    high = min(
        (top - TIP_BELOW_MM + least - case.bearing_mm for case, top, least in zip(cases, ceilings_mm, least_mm, strict=True)),
        default=spec.length_mm,
    )
    stock = foot.screw.stock_mm if foot.screw is not None else ()
    buy = min((length for length in stock if length >= spec.length_mm - 1e-6), default=None)
    cut = spec.length_mm if buy is not None and buy > spec.length_mm + 1e-6 else None
    if foot.screw is None:
        # A rod is sawn from stock rod of any length.
        cut = spec.length_mm
    good = low - 1e-6 <= spec.length_mm <= high + 1e-6 and (foot.screw is None or buy is not None)
    return BoltChoice(
        part=spec.id,
        of=foot,
        standard=foot.screw.standard if foot.screw is not None else foot.rod_standard,
        designation=foot.thread.designation,
        least_mm=low,
        most_mm=high,
        stock_mm=stock,
        buy_mm=buy,
        cut_to_mm=cut,
        stated_mm=foot.length.mm if foot.length is not None else None,
        fits=good,
        stack=(),
        room_ends_at="0.5 mm below the topside at the least extension"
        if unit == "mm"
        else "just below the topside at the least extension",
        because=_because(foot, spec, low, high, unit),
    )


def _because(foot: Foot, spec: FootSpec, low: float, high: float, unit: str) -> Because:
    stated = foot.length
    return Because(
        quantity=f"length of the screw of {spec.id}",
        value=length_text(spec.length_mm, unit),
        formula="as stated" if stated is not None else "the stock length that gives most travel",
        inputs=(
            ("least for the thread", length_text(low, unit), foot.origin),
            ("most below the topside", length_text(high, unit), stated.origin if stated is not None else foot.origin),
        ),
        source="derived",
    )
