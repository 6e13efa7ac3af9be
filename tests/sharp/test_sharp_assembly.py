"""What stands in whose way, in which order parts go together, and what each step says: each function alone, figures by hand. Lengths mm."""

from __future__ import annotations

from types import SimpleNamespace as Of
from typing import Any

import pytest

from trivet.solve import assembly as whole
from trivet.solve.assembly import _alike, _captives, _held_by_makeup, _late_pads, _put_on, _together
from trivet.solve.assembly_order import _beyond, _board_meets, _further, _words, blockers_of, in_rings, in_the_way, take_off
from trivet.solve.assembly_step import AssemblyStep, Captive
from trivet.solve.assembly_units import Unit, _joined, fixed_board, units_of
from trivet.solve.board_holes import BoardPlan
from trivet.solve.contour import Contour, Vertex
from trivet.solve.feature import Round
from trivet.solve.solid import Solid


def solid(kind: Any = "gear", low: float = 0.0, high: float = 18.0, x: float = 0.0, radius: float = 40.0, moves: bool = False, **facts: Any) -> Solid:
    given: dict[str, Any] = {"part": "a", "shaft": "a"} | facts
    return Solid(kind, given["part"], given["shaft"], x, 0.0, radius, low, high, moves)


@pytest.mark.parametrize(
    ("side", "low", "moves", "other", "other_moves", "hit"),
    [
        # What comes from below meets what lies under it; 3 of shared height at most is left to spacers.
        ("below", 0.0, False, -20.0, False, True),
        ("below", 0.0, False, -15.0, False, True),
        ("below", 0.0, False, -14.9, False, False),
        ("below", 0.0, False, 0.0, False, False),
        ("below", 0.0, False, 15.1, False, False),
        ("above", 0.0, False, 20.0, False, True),
        ("above", 0.0, False, 15.0, False, True),
        ("above", 0.0, False, 14.9, False, False),
        ("above", 0.0, False, -20.0, False, False),
        # A foot is judged where it is least in the way: 30 lower.
        ("below", 0.0, True, -20.0, False, False),
        ("below", 0.0, True, -20.0, True, True),
        ("below", 0.0, True, -48.0, False, True),
        ("above", -30.0, False, -12.0, True, False),
        ("above", -30.0, True, -12.0, True, True),
        ("above", -30.0, False, -12.0, False, True),
    ],
)
def test_what_is_in_the_way(side: str, low: float, moves: bool, other: float, other_moves: bool, hit: bool) -> None:
    assert in_the_way(solid(low=low, high=low + 18, moves=moves), side, solid(low=other, high=other + 18, moves=other_moves), 30.0) is hit


def test_thin_parts_share_half_of_themselves() -> None:
    washer = solid("washer", -2.0, 0.9)
    assert in_the_way(solid(), "below", washer, 0.0)
    assert not in_the_way(solid(), "below", solid("washer", -1.0, 1.02), 0.0) and in_the_way(solid(), "below", solid("washer", -1.1, 1.0), 0.0)
    # A plate without height may be touched, not entered.
    assert in_the_way(solid(), "below", solid("washer", 0.0, 0.0), 0.0)


BOX = Contour((Vertex(-100.0, -100.0), Vertex(100.0, -100.0), Vertex(100.0, 100.0), Vertex(-100.0, 100.0)))


def plan(under: float = 20.0, hole: float = 0.0) -> BoardPlan:
    return BoardPlan("deck", under, under + 18.0, BOX, (Round(0.0, 0.0, hole),) if hole else (), ())


def level(name: str, under: float) -> Any:
    return Of(board=Of(name=Of(text=name), under=None), z_under_mm=under)


def lay(name: str, side: Any, under: float = 20.0) -> Unit:
    return Unit("lay_board", name, "", (), (), board=level(name, under), side=side)


def test_which_boards_a_part_has_to_pass() -> None:
    for low, beyond in ((38.0, True), (37.991, True), (37.98, False)):
        assert _beyond(solid(low=low, high=low + 9), "below", plan(), 0.0) is beyond
    for high, beyond in ((20.0, True), (20.009, True), (20.02, False)):
        assert _beyond(solid(low=0.0, high=high), "above", plan(), 0.0) is beyond
    assert not _beyond(solid(low=40.0, high=50.0, moves=True), "below", plan(), 5.0) and _beyond(solid(low=43.0, moves=True), "below", plan(), 5.0)
    below, above = lay("deck", "below"), lay("deck", "above")
    assert _board_meets(below, plan(), solid(), 0.0) and not _board_meets(below, plan(), solid(high=20.02), 0.0)
    assert _board_meets(above, plan(), solid(low=37.991, high=50.0), 0.0) and not _board_meets(above, plan(), solid(low=37.98, high=50.0), 0.0)
    assert not _board_meets(above, plan(), solid(low=40.0, high=50.0, moves=True), 5.0)
    assert _further(lay("b", "above", 30.0), lay("a", "above", 20.0)) and not _further(lay("b", "above", 20.0), lay("a", "above", 20.0))
    assert not _further(lay("b", "above", 20.005), lay("a", "above", 20.0)) and not _further(lay("b", "above", 10.0), lay("a", "above", 20.0))
    assert _further(lay("b", "below", 10.0), lay("a", "below", 20.0)) and not _further(lay("b", "below", 30.0), lay("a", "below", 20.0))


def hung(name: str, x: float, low: float, high: float = 0.0, **facts: Any) -> Unit:
    made = solid(part=name, shaft=name, x=x, low=low, high=low + 18.0)
    return Unit("hang_idler", name, name, (name,), ((made, "below"),), **facts)


def test_blockers_of_small_stacks() -> None:
    low, high = hung("low", 0.0, -40.0), hung("high", 79.0, -20.0)
    found = blockers_of((low, high), frozenset(), 0.0, {})
    assert found == {"low": {}, "high": {"low": "`high` would have to pass `low`"}}
    # Apart seen from above, and touching.
    for x in (80.0, 79.995, 90.0):
        assert blockers_of((low, hung("high", x, -20.0)), frozenset(), 0.0, {})["high"] == {}
    assert blockers_of((low, high), frozenset({frozenset(("low", "high"))}), 0.0, {})["high"] == {}
    same = Unit("hang_idler", "high", "low", (), high.ways)
    assert blockers_of((low, same), frozenset(), 0.0, {})["high"] == {}
    # A spanner that has to reach it meets as well.
    tooled = Unit("fit_drive", "crank", "crank", (), (), ((solid("nut", -5.0, 0.0, x=41.0, radius=2.0, part="crank.hub", shaft="crank"), "below"),))
    assert blockers_of((low, tooled), frozenset(), 0.0, {})["crank"] == {"low": "the nut of `crank.hub` would have to pass `low`"}


def test_boards_block_and_are_blocked() -> None:
    under, over = hung("under", 0.0, -20.0), hung("over", 0.0, 60.0)
    board = lay("deck", "below", 20.0)
    found = blockers_of((under, over, board), frozenset(), 0.0, {"deck": plan()})
    assert found["over"]["deck"] == "`over` would have to pass the board" and found["under"] == {}
    assert found["deck"] == {"under": "the board would have to pass `under`"}
    # A wide hole lets both pass.
    free = blockers_of((under, over, board), frozenset(), 0.0, {"deck": plan(hole=80.0)})
    assert "deck" not in free["over"] and free["deck"] == {}
    two = blockers_of((lay("a", "above", 20.0), lay("b", "above", 40.0)), frozenset(), 0.0, {"a": plan(), "b": plan(40.0)})
    assert two == {"a": {"b": "one board would have to pass the other"}, "b": {}}
    unlike = blockers_of((lay("a", "above", 20.0), lay("b", "below", -40.0)), frozenset(), 0.0, {"a": plan(), "b": plan(-40.0)})
    assert unlike == {"a": {}, "b": {}}


def test_words_for_parts() -> None:
    assert _words(solid("keeper", part="c.keeper"), solid("bolt_end", part="crank")) == "the keeper `c.keeper` would have to pass the bolt end of `crank`"


def unit(kind: Any, name: str, **facts: Any) -> Unit:
    return Unit(kind, name, name, (), (), **facts)


def test_order_of_kinds_and_of_the_file() -> None:
    kinds = ("lay_board", "place_gear", "fit_keeper", "turn_in_screw", "thread_rod", "thread_feet", "fit_pad", "hang_idler", "fit_drive")
    units = tuple(unit(kind, kind) for kind in (*kinds[4:], *kinds[:4]))
    assert take_off(units, {item.id: {} for item in units}) == (kinds, ())
    alike = tuple(unit("hang_idler", name) for name in "zay")
    assert take_off(alike, {name: {} for name in "zay"})[0] == ("z", "a", "y")
    assert take_off((*alike, unit("place_gear", "late", last=True)), {name: {} for name in ("z", "a", "y", "late")})[0][-1] == "late"


def test_what_is_left_stuck() -> None:
    blockers = {"a": {"b": "x"}, "b": {"a": "y"}, "c": {"a": "z"}, "d": {}, "e": {"d": ""}}
    units = tuple(unit("hang_idler", name) for name in "abcde")
    order, stuck = take_off(units, blockers)
    assert (order, stuck) == (("e", "d"), ("a", "b", "c"))
    assert in_rings(stuck, blockers) == ("a", "b") and in_rings(("c",), blockers) == () and in_rings(("a", "c"), blockers) == ()
    assert _captives({item.id: item for item in units}, stuck, blockers) == (
        Captive("hang_idler", "a", ("b",), ("x",)), Captive("hang_idler", "b", ("a",), ("y",)),
    )  # fmt: skip
    makeup = {"a": {"b": "", "c": "words", "d": ""}, "b": {}, "c": {"a": ""}}
    assert _held_by_makeup(makeup, ("a", "b", "c")) == {"a": {"b": ""}, "b": {}, "c": {"a": ""}}
    quiet = {"a": {"b": ""}, "b": {"a": "words"}}
    assert [(item.part, item.why) for item in _captives({item.id: item for item in units}, ("a", "b"), quiet)] == [("b", ("words",))]


def test_pads_that_come_late() -> None:
    feet = (Of(id="rod", foot=Of(kind="captured_nut")), Of(id="f", foot=Of(kind="riding")), Of(id="g", foot=Of(kind="riding")))
    units = (unit("hang_idler", "i"), unit("thread_feet", "f"), unit("thread_feet", "g"))
    blockers = {"i": {"f.pad": "words", "f": ""}, "f": {"f.pad": ""}, "g": {"g.pad": ""}}
    assert _late_pads(Of(feet=feet), units, blockers) == {"rod", "f"}


def test_steps_of_units() -> None:
    def state(name: str, board: str) -> Any:
        return Of(id=name, gear=Of(under=Of(text=board)))

    foot = Of(gear="nw", id="corner.nw", foot=Of(into=Of(text="deck")))
    derived: Any = Of(train=Of(gears=(state("hub", "lid"), state("west", "deck"), state("nw", "lid"))), feet=(foot,))
    design: Any = Of(boards=tuple(Of(name=Of(text=name)) for name in ("deck", "lid")))
    units = (
        Unit("thread_feet", "corner.nw", "nw", ("nw",), ()), Unit("fit_keeper", "k", "nw", ("west",), ()), Unit("hang_idler", "pin", "west", ("west",), ()),
        Unit("fit_drive", "crank", "hub", ("hub",), (), side="above"), Unit("fit_pad", "corner.nw.pad", "nw", ("nw",), ()), lay("skirt", "below"),
    )  # fmt: skip
    meshes = frozenset({frozenset(("west", "nw"))})
    found = list(_put_on(design, derived, units, meshes))
    assert found == [
        AssemblyStep("thread_feet", ("corner.nw",), ("nw",), ("deck", "lid")), AssemblyStep("fit_keeper", ("k",), ("west",), ("deck",)),
        AssemblyStep("hang_idler", ("pin",), ("west",), ("deck",), exact=True), AssemblyStep("fit_drive", ("crank",), ("hub",), ("lid",), "above"),
        AssemblyStep("fit_pad", ("corner.nw",), ("nw",)), AssemblyStep("lay_board", ("skirt",), (), ("skirt",)),
    ]  # fmt: skip


def test_alike_steps_are_one() -> None:
    one, two = AssemblyStep("hang_idler", ("p", "q"), ("a",), ("deck",)), AssemblyStep("hang_idler", ("q", "r"), ("a", "b"), ("lid",))
    other = AssemblyStep("hang_idler", ("s",), ("c",), ("deck",), exact=True)
    assert list(_together((one, two, other, one))) == [AssemblyStep("hang_idler", ("p", "q", "r"), ("a", "b"), ("deck", "lid")), other, one]
    assert list(_together(())) == []
    assert not _alike(one, AssemblyStep("hang_idler", ("r",), (), ("deck",))) and not _alike(one, AssemblyStep("hang_idler", ("r",), ("a",), ()))
    assert not _alike(one, AssemblyStep("hang_idler", ("r",), ("a",), ("deck",), "above")) and _alike(one, one)


def test_which_board_is_fixed() -> None:
    boards = (level("skirt", -40.0), level("deck", 0.0), level("lid", 20.0))
    gears = tuple(Of(under=Of(text=name)) for name in ("deck", "skirt"))
    assert fixed_board(Of(gears=gears), Of(boards=boards)) is boards[1]
    assert fixed_board(Of(gears=()), Of(boards=boards)) is boards[0] and fixed_board(Of(gears=()), Of(boards=())) is None
    names = {item.board.name.text: item.board for item in boards}
    names["skirt"].under, names["deck"].under = Of(text="deck"), Of(text="lid")
    whole: Any = Of(boards=tuple(names.values()))
    assert _joined(whole, names["skirt"], names["lid"]) and not _joined(whole, Of(name=Of(text="shelf")), names["lid"])
    names["lid"].under = Of(text="skirt")
    assert _joined(whole, names["skirt"], names["skirt"])
    found = units_of(Of(boards=()), Of(boards=boards, feet=(), pivots=(), drives=()), Of(solids=()), boards[1])
    assert found == ()
    names["lid"].under = None
    units = units_of(whole, Of(boards=boards, feet=(), pivots=(), drives=()), Of(solids=()), boards[1])
    assert [(item.id, item.side, item.kind) for item in units] == [("skirt", "below", "lay_board"), ("lid", "above", "lay_board")]


@pytest.mark.parametrize(("hides", "late"), [(False, False), (True, True)])
def test_pads_are_put_on_late_only_where_they_hide_a_part(monkeypatch: pytest.MonkeyPatch, hides: bool, late: bool) -> None:
    """Two units and their blockers; a pad that is not late is left to the preparations."""
    deck = level("deck", 0.0)
    derived: Any = Of(boards=(deck,), feet=(), train=Of(gears=(), meshes=()), solids=(Of(solids=(), travel_mm=30.0), None))
    design: Any = Of(boards=(), gears=())
    units = (unit("thread_feet", "f"), unit("fit_pad", "f.pad", after="f"), unit("hang_idler", "i"), lay("lid", "above"))
    told: dict[str, Any] = {}

    def blockers(given: Any, meshes: Any, travel: float, plans: Any) -> Any:
        told.update(travel=travel, plans=plans)
        return {"f": {"f.pad": ""}, "f.pad": {}, "i": {"f.pad": "words"} if hides else {}, "lid": {}}

    for name, made in (
        ("units_of", lambda *given: units), ("board_plan", lambda *given: given[2].board.name.text), ("blockers_of", blockers),
        ("preparations", lambda *given: [AssemblyStep("join_gears", tuple(sorted(given[2])))]),
    ):  # fmt: skip
        monkeypatch.setattr(whole, name, made)
    found = whole.assembly(design, derived)
    assert (found.fixed, found.blocked, told) == ("deck", (), {"travel": 30.0, "plans": {"lid": "lid"}})
    kinds = [(step.kind, step.parts) for step in found.steps]
    assert kinds[0] == ("join_gears", ("f",) if late else ())
    assert (("fit_pad", ("f",)) in kinds) is late and {("thread_feet", ("f",)), ("hang_idler", ("i",)), ("lay_board", ("lid",))} <= set(kinds)
    none: Any = Of(boards=(), solids=(Of(solids=(), travel_mm=0.0),))
    assert whole.assembly(design, none) == whole.Assembly("", ())
    none.boards, none.solids = (deck,), ()
    assert whole.assembly(design, none) == whole.Assembly("", ())
