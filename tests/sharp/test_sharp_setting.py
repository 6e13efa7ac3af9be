"""Parts of what a setting leaves off flush, one by one: dials, clockings, rocking pads and threads. Figures by hand. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import M8, q
from tests.sharp.test_sharp_stand import corners, foot

from trivet.record import replace
from trivet.solve import flush

LIFT: Any = Of(travel_mm=20.0, per_turn_mm=1.0, height_max_mm=60.0)
DESIGN: Any = Of(shop=Of(insert_tilt_deg=1.0, origins={"inserts": "where inserts are"}), units="mm")
GEAR = Of(tip_radius_mm=66.0, gear=Of(teeth=Of(origin="its teeth")))
M10 = replace(M8, designation="M10", major_mm=10.0)


def derived(*feet: Any, drives: tuple[Any, ...] = ()) -> Any:
    return Of(feet=feet, drives=tuple(Of(drive=item) for item in drives), train=Of(gear=lambda name: GEAR))


def crank(name: str, dial: Any = None) -> Any:
    return Of(name=Of(text=name), dial=dial, origin=f"{name}'s block")


def test_setting_by_dial_and_by_hand() -> None:
    dial = Of(marks=q(50), origin="the dial")
    dialled = flush._setting(DESIGN, derived(drives=(crank("crank", dial), crank("other"))), LIFT)
    assert (dialled.mm, dialled.where, dialled.origin) == (pytest.approx(0.01), ("crank",), "the dial")
    by_hand = flush._setting(DESIGN, derived(drives=(crank("crank"), crank("other", dial))), LIFT)
    assert (by_hand.mm, by_hand.where, by_hand.origin) == (1.0 / 16.0, ("crank",), "crank's block")
    none = flush._setting(DESIGN, derived(), LIFT)
    assert (none.mm, none.where, none.origin) == (1.0 / 16.0, (), None)


def test_zeroing_to_teeth_or_clockings() -> None:
    """Twenty teeth, or sixty clockings of a hexagon in them; of several feet the coarsest, the last by name of equals."""
    teeth = flush._zeroing(derived(*corners()))
    assert (teeth.mm, teeth.where, teeth.terms[1].words, teeth.terms[1].value) == (pytest.approx(1.25 / 40), ("corner.sw",), "teeth of `sw`", 20.0)
    glued = flush._zeroing(derived(*corners(zeroed_before_gluing=True)))
    assert (glued.mm, glued.terms[1].words, glued.terms[1].value) == (pytest.approx(1.25 / 120), "clockings of its hexagon", 60.0)
    mixed = (foot("a", 0, 0), foot("b", 0, 0, zeroed_before_gluing=True), foot("c", 0, 0, zero_step_mm=1.25 / 12))
    assert [flush._zeroing(derived(*order)).where for order in (mixed, mixed[::-1], mixed[:2], mixed[1::-1])] == [("corner.c",)] * 2 + [("corner.a",)] * 2


def pad(diameter: float) -> Any:
    return Of(kind="disc", diameter=Of(mm=diameter), origin=f"pad of {diameter:g}")


def test_pads_that_rock() -> None:
    """A disc of 30 at 1 degree; a dome and a nut that does not turn rock by nothing."""
    small, large = foot("a", 0, 0, pad=pad(20.0)), foot("b", 0, 0, pad=pad(30.0))
    for order in ((small, large, foot("z", 0, 0)), (foot("z", 0, 0), large, small)):
        found = flush._pad_rock(DESIGN, derived(*order))
        assert found is not None and found.mm == pytest.approx(30.0 * math.tan(math.radians(1.0))) and found.where == ("corner.b",)
        assert [term.origin for term in found.terms] == ["pad of 30", "where inserts are"]
    still = foot("c", 0, 0, pad=pad(30.0), kind="captured_nut")
    assert flush._pad_rock(DESIGN, derived(foot("z", 0, 0), still)) is None
    bare: Any = Of(shop=Of(insert_tilt_deg=1.0, origins=None))
    found = flush._pad_rock(bare, derived(large))
    assert found is not None and found.terms[1].origin is None


def test_threads_that_rock(monkeypatch: pytest.MonkeyPatch) -> None:
    """0.15 of play over 5 of M8 lifts more than over 10 of M10, whatever the radius."""
    monkeypatch.setattr(flush, "boards_at", lambda design, sheets: Of(uppermost_mm=lambda name: 18.0))
    short, wide = foot("a", 0, 0, engagement_at_most_mm=5.0), foot("b", 0, 0, thread=M10)
    loose = foot("c", 0, 0, engagement_at_most_mm=0.0)
    d2 = 8.0 - 1.25 * 0.375 * math.sqrt(3.0)
    for order in ((loose, short, wide), (wide, short, loose)):
        found = flush._thread_rock(DESIGN, derived(*order), LIFT)
        assert found is not None and (found.mm, found.where) == (pytest.approx(d2 / 2.0 * 0.03, rel=1e-5), ("corner.a",))
    assert flush._thread_rock(DESIGN, derived(loose), LIFT) is None


@pytest.mark.parametrize(("live", "shift"), [(2.0, 44.0 * 0.015), (-41.5, 0.5 * 0.015), (-42.5, 0.0)])
def test_how_far_the_board_shifts(monkeypatch: pytest.MonkeyPatch, live: float, shift: float) -> None:
    """The bench lies 42 below the board; what stands out under the live thread leans by 0.15 in 10."""
    monkeypatch.setattr(flush, "boards_at", lambda design, sheets: Of(uppermost_mm=lambda name: 18.0))
    assert flush.sideways_mm(DESIGN, LIFT, foot("a", 0, 0, live_z_mm=(live, live + 11.0))) == pytest.approx(shift)


def test_the_board_that_bows_most() -> None:
    bows = (("a", 0.2), ("b", None), ("c", 0.4), ("d", 0.3))
    boards = tuple(Of(name=Of(text=name), bow=None if bow is None else Of(mm=bow, origin=name)) for name, bow in bows)
    for order in (boards, boards[::-1]):
        found = flush._bow(Of(boards=order))
        assert found is not None and (found.mm, found.where, found.origin) == (0.4, ("c",), "c")
    assert flush._bow(Of(boards=boards[1:2])) is None
