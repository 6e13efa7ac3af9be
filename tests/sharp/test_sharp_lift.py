"""The board's stroke as the maker reads it: travel, heights, turns, limits and what lies beyond, figures by hand. Lengths mm."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace as Of
from typing import Any

import pytest

from trivet.record import replace
from trivet.solve import heights
from trivet.solve.derived import Limit
from trivet.solve.foot_case import Bound
from trivet.solve.stroke import Ending, Stroke


def limit(end: Any, cause: str, at: float, hard: bool = True) -> Limit:
    return Limit(end, cause, f"{cause} says", at, at, ("corner",), hard, f"{cause} ends it")


def standing(name: str, rise: str | None, zero: float, *limits: Limit) -> Any:
    return Of(id=name, rise_per_turn_mm=None if rise is None else Fraction(rise), height_at_zero_mm=zero, limits=limits)


def ending(height: float, foot: str, end: Any, at: float, hard: bool) -> Ending:
    return Ending(height, foot, Bound(end, "bench" if end == "least" else "leaves", at, hard))


STROKE = Stroke(
    ending(42.0, "corner.a", "least", 2.0, True), ending(62.0, "corner.b", "most", 21.0, False),
    ending(40.0, "corner.a", "least", 2.0, True), ending(64.5, "corner.b", "most", 23.5, True),
)  # fmt: skip
ONE = standing("corner.a", "5/4", 40.0, limit("least", "bench", 2.0), limit("most", "leaves", 30.0))
TWO = standing("corner.b", "5/4", 41.0, limit("most", "leaves", 23.5, False), limit("most", "parts", 23.5), limit("least", "bench", 0.5))


def lift(stroke: Stroke | None = STROKE, worst: Any = (STROKE,), feet: Any = (ONE, TWO), combinations: int = 1) -> Any:
    made: Any = Of(units="mm", workpieces=())
    specs: Any = (Of(foot=Of(origin="the first")), Of(foot=Of(origin="the second")))
    return heights.lift_of(made, specs, feet, stroke, worst, combinations)


def test_a_lift_as_the_maker_reads_it() -> None:
    tighter = replace(STROKE, low=replace(STROKE.low, height_mm=44.0), high=replace(STROKE.high, height_mm=59.0))
    other = replace(STROKE, low=replace(STROKE.low, height_mm=43.0), high=replace(STROKE.high, height_mm=57.0))
    found = lift(worst=(tighter, STROKE, other), combinations=3)
    assert (found.per_turn_mm, found.raises_when, found.least_mm, found.most_mm, found.travel_mm) == (1.25, "clockwise", 2.0, 22.0, 20.0)
    assert (found.travel_worst_mm, found.travel_to_parting_mm, found.turns_for_travel) == (14.0, 24.5, 16.0)
    assert (found.height_min_mm, found.height_max_mm, found.height_every_sheet) == (42.0, 62.0, (44.0, 57.0))
    assert found.beyond_least == "1.6 turns (2 mm) beyond the end of the travel: bench says; beyond it bench ends it"
    assert found.beyond_most == "2.0 turns (2.5 mm) beyond the end of the travel: parts says; beyond it parts ends it"
    # Heights: bench at 42 and 41.5, leaves at 70 and softly at 64.5, parts at 64.5.
    assert [(item.end, item.cause, item.extension_mm, item.hard) for item in found.limits] == [
        ("least", "bench", 2.0, True), ("most", "leaves", 23.5, False), ("most", "parts", 23.5, True), ("most", "leaves", 30.0, True)
    ]  # fmt: skip
    because = {item.quantity: item for item in found.because}
    assert {name: item.value for name, item in because.items()} == {
        "rise per drive turn": "1.25 mm", "travel": "20 mm", "height range": "42 mm to 62 mm", "turns for the travel": "16.00"
    }  # fmt: skip
    assert [text for text, _, _ in because["travel"].inputs] == ["lowest height, by bench at corner.a", "greatest height, by leaves at corner.b"]
    crossed = replace(STROKE, high=replace(STROKE.high, height_mm=41.0), hard_high=replace(STROKE.hard_high, height_mm=39.0))
    none = lift(crossed, (crossed,))
    assert (none.travel_mm, none.travel_worst_mm, none.travel_to_parting_mm, none.most_mm, none.height_max_mm) == (0.0, 0.0, 0.0, 1.0, 42.0)
    close = replace(STROKE, hard_low=replace(STROKE.hard_low, height_mm=41.95), hard_high=replace(STROKE.hard_high, height_mm=62.07))
    assert lift(close).beyond_least.startswith("at the end of the travel: bench") and lift(close).beyond_most.startswith("0.1 turns (0.07 mm)")


def test_no_lift_without_a_common_rise() -> None:
    def fed(*rises: str | None) -> tuple[Any, ...]:
        return tuple(replace_rise(ONE if k == 0 else TWO, rise) for k, rise in enumerate(rises))

    turned = [(lift(feet=feet).raises_when, lift(feet=feet).per_turn_mm) for feet in (fed("-5/4", "-1"), fed("1/2", "5/4"), fed("-1/2", "-2"))]
    assert turned == [("anticlockwise", 1.25), ("clockwise", 0.5), ("anticlockwise", 0.5)]
    lost = (fed("5/4", None), fed("5/4", "-5/4"), fed("1/2", "-1/2"), fed("0", "5/4"), fed("5/4", "0"), ())
    assert [lift(feet=feet) for feet in lost] == [None] * 6
    assert lift(None) is None and lift(combinations=2) is None and lift(worst=(STROKE, STROKE), combinations=2) is not None


def replace_rise(foot: Any, rise: str | None) -> Any:
    return Of(**(vars(foot) | {"rise_per_turn_mm": None if rise is None else Fraction(rise)}))


def test_leads_of_an_inch_thread_and_where_they_stand() -> None:
    """25.4/18 a turn: 1.41111."""
    found = lift(feet=(replace_rise(ONE, "127/90"), TWO))
    because = {item.quantity: item for item in found.because}
    assert because["rise per drive turn"].value == "1.4111 mm"
    assert because["turns for the travel"].inputs[1][:2] == ("rise per drive turn", "1.4111 mm")
    assert {origin for item in found.because[:3] for _, _, origin in item.inputs} == {"the first"}


def test_of_equal_limits_the_first_foots() -> None:
    """Both reach the bench at 42."""
    again = standing("corner.b", "5/4", 41.0, replace(limit("least", "bench", 1.0), sentence="the second"))
    assert [item.sentence for item in heights.tightest_limits((ONE, again)) if item.end == "least"] == ["bench says"]


def test_what_workpieces_need(monkeypatch: pytest.MonkeyPatch) -> None:
    matches = (
        Of(name="thin", riser_mm=12.0, flush_from_mm=None, flush_to_mm=None, text="on a riser", blocks=None),
        Of(name="fits", riser_mm=None, flush_from_mm=40.5, flush_to_mm=60.5, text="flush", blocks=0),
        Of(name="tall", riser_mm=None, flush_from_mm=42.0, flush_to_mm=None, text="on blocks", blocks=2),
    )
    told: list[Any] = []
    monkeypatch.setattr(heights, "match_all", lambda *given: told.append(given) or matches)
    found = lift()
    assert told == [((), 42.0, 62.0, "mm")] and found.riser_mm == (("thin", 12.0),)
    assert found.workpieces == (("thin", 0.0, 0.0, "on a riser"), ("fits", 40.5, 60.5, "flush"), ("tall", 42.0, 0.0, "on blocks"))
    assert found.foot_blocks == (("thin", None), ("fits", 0), ("tall", 2))
