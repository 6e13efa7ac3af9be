"""Records of what hangs in the boards: the length that a stop takes, and play, lowest points and swelling of drive and pivots. Lengths mm."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import M8, mm
from tests.designs_feet import LARGE_WASHER, NUT, crank, pin

from trivet.model.base import Band
from trivet.record import replace
from trivet.solve import drive_stop, fixed_states

STOP = crank(stop=True, stop_nut=NUT)


def standing(rise: str | None) -> Any:
    """A foot that rises so much a turn."""
    speed = None if rise is None else abs(Fraction(rise)) / Fraction("1.25")
    direction = 0 if rise is None else -1 if Fraction(rise) < 0 else 1
    return Of(foot=Of(thread=M8, kind="riding"), gear=Of(speed=speed, direction=direction))


@pytest.mark.parametrize(
    ("rises", "room", "turns"),
    [
        # Two nuts of 6.8 and a pitch of 1.25 are 14.85, half a turn of 1.25 to spare 0.625: what is left of the room and 1.25 a turn.
        (("1",), 30.0, (30.0 - 15.475) / 2.25),
        (("-2", "1"), 30.0, (30.0 - 15.475) / 3.25),
        (("1",), 17.0, (17.0 - 15.475) / 2.25),
        (("1", "2"), 15.0, 0.0),
        (("1",), None, 0.0),
        ((None, "1"), 30.0, 0.0),
        (("0", "1"), 30.0, 0.0),
        ((), 30.0, 0.0),
    ],
)
def test_turns_that_a_longer_bolt_leaves(monkeypatch: pytest.MonkeyPatch, rises: Any, room: float | None, turns: float) -> None:
    monkeypatch.setattr(drive_stop, "with_low_point", lambda world, stacks, lengths: lengths["hub"])
    monkeypatch.setattr(drive_stop, "mean_stroke", lambda specs, length: None if room is None else Of(travel_mm=20.0 + room - length))
    found = drive_stop.stop_turns(STOP, [standing(rise) for rise in rises], Of(), {}, "hub", 20.0)
    assert turns <= found + 1e-9 and found <= turns + 1.01e-4


def test_length_of_bolt_for_a_stop(monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[Any] = []
    held: Any = [Of(held_mm=mm) for mm in (24.0, 26.5, 25.0)]
    monkeypatch.setattr(drive_stop, "drive_stands", lambda worlds, stack, drive: (Of(held_mm=99.0), held, [Of(held_mm=98.0)]))
    monkeypatch.setattr(drive_stop, "stop_turns", lambda *given: told.append(given) or 7.0)
    worlds: Any = {(0, 0): Of(design="mean", states={"hub": Of(gear="gear")})}
    for drive, wanted in ((STOP, 14.85 + 7.5 * 1.25), (crank(), 0.0), (None, 0.0)):
        monkeypatch.setattr(drive_stop, "drive_of", lambda design, gear, drive=drive: drive)
        assert drive_stop.drive_stop_mm(worlds, (), {"hub": ()}, "hub") == pytest.approx(wanted)
    assert len(told) == 1 and told[0][-2:] == ("hub", 26.5)


def test_a_stop_beyond_which_nothing_is_known(monkeypatch: pytest.MonkeyPatch) -> None:
    """A quarter of a turn past that end, and half of what is left at the other."""
    bolt = Of(part="crank.hub", stack=(("boards", Band(9.0, 8.0, 10.0)),), least_mm=50.0)
    lift = Of(travel_mm=0.5, turns_for_travel=10.0, raises_when="clockwise")
    state: Any = Of(id="crank.hub", drive=STOP)
    derived: Any = Of(lift=lift, bolts=(bolt,))
    for end, past in (("least", (0.25, 0.1)), ("most", (0.1, 0.25))):
        monkeypatch.setattr(drive_stop, "first_beyond", lambda derived, asked, end=end: None if asked == end else Of(turns=0.2))
        made = drive_stop.stop_plan(derived, state)
        assert made is not None
        assert (made.past_least_turns, made.past_most_turns) == past and made.turns == pytest.approx(10.35)
        left = tuple(None if at == 0.25 else pytest.approx(0.1) for at in past)
        assert (made.left_least_turns, made.left_most_turns) == left
        # 9 held, the window, the nut of 6.8 and no washer.
        assert (made.window_mm, made.end_nut_mm, made.nut_mm) == pytest.approx((10.35 * 1.25, 9.0 + 10.35 * 1.25 + 6.8, 6.8))
    lost = (Of(lift=None, bolts=(bolt,)), Of(lift=lift, bolts=()))
    assert [drive_stop.stop_plan(item, state) for item in lost] == [None, None]
    assert drive_stop.stop_plan(derived, Of(id="crank.hub", drive=crank(stop=True))) is None
    washer = drive_stop.stop_plan(derived, Of(id="crank.hub", drive=crank(stop=True, stop_nut=NUT, stop_washer=LARGE_WASHER)))
    assert washer is not None and washer.end_nut_mm - washer.window_mm == pytest.approx(9.0 + 6.8 + 1.8)


KEYS = ((0, 0), (-1, 1), (1, 1))
WORLDS: Any = {key: Of(design=Of(shop="shop"), states={"hub": Of(gear="gear")}, key=key) for key in KEYS}


def lows(*values: tuple[float, ...]) -> dict[tuple[int, int], list[Any]]:
    return {key: [Of(z_mm=z) for z in held] for key, held in zip(KEYS, values, strict=True)}


def test_record_of_a_drive(monkeypatch: pytest.MonkeyPatch) -> None:
    stands = [Of(play_mm=0.25, droop_mm=0.9, remaining_mm=5.0), [Of(remaining_mm=4.0), Of(remaining_mm=3.5)], [Of(remaining_mm=3.0), Of(remaining_mm=3.9)]]
    found, told = lows((-30.0, -41.0, -40.0), (-40.0, -44.5, -42.0), (-20.0, -43.0, -10.0)), []
    monkeypatch.setattr(fixed_states, "drive_stands", lambda worlds, stack, drive: stands)
    monkeypatch.setattr(fixed_states, "drive_low", lambda world, stack, root, length: told.append((root, length)) or found[world.key])
    for drive, origin in ((crank(), None), (crank(play=None, origin=None), None)):
        monkeypatch.setattr(fixed_states, "drive_of", lambda design, gear, drive=drive: drive)
        made = fixed_states.drive_state(WORLDS, (), "hub", 55.0, "mm")
        assert made is not None
        assert (made.id, made.gear, made.play_mm, made.droop_mm, made.z_low_mm, made.z_low_worst_mm) == ("crank.hub", "hub", 0.25, 0.9, -41.0, -44.5)
        assert made.remaining_under_head_mm == 3.0 and set(told) == {("hub", 55.0)}
        (because,) = made.because
        assert (because.quantity, because.value) == ("lowest point of crank", "-41 mm")
        assert because.inputs == (("play", "0.25 mm", origin), ("droop", "0.9 mm", None))
    monkeypatch.setattr(fixed_states, "drive_of", lambda design, gear: None)
    assert fixed_states.drive_state(WORLDS, (), "hub", 55.0, "mm") is None


def test_where_a_stated_play_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    place: Any = Of()
    stand = Of(play_mm=0.25, droop_mm=0.9, remaining_mm=5.0, sleeve_mm=None)
    stated = replace(mm("0.25"), origin=place)
    for kind in ("drive", "pivot"):
        monkeypatch.setattr(fixed_states, f"{kind}_stands", lambda worlds, stack, held: (stand, [stand], [stand]))
        monkeypatch.setattr(fixed_states, f"{kind}_low", lambda *given: [Of(z_mm=-1.0)])
    monkeypatch.setattr(fixed_states, "swelling_mm", lambda stack, shop: 0.1)
    for play, wanted in ((stated, place), (None, "its block")):
        drive, pivot = (Of(name=Of(text="it"), play=play, origin="its block") for _ in range(2))
        monkeypatch.setattr(fixed_states, "drive_of", lambda design, gear, drive=drive: drive)
        monkeypatch.setattr(fixed_states, "pivot_of", lambda design, gear, pivot=pivot: pivot)
        held = (fixed_states.drive_state(WORLDS, (), "hub", None, "mm"), fixed_states.pivot_state(WORLDS, (), "hub", "mm"))
        assert [item is not None and item.because[0].inputs[0][2] for item in held] == [wanted, wanted]


@pytest.mark.parametrize(("sleeve", "formula"), [(None, "set at assembly"), (18.3, "sleeve length − gear between its washers")])
def test_record_of_a_pivot(monkeypatch: pytest.MonkeyPatch, sleeve: float | None, formula: str) -> None:
    mean, wide = Of(play_mm=0.3, droop_mm=0.7, sleeve_mm=sleeve), [Of(play_mm=0.5), Of(play_mm=0.6)]
    found = lows((-30.0, -31.0, -20.0), (-34.5, -34.0, -10.0), (-33.0, -32.0, -34.0))
    monkeypatch.setattr(fixed_states, "pivot_of", lambda design, gear: pin())
    monkeypatch.setattr(fixed_states, "pivot_stands", lambda worlds, stack, pivot: (mean, wide, [Of(play_mm=0.1), Of(play_mm=0.2)]))
    monkeypatch.setattr(fixed_states, "pivot_low", lambda world, stack, root: found[world.key])
    monkeypatch.setattr(fixed_states, "swelling_mm", lambda stack, shop: 0.15)
    made = fixed_states.pivot_state(WORLDS, (), "hub", "mm")
    assert made is not None
    assert (made.id, made.play, made.sleeve_length_mm, made.droop_mm, made.swelling_mm) == ("pin.hub", Band(0.3, 0.1, 0.6), sleeve, 0.7, 0.15)
    assert (made.z_low_mm, made.z_low_worst_mm, made.because[0].formula, made.because[0].value) == (-31.0, -34.5, formula, "0.3 mm")
    monkeypatch.setattr(fixed_states, "pivot_of", lambda design, gear: None)
    assert fixed_states.pivot_state(WORLDS, (), "hub", "mm") is None
