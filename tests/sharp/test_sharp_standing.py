"""The record of one foot: its limits in order with their worst, what it stands on, and its thread at both ends. Figures by hand. Lengths mm."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs_feet import captured, hex_screw, riding, sliding

from trivet.model.base import Band
from trivet.model.hardware import ThreadLength
from trivet.record import replace
from trivet.solve import flush, foot_states
from trivet.solve.corner import Corner, head_height_mm
from trivet.solve.foot_case import Bound, FootCase, FootSpec, LowPoint, World
from trivet.solve.foot_states import foot_limits, foot_state, key_of
from trivet.solve.stroke import Ending, Stroke
from trivet.solve.thread_zone import ThreadZone


def gear(speed: str | None = "4/5", direction: int = 1) -> Any:
    name = Of(origin="its name")
    made = Of(z=20, name=name, teeth=Of(origin=None))
    return Of(id="nw", gear=made, x_mm=100.0, y_mm=50.0, speed=None if speed is None else Fraction(speed), direction=direction)


def spec(foot: Any, pocket: float = 5.8, drop: float = 3.0, turned: Any = None, length: float = 30.0) -> FootSpec:
    return FootSpec("corner.nw", foot, turned or gear(), (), length, pocket, drop)


LIVE = ThreadZone(0.0, 11.0, -1.0, 14.0)


def case(work: float = 18.0, *bounds: Bound, zone: ThreadZone | None = LIVE) -> FootCase:
    return FootCase(-12.0, -20.0, zone, bounds, work)


def world(low: LowPoint | None = None) -> Any:
    made: Any = Of()
    return World(made, Corner(), made, {}, {}, {}, {}, keepers={"nw": -38.0}, low=low)


MEAN = case(
    18.0, Bound("most", "leaves", 20.0, False, "it"), Bound("least", "bench", 1.0, True, "pin.west"), Bound("least", "tip", 3.0, True, "deck"),
    Bound("most", "parts", 18.0, True, "a", gear="c"), Bound("least", "shank", -5.0, True), Bound("most", "parts", 18.0, False, "a", gear="b"),
)  # fmt: skip
WORST = (
    case(17.5, Bound("least", "bench", 2.5, True, "pin.east"), Bound("most", "leaves", 22.0, False, "it"), Bound("least", "tip", 2.0, True, "deck")),
    case(18.6, Bound("most", "leaves", 17.0, False, "it"), Bound("most", "leaves", 1.0, True, "it"), Bound("least", "new", 9.0, True)),
)


def test_limits_in_order_with_their_worst(monkeypatch: pytest.MonkeyPatch) -> None:
    def limit_of(bound: Any, spec: Any, worst: float, low: str, unit: str, helps: Any) -> Any:
        return bound.cause, bound.gear, bound.at_mm, worst, low, unit, helps

    monkeypatch.setattr(foot_states, "limit_of", limit_of)
    helped = {("corner.nw", key_of(MEAN.bounds[2])): (("shorter", 2.0),), ("corner.sw", key_of(MEAN.bounds[0])): (("other", 1.0),)}
    found: Any = foot_limits(spec(riding()), MEAN, WORST, "bench_nut", "in", helped)
    assert found == (
        ("tip", "", 3.0, 3.0, "bench_nut", "in", (("shorter", 2.0),)),
        ("bench", "", 1.0, 2.5, "bench_nut", "in", ()),
        ("shank", "", -5.0, -5.0, "bench_nut", "in", ()),
        ("parts", "b", 18.0, 18.0, "bench_nut", "in", ()),
        ("parts", "c", 18.0, 18.0, "bench_nut", "in", ()),
        ("leaves", "", 20.0, 17.0, "bench_nut", "in", ()),
    )
    assert key_of(MEAN.bounds[1]) == ("least", "bench", "", True) and key_of(MEAN.bounds[3]) == ("most", "parts", "ca", True)


def state(one: FootSpec, held: FootCase = MEAN, worst: Any = WORST, stroke: Any = None, low: Any = None, unit: str = "mm") -> Any:
    return foot_state(one, world(low), held, worst, stroke, {}, 7.0, unit)


@pytest.fixture(autouse=True)
def _plain_limits(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(foot_states, "foot_limits", lambda spec, case, worst, low, unit, helps: (low, len(worst)))


def stroke(low: float, high: float) -> Stroke:
    ends = [Ending(height, "corner.nw", Bound("least", "x", 0.0, True)) for height in (low, high, low - 1.0, high + 1.0)]
    return Stroke(*ends)


def test_record_of_a_foot() -> None:
    """At 40 and 50 it is out by 2 and 12 of 38: tips at 16 and 6, with 22 of thread from −6 and −16 up; live from 0 to 11."""
    made = riding(screw=hex_screw(threaded=ThreadLength(full=False)))
    found = state(spec(made), stroke=stroke(40.0, 50.0), low=LowPoint(-40.0, "pin.west", "bench_idler"))
    assert (found.id, found.gear, found.x_mm, found.y_mm, found.lead_mm, found.rise_per_turn_mm) == ("corner.nw", "nw", 100.0, 50.0, 1.25, Fraction(1))
    assert (found.height_at_zero_mm, found.height_at_zero) == (38.0, Band(38.0, 37.5, 38.6)) and found.limits == ("bench_idler", 2)
    assert (found.engagement_at_least_mm, found.engagement_at_most_mm, found.threaded_mm, found.screw_length_mm) == (11.0, 6.0, 22.0, 30.0)
    assert (found.zero_step_mm, found.zero_clockings, found.other_way_travel_mm, found.pocket_mm) == (1.25 / 20, 60, 7.0, 5.8)
    assert (found.keeper_z_mm, found.insert_z_mm, found.live_z_mm) == (-38.0, (-1.0, 14.0), (0.0, 11.0))
    rise, thread = found.because
    assert (rise.value, thread.value) == ("1 mm", "11 mm and 6 mm")
    assert [value for _, value, _ in rise.inputs] == ["1.25 mm", "4/5", "with the drive"]
    # A thread of 12 begins at 4 and −6.
    short = state(spec(made, length=20.0), stroke=stroke(28.0, 50.0))
    # 20 long, as its thread: tips at 8 + 10 and 8 − 12.
    assert (short.engagement_at_least_mm, short.engagement_at_most_mm, short.limits) == (11.0, 0.0, ("bench", 2))
    still = state(spec(made), worst=())
    assert (still.engagement_at_least_mm, still.engagement_at_most_mm, still.height_at_zero) == (11.0, 11.0, Band(38.0, 38.0, 38.0))
    stands = state(spec(made, length=20.0))
    assert (stands.engagement_at_least_mm, stands.engagement_at_most_mm) == (8.0, 8.0)
    bare = state(spec(made), case(18.0, zone=None), stroke=stroke(40.0, 50.0))
    assert (bare.engagement_at_least_mm, bare.insert_z_mm, bare.live_z_mm) == (0.0, None, None)


def test_the_unthreaded_shank_is_not_engaged() -> None:
    """40 long with 22 of thread: at no extension its tip is at 28 and its thread begins at 6, 5 under the end of the live thread."""
    made = riding(screw=hex_screw(threaded=ThreadLength(full=False)))
    assert state(spec(made, length=40.0)).engagement_at_least_mm == 5.0


@pytest.mark.parametrize(
    ("foot", "pocket", "drop", "proud", "touches"),
    [
        (riding(), 5.8, 3.0, 2.5, "pad"), (riding(), 2.0, 0.0, 3.3, "head"), (riding(), 9.0, 3.0, 0.0, "gear"), (riding(), 5.0, 0.0, 0.3, "head"),
        (riding(), 5.8, 0.8, 0.3, "pad"), (sliding(), 0.0, 25.0, 30.3, "pad"), (sliding(screw=None), 0.0, 25.0, 25.0, "pad"),
        (sliding(), 0.0, 0.0, 5.3, "head"), (captured(), 0.0, 3.0, 3.0, "pad"), (captured(screw=hex_screw()), 0.0, 3.0, 3.0, "pad"),
        (captured(), 0.0, 0.0, 0.0, "gear"),
    ],
)  # fmt: skip
def test_what_a_foot_stands_on(foot: Any, pocket: float, drop: float, proud: float, touches: str) -> None:
    """A riding head of 5.3 lies in its pocket; others stand out by the head and what is below it."""
    found = state(spec(foot, pocket, drop))
    assert (found.proud_mm, found.touches) == (pytest.approx(proud), touches)


def test_a_foot_that_is_not_driven() -> None:
    found = state(spec(riding(), turned=gear(None, 0)))
    assert found.rise_per_turn_mm is None and found.because[0].value == "not driven"
    assert found.because[0].inputs[2][1] == "against the drive"
    # A third of 1.25 is 0.41667.
    assert state(spec(riding(), turned=gear("1/3"))).because[0].value == "0.4167 mm"
    back = state(spec(riding(), turned=gear("1/2", -1)))
    assert back.rise_per_turn_mm == Fraction("-5/8") and back.because[0].inputs[2][1] == "against the drive"


def test_a_height_limit_that_is_below_the_height() -> None:
    odd: Any = Of(height_min_mm=None, height_mm=5.3, height_max_mm=4.0)
    assert [head_height_mm(odd, sign) for sign in (-1, 0, 1)] == [5.3, 5.3, 5.3]


@pytest.mark.parametrize(("travel", "parts"), [(0.5, ("zeroing", "bow")), (0.0, None), (-1.0, None)])
def test_a_budget_for_little_travel(monkeypatch: pytest.MonkeyPatch, travel: float, parts: tuple[str, ...] | None) -> None:
    def part(key: str, by: float) -> Any:
        return flush.FlushPart(key, key, by, (), "")

    monkeypatch.setattr(flush, "_setting", lambda *given: part("setting", 0.0))
    monkeypatch.setattr(flush, "_zeroing", lambda derived: part("zeroing", 0.5))
    monkeypatch.setattr(flush, "_bow", lambda design: part("bow", 0.5 - 1e-3))
    for name in ("_pad_rock", "_thread_rock"):
        monkeypatch.setattr(flush, name, lambda *given: None)
    monkeypatch.setattr(flush, "_sag", lambda *given: iter(()))
    monkeypatch.setattr(flush, "_left_out", lambda design, derived, counted, with_sag: iter(sorted(counted)))
    found = flush.flush_of(Of(), Of(lift=Of(travel_mm=travel)))
    assert (None if found is None else tuple(item.key for item in found.parts)) == parts
    assert found is None or found.left_out == ("bow", "zeroing")


def test_specs_are_records() -> None:
    one = spec(riding())
    assert replace(one, length_mm=25.0).threaded_mm == 25.0 and spec(captured()).threaded_mm == 30.0
