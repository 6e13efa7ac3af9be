"""Strokes gone through once more for explanations, and what comes past the ends: figures by hand, and those that were solved before. Lengths mm."""

from __future__ import annotations

from functools import cache
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs_feet import riding, riser
from tests.sharp.test_sharp_helpers import lifted, limit

from trivet.model.base import Band
from trivet.record import replace
from trivet.solve import beyond, limit_words
from trivet.solve.because_stroke import strokes_again
from trivet.solve.corner import MEAN, Corner
from trivet.solve.solve import solve
from trivet.solve.stroke import stroke_of


@cache
def solved() -> Any:
    made = riser(riding(), Band(18.0, 17.8, 18.2), Band(18.0, 17.7, 18.3))
    return made, solve(made)


def bolt(part: str, stated: float | None = None, cut: float | None = None, buy: float | None = None) -> Any:
    return SimpleNamespace(part=part, stated_mm=stated, cut_to_mm=cut, buy_mm=buy, least_mm=21.0)


def test_strokes_are_those_that_were_solved() -> None:
    made, derived = solved()
    found = strokes_again(made, derived)
    assert next(iter(found.cases)) == MEAN and len(found.cases) == 17 and set(found.worlds) == {(0, 0), (-1, -1), (-1, 1), (1, -1), (1, 1)}
    nominal = found.strokes[MEAN]
    assert nominal is not None and derived.lift is not None
    assert (nominal.low.height_mm, nominal.travel_mm) == pytest.approx((derived.lift.height_min_mm, derived.lift.travel_mm))
    worst = [stroke for corner, stroke in found.strokes.items() if corner != MEAN]
    assert min(stroke.travel_mm for stroke in worst if stroke is not None) == pytest.approx(derived.lift.travel_worst_mm)
    for corner in (MEAN, Corner(1, -1, 1, -1)):
        assert found.world(corner) is found.worlds[corner.board, corner.gear] and stroke_of(found.cases[corner]) == found.strokes[corner]
        assert found.world(corner).corner == Corner(corner.board, corner.gear)
    assert found.specs["corner.nw"].length_mm == 30.0 and set(found.specs) == {f"corner.{name}" for name in ("nw", "ne", "sw", "se")}


def test_lengths_that_are_fitted() -> None:
    made, derived = solved()
    feet = tuple(replace(foot, screw_length_mm={"corner.nw": 33.0, "corner.ne": None}.get(foot.id, 31.0)) for foot in derived.feet)
    bolts = (
        bolt("crank.lost", 40.0), bolt("corner.sw", 50.0), bolt("crank.hub", None, 27.5, 30.0), bolt("pin.west", 41.0, 42.0, 43.0),
        bolt("pin.east", None, None, 22.0), bolt("corner.ne", 50.0), bolt("climb.se", 50.0),
    )  # fmt: skip
    climber = SimpleNamespace(id="climb.se", screw_length_mm=12.0)
    found = strokes_again(made, replace(derived, feet=feet, bolts=bolts, climbers=(climber,)))
    # As stated, else as cut, else as bought; screws of feet and climbers hang from nothing.
    assert found.lengths == {"hub": 27.5, "west": 41.0, "east": 22.0}
    assert {name: spec.length_mm for name, spec in found.specs.items()} == {"corner.nw": 33.0, "corner.ne": 0.0, "corner.sw": 31.0, "corner.se": 31.0}
    none = strokes_again(made, replace(derived, feet=(), bolts=(bolt("crank.hub"),)))
    assert none.lengths == {"hub": 21.0} and none.specs["corner.nw"].length_mm == 30.0
    # The drive's bolt hangs lowest where it is long enough.
    long = strokes_again(made, replace(derived, bolts=(bolt("crank.hub", 90.0),)))
    assert long.world(MEAN).low is not None and long.world(MEAN).low.part == "the end of the bolt of `crank`"


def test_what_comes_past_the_ends_after_what_does_not_count() -> None:
    then = limit_words.THEN["bench"]
    soft = [limit(end, "keeper", 1.0, "", False) for end in ("least", "most")]
    limits = (soft[0], limit("least", "bench", 1.75, then), soft[1], limit("most", "bench", 22.5, then))
    found = beyond.beyond_of(lifted(*limits))
    assert [(item.end, item.cause, item.left_mm) for item in found] == [("least", "bench", 0.25), ("most", "bench", 0.5)]
    # A travel of half a millimetre is one; of several feet the first named meets it first.
    assert len(beyond.beyond_of(lifted(*limits, travel_mm=0.5))) == 2
    both = replace(limits[1], parts=("corner.nw", "corner.se"))
    held: Any = lifted(both)
    held.feet = (SimpleNamespace(id="corner.se", height_at_zero_mm=30.0), SimpleNamespace(id="corner.nw", height_at_zero_mm=40.0))
    assert [item.left_mm for item in beyond.beyond_of(held)] == [0.25]
    assert beyond.first_beyond(lifted(*limits[2:]), "least") is None
