"""Travel that a stop takes, and strokes that only some sheets leave: from records built by hand. Lengths mm."""

from __future__ import annotations

from typing import Any

import pytest
from tests.designs_feet import NUT, captured, crank, riding, riser
from tests.sharp.stand_ins import at, named, ref, start, starts

from trivet.checks import no_stroke, stop_takes_travel
from trivet.model.base import Band
from trivet.model.design import Design
from trivet.solve.bolts import STOP_ITEM

STOPPED = crank(stop=True, stop_nut=NUT, origin=at(3))


def test_a_fixture_without_its_stop() -> None:
    made = stop_takes_travel._without(riser(riding(), drives=(STOPPED, crank(name=ref("other")))))
    assert [(drive.stop, drive.stop_nut) for drive in made.drives] == [(False, None)] * 2 and made.drives[0].play == STOPPED.play


def farther(out: float, enough: float, lost: float | None = 1.0, foot: Any = None, units: Any = "mm") -> tuple[str, list[float]]:
    """A stop takes `lost` of travel until the feet stand `enough` farther out; what is said, and which drops were tried."""
    made = riser(foot or riding(), drives=(STOPPED,), units=units)
    before = made.feet[0].pad.drop.mm if made.feet[0].pad.drop is not None else 0.0
    tried: list[float] = []

    def solved(held: Design) -> Any:
        drop = held.feet[0].pad.drop
        assert drop is not None
        stop = held.drives[0].stop
        if stop:
            tried.append(round(drop.mm - before, 6))
        short = stop and drop.mm < before + enough - 1e-6
        if short and lost is None:
            return named(lift=None)
        return named(lift=named(travel_mm=8.0 - ((lost or 0.0) if short else 0.05 if stop else 0.0)))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(stop_takes_travel, "solve", solved)
        return stop_takes_travel._farther(made, out), tried


def test_how_much_farther_out_feet_must_stand() -> None:
    # In halves of a millimetre; each try adds what is still lost, half a millimetre at least; six tries.
    assert farther(1.2, 1.0) == ("1.5 mm ", [1.5]) and farther(1.5, 1.0)[0] == "1.5 mm "
    assert farther(1.2, 3.0) == ("3.5 mm ", [1.5, 2.5, 3.5])
    assert farther(1.2, 6.5) == ("6.5 mm ", [1.5, 2.5, 3.5, 4.5, 5.5, 6.5]) and farther(1.2, 6.6)[0] == ""
    assert farther(1.2, 2.0, lost=0.2) == ("2 mm ", [1.5, 2.0])
    assert farther(1.2, 1.0, foot=riding(pad=riding().pad.model_copy(update={"kind": "head", "drop": None})))[1] == [1.5]
    # Thirty-seconds of an inch: 1.5875 is the next above 1.2.
    assert farther(1.2, 1.0, units="in") == ("1/16 in (0.062 in) ", [1.5875])


def test_farther_out_where_nothing_travels_yet() -> None:
    assert farther(1.0, 9.0, lost=None) == ("9 mm ", [1.0, 9.0])  # all of 8 is lost
    made = riser(captured(), drives=(STOPPED,))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(stop_takes_travel, "solve", lambda held: named(lift=None if held.drives[0].stop else named(travel_mm=4.0)))
        assert stop_takes_travel._farther(made, 1.0) == ""
        patch.setattr(stop_takes_travel, "solve", lambda held: named(lift=None))
        assert stop_takes_travel._farther(made, 1.0) == "1 mm "


def stop(
    now: float | None, before: float | None = 8.0, *, tried: bool = True, bolt: str | None = "crank.hub", drives: Any = (), below: float | None = 21.0
) -> list[Any]:
    states = drives or (named(id="a.x", drive=crank(name=ref("a"))), named(id="crank.hub", drive=STOPPED))
    stack = (("head", Band(9.0, 9.0, 9.0)), *(((STOP_ITEM, Band(below, below - 1.0, below + 1.0)),) if below is not None else ()))
    bolts = () if bolt is None else (named(part="a.x", stack=((STOP_ITEM, Band(1.0, 1.0, 1.0)),)), named(part=bolt, stack=stack))
    derived = named(
        drives=states, lift=None if now is None else named(travel_mm=now), bolts=bolts, low_point_part="the bolt's end", try_changes=tried
    )  # fmt: skip
    lift = None if before is None else named(travel_mm=before, turns_for_travel=10.0)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(stop_takes_travel, "solve", lambda design: named(lift=lift if not any(drive.stop for drive in design.drives) else None))
        patch.setattr(stop_takes_travel, "stop_mm", lambda drive, turns: 2.2 * turns)
        patch.setattr(stop_takes_travel, "_farther", lambda design, out: f"{out:.3f} ")
        return list(stop_takes_travel.check(riser(riding(), drives=(STOPPED,)), derived))


def test_travel_that_a_stop_takes() -> None:
    (item,) = stop(6.0)
    assert item.message == "the stop of `crank` needs 21 mm of bolt below its nuts, which leaves 6 mm of travel; without it the travel is 8 mm"
    # Two are lost, and the regained 10 turns with a quarter at each end take 23.1 of bolt: 2.1 more.
    assert item.remedy == "feet that stand 4.100 farther out, or no stop: count the turns, with a dial"
    assert (item.parts, start(item.span), item.related) == (("crank",), 3, ()) and stop(6.0, tried=False)[0].remedy.startswith("feet that stand farther out")
    assert not stop(7.96) and stop(7.94) and not stop(6.0, None)
    assert "needs 0 mm of bolt below its nuts, which leaves 0 mm of travel" in stop(None, bolt=None)[0].message
    assert stop(None, bolt="other")[0].remedy.startswith("feet that stand 31.100 farther")  # 8 lost and all of 23.1
    assert "needs 0 mm of bolt" in stop(6.0, below=None)[0].message
    assert stop(6.0, below=30.0)[0].remedy.startswith("feet that stand 2.000 farther")  # long enough already
    both = (named(id="crank.hub", drive=STOPPED), named(id="a.x", drive=crank(name=ref("a"), stop=True)))
    assert stop(6.0, drives=both)[0].parts == ("crank",)
    assert not stop(6.0, drives=(named(id="a.x", drive=crank()),))


def empty(worst: float, *, feet: int = 2, lift: bool = True, crossed: bool = False, units: str = "mm", climbing: str = "", most: str = "") -> list[Any]:
    states = tuple(named(id=f"corner.{k}", foot=named(name=ref(f"set{k}", 9 + k))) for k in range(feet))
    design, held = named(units=units), named(feet=states, lift=named(travel_worst_mm=worst, travel_mm=0.35) if lift else None)
    bounds = (named(sentence="low", origin=at(1)), named(sentence="high", origin=at(2)))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(no_stroke, "crossing", lambda derived: 1 if crossed else None)
        patch.setattr(no_stroke, "shortened", lambda derived: climbing or None)
        patch.setattr(no_stroke, "ends", lambda derived: bounds if worst < 0.0 else None)
        patch.setattr(no_stroke, "climber_remedy", lambda design, derived, found: found.strip())
        patch.setattr(no_stroke, "most_travel", lambda design, derived, name: (f"{most}{name}" if most else "", 1))
        patch.setattr(no_stroke, "nothing_left", lambda rule, design, derived, words: [])
        return list(no_stroke.check(design, held))


def test_strokes_that_some_sheets_leave_empty() -> None:
    (item,) = empty(-0.2)
    assert item.message == "travel is 0.35 mm at mean thickness, but 0 mm at the worst combination of sheets" and item.severity == "warning"
    assert (item.remedy, item.parts, starts(item)) == ("sheets that vary less, or thicker gears", ("corner.0", "corner.1"), (9, [1, 2]))
    assert "but 0 in at the worst" in empty(-0.2, units="in")[0].message and starts(empty(0.0)[0]) == (9, [])
    assert not empty(0.1) and not empty(-0.2, feet=0) and not empty(-0.2, lift=False) and not empty(-0.2, crossed=True)
    assert empty(-0.2, feet=1)[0].parts == ("corner.0",)
    cures = [empty(-0.2, **given)[0].remedy for given in ({"climbing": "climb", "most": "more "}, {"climbing": " ", "most": "more "}, {"most": "more "})]
    assert cures == ["climb", "more set0", "more set0"]
