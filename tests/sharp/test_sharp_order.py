"""Orders of assembly where the first of several things does not decide: skipped before what counts, ties, both ends of a stack. Lengths mm."""

from __future__ import annotations

from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import gear, mm
from tests.designs_feet import NUT, TEE, pin, riding
from tests.sharp.test_sharp_assembly import hung, lay, level, plan, solid, unit

from trivet.model.train import DriveNut
from trivet.solve import assembly as whole
from trivet.solve.assembly_order import _board_meets, _under, blockers_of, in_the_way, take_off
from trivet.solve.assembly_preparation import preparations
from trivet.solve.assembly_step import AssemblyStep
from trivet.solve.assembly_units import Unit


def test_what_is_put_on_after_all_else() -> None:
    # A pad that can wait is put on after the drive, wherever it stands in the file.
    pad, drive = unit("fit_pad", "pad", last=True), unit("fit_drive", "crank")
    for units in ((pad, drive), (drive, pad)):
        assert take_off(units, {"pad": {}, "crank": {}})[0] == ("crank", "pad")
    other = unit("fit_pad", "other", last=True)
    assert take_off((pad, other, drive), {"pad": {}, "other": {}, "crank": {}})[0] == ("crank", "pad", "other")


def test_heights_that_lie_above_and_below_nothing() -> None:
    # 4 thick, shared by 1 of which 2 may be shared, wherever the board's underside is.
    for shift in (0.0, 50.0, -50.0, -9.0):
        assert in_the_way(solid(low=-2.0 + shift, high=2.0 + shift), "below", solid(low=-20.0 + shift, high=-1.0 + shift), 0.0)
        assert not in_the_way(solid(low=-2.0 + shift, high=2.0 + shift), "below", solid(low=-20.0 + shift, high=0.1 + shift), 0.0)
    assert not _under((0.0, 18.0), (0.0, 18.0)) and not _under((-1.0, 1.0), (-1.0, 1.0))


def stacked(*lows: float) -> Unit:
    parts = (solid(part=name, shaft="two", low=low, high=low + 18.0) for name, low in zip("ab", lows, strict=True))
    return Unit("hang_idler", "two", "two", ("two",), tuple((item, "below") for item in parts))


def test_blockers_behind_what_is_skipped() -> None:
    """Of three solids over one another the first is the unit's own, the second meshes, the third is in the way."""
    own = hung("low", 0.0, -60.0)
    rim = solid(part="rim", shaft="top", low=-40.0, high=-22.0)
    top = Unit("fit_drive", "top", "top", ("top",), ((solid(part="top", shaft="top"), "below"), (rim, "below")))
    mate = hung("mate", 0.0, -20.0)
    found = blockers_of((top, mate, own), frozenset({frozenset(("top", "mate")), frozenset(("rim", "mate"))}), 0.0, {})
    assert found["top"] == {"low": "`top` would have to pass `low`"}
    # Two boards: the one that is passed already, and the next; each is told once, with the first words.
    two = stacked(60.0, 90.0)
    boards = (lay("deck", "below"), lay("lid", "below", 40.0))
    found = blockers_of((two, *boards), frozenset(), 0.0, {"deck": plan(), "lid": plan(40.0)})
    assert found["two"] == {"deck": "`a` would have to pass the board", "lid": "`a` would have to pass the board"}
    low = stacked(-20.0, -50.0)
    found = blockers_of((low, *boards), frozenset(), 0.0, {"deck": plan(), "lid": plan(40.0)})
    assert found["deck"] == {"two": "the board would have to pass `a`"}
    assert found["lid"] == {"two": "the board would have to pass `a`", "deck": "one board would have to pass the other"}


def test_a_hole_for_one_part_is_none_for_the_next() -> None:
    ways = tuple((solid(part=name, shaft="w", low=60.0, high=78.0, radius=radius), "below") for name, radius in (("thin", 5.0), ("w", 40.0)))
    wide = Unit("hang_idler", "w", "w", ("w",), ways)
    found = blockers_of((wide, lay("deck", "below")), frozenset(), 0.0, {"deck": plan(hole=20.0)})
    assert found["w"] == {"deck": "`w` would have to pass the board"} and found["deck"] == {}


@pytest.mark.parametrize("wanted", [0, 1])
def test_units_are_those_of_the_mean_sheets(monkeypatch: pytest.MonkeyPatch, wanted: int) -> None:
    deck = level("deck", 0.0)
    sets = tuple(Of(solids=(), travel_mm=float(k)) for k in range(3))
    derived: Any = Of(boards=(deck,), feet=(), train=Of(gears=(), meshes=()), solids=sets[wanted:])
    told: list[Any] = []
    monkeypatch.setattr(whole, "units_of", lambda *given: told.append(given[2]) or ())
    monkeypatch.setattr(whole, "preparations", lambda *given: [])
    assert whole.assembly(Of(boards=(), gears=()), derived).steps == () and told == [sets[wanted]]


def test_what_is_stuck_stands_first(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two that hold each other, a keeper that comes after one of them, and one that is free."""
    derived: Any = Of(boards=(level("deck", 0.0),), feet=(), train=Of(gears=(), meshes=()), solids=(Of(solids=(), travel_mm=0.0),))
    units = (unit("fit_keeper", "keeper"), unit("place_gear", "gear"), unit("hang_idler", "idler"), unit("fit_drive", "free"))
    blockers = {"keeper": {}, "gear": {"keeper": "", "idler": "over"}, "idler": {"keeper": "there", "gear": "under"}, "free": {}}
    blockers["keeper"] = {"idler": "again"}
    for name, made in (("units_of", units), ("blockers_of", blockers), ("preparations", ())):
        monkeypatch.setattr(whole, name, lambda *given, made=made: made)
    found = whole.assembly(Of(boards=(), gears=()), derived)
    assert [(step.kind, step.parts) for step in found.steps] == [
        ("place_gear", ("gear",)), ("fit_keeper", ("keeper",)), ("hang_idler", ("idler",)), ("fit_drive", ("free",))
    ]  # fmt: skip
    assert [(item.part, item.held_by, item.why) for item in found.blocked] == [
        ("keeper", ("idler",), ("again",)), ("gear", ("keeper", "idler"), ("over",)), ("idler", ("keeper", "gear"), ("there", "under")),
    ]  # fmt: skip


def test_nuts_and_joints_by_the_uppermost_gear() -> None:
    def state(name: str, board: str, shaft: str = "", at: int = 0) -> Any:
        made = gear(name, 20, shaft=shaft) if shaft else gear(name, 20)
        return Of(id=name, level=at, gear=made.model_copy(update={"under": Of(text=board)}), shaft=shaft or name)

    gears = (state("west", "deck"), state("below", "lid", "west", 1))
    tee = Of(id="pin.west", gear="west", pivot=pin(nut=DriveNut(hardware=TEE, side="above")))
    sunk = Of(id="crank.west", gear="west", drive=Of(nut=DriveNut(hardware=TEE, side="above", recessed=mm(2))))
    foot = Of(id="c.west", gear="west", foot=riding())
    derived: Any = Of(train=Of(gears=gears), feet=(foot,), pivots=(tee,), drives=(sunk,), joints=())
    found = {step.kind: step for step in preparations(Of(boards=(), magnets=(), dowels=()), derived, frozenset())}
    assert found["drive_insert"].boards == ("deck",) and found["join_gears"].gears == ("west", "below")
    pressed = [step for step in preparations(Of(boards=(), magnets=(), dowels=()), derived, frozenset()) if step.kind == "press_tee_nut"]
    assert pressed == [
        AssemblyStep("press_tee_nut", ("pin.west",), (), ("deck",), "above", "topside"),
        AssemblyStep("press_tee_nut", ("crank.west",), ("west",), (), "above", "topside"),
    ]
    assert found["glue_screw_in_gear"].gears == ("below",)


def test_boards_that_touch_what_is_there() -> None:
    below = lay("deck", "below")
    assert [_board_meets(below, plan(), solid(high=high), 0.0) for high in (20.0, 20.009, 20.011)] == [True, True, False]
    above = lay("deck", "above")
    assert [_board_meets(above, plan(), solid(low=low, high=90.0), 0.0) for low in (38.0, 37.991, 37.989)] == [True, True, False]


def test_only_captured_nuts_are_pressed_in() -> None:
    def foot(kind: str, nut: Any) -> Any:
        held = Of(kind=kind, insert=None, pad=Of(kind="head"), nut=nut, nut_pocket="underside", into=Of(text="deck"))
        return Of(id=f"c.{kind}", gear="west", foot=held)

    gears = (Of(id="west", level=0, gear=gear("west", 20)),)
    feet = (foot("captured_nut", None), foot("sliding_hex", NUT), foot("captured_nut", NUT))
    derived: Any = Of(train=Of(gears=gears), feet=feet, pivots=(), drives=(), joints=())
    found = list(preparations(Of(boards=(), magnets=(), dowels=()), derived, frozenset()))
    assert [(step.kind, step.parts) for step in found] == [("press_nut", ("c.captured_nut",))]


def test_records_as_they_stand_alone() -> None:
    step = AssemblyStep("hang_idler", ("a",))
    assert (step.gears, step.boards, step.side, step.face, step.needs_cure, step.exact) == ((), (), "below", None, False, False)
    made = hung("a", 0.0, 0.0)
    assert (made.tools, made.after, made.board, made.last, made.side) == ((), "", None, False, "below")
