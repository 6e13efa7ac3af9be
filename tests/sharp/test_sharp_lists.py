"""What is grouped, accepted and listed in checks, function by function. Lengths mm.

The riser of these tests has a deck of 18 (17 to 19) and gears of 10 (9 to 11).
"""

from __future__ import annotations

from functools import cache
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import M8, design, gear, mesh, mm
from tests.designs_feet import NUT, captured, crank, pin, riding, riser, sliding

from trivet.checks import _accept, _cutter_uses, _depths, _equal, _faults, _sets, _undriven
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.base import Band, Ref
from trivet.model.board import Counterbore, Engrave, Hole, MagnetPlace, Pocket, Spacer
from trivet.model.hardware import Magnet
from trivet.model.intent import Accept
from trivet.model.outline import Outline, Placed
from trivet.model.shop import Cutter
from trivet.model.train import DriveNut
from trivet.record import replace
from trivet.solve.keeper_solids import with_stand_offs
from trivet.solve.solid import Solid, SolidSet
from trivet.solve.solve import solve
from trivet.source import SourceFile, Span

FILE = SourceFile("f.trivet", "x" * 100)
RULE = Rule("a-rule", "warning", "", "", "")


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def at(start: int) -> Span:
    return Span(FILE, start, start + 1)


def test_members_of_sets_and_equal_things() -> None:
    members = [named(id=name) for name in ("pin.west", "crank.hub", "pin.east")]
    assert [(name, _sets.ids(held)) for name, held in _sets.by_set(members)] == [("pin", ("pin.west", "pin.east")), ("crank", ("crank.hub",))]
    assert _equal.grouped([(1, "a"), (2, "b"), (1, "c")]) == (("a", "c"), ("b",))
    assert (_equal.too([]), _equal.too(["b", "c", "b"])) == ("", "; `b` and `c` too")
    labels = _equal.also_here([("a", at(1)), ("b", at(1)), ("a", at(1)), *((f"c{k}", at(k)) for k in range(2, 7))])
    assert [label.span for label in labels] == [at(1), at(2), at(3), at(4)] and labels[0].message == "the same holds for `a` and `b`"


def test_gears_that_hang_together_undriven() -> None:
    made = design(
        (gear("hub", 16, (0.0, 0.0), drive=True), *(gear(name, 20) for name in "abcd"), gear("e", 20, shaft="c"), gear("f", 20)),
        (mesh("hub", "f", 0.0), mesh("c", "a", 0.0), mesh("b", "d", 0.0)),
    )
    lost: Any = named(train=named(drive_gear="hub", unreached=("e", "d", "c", "b", "a")))
    assert _undriven.undriven(made, lost) == (("a", "c", "e"), ("b", "d"))
    assert _undriven.undriven(made, named(train=named(drive_gear=None, unreached=("a",)))) == ()


def finding(*parts: str, rule: str = "a-rule", ours: bool = False) -> Diagnostic:
    return Diagnostic(rule, "error", "m", at(9), parts=parts, fault_of_ours=ours)


def accepted(on: str | None, *found: Diagnostic, rule: str = "a-rule", not_run: tuple[str, ...] = ()) -> list[tuple[str, bool, str]]:
    acceptance = Accept(Ref(rule, at(1)), "so it is", Ref(on) if on else None, at(0))
    made: Any = named(accepts=(acceptance,))
    return [(item.rule, item.accepted, item.remedy) for item in _accept.accept(made, found, ("a-rule", "b-rule"), not_run)]


def test_what_an_acceptance_accepts() -> None:
    assert accepted("pin", finding("pin.west")) == accepted(None, finding("x")) == accepted("pin", finding("x", "pin")) == [("a-rule", True, "")]
    nothing = "acceptance-matches-nothing"
    assert accepted("pin", finding("pinion", "x")) == [("a-rule", False, ""), (nothing, False, "the rule is broken on `pinion`, `x`")]
    assert accepted(None, finding("x", rule="b-rule")) == [("b-rule", False, ""), (nothing, False, "remove it")]
    assert accepted(None, finding("x", ours=True))[0] == ("a-rule", False, "") and accepted(None, not_run=("a-rule",)) == []
    assert accepted(None, rule="a-rul") == [("unknown-rule", False, "did you mean `a-rule`?")]
    assert accepted(None, rule="zzzzzz") == [("unknown-rule", False, "`trivet explain` lists the rules")]


def test_faults_of_one_kind() -> None:
    made: Any = named(gears=(gear("a", 20).model_copy(update={"name": Ref("a", at(5))}),))
    stated = (("x", "a", at(7)), ("y", "a", at(7)), ("x", "a", None), ("x", "z", at(8)))
    faults = [named(kind=kind, gear=name, message="m", origin=origin) for kind, name, origin in stated]
    found = list(_faults.of_kind(RULE, "x", made, named(train=named(faults=faults)), "move {gear}"))
    assert [(item.span, len(item.related), item.remedy, item.parts) for item in found] == [
        (at(7), 1, "move a", ("a",)), (at(5), 0, "move a", ("a",)), (at(8), 0, "move z", ("z",)),
    ]  # fmt: skip


@cache
def with_cuts(kind: str) -> Any:
    spot: dict[str, Any] = {"into": Ref("deck"), "places": (Placed("it", 30.0, 40.0),)}
    hole = Hole(name=Ref("deep"), diameter_mm=6.0, because="", depth=mm(5), cutter=Ref("fine"), **spot)
    sunk = Counterbore(face="topside", diameter_mm=20.0, depth_mm=4.0)
    through = Hole(name=Ref("sunk"), diameter_mm=6.0, because="", counterbore=sunk, cutter=Ref("fine"), **spot)
    drilled = Hole(name=Ref("drilled"), diameter_mm=6.0, because="", cutter=Ref("fine"), drill_mm=6.0, **spot)
    pocket = Pocket(name=Ref("tray"), face="topside", outline=Outline("rectangle", 30.0, 40.0), depth=mm(7), **spot)
    magnet = MagnetPlace(
        name=Ref("m"), face="topside", disc=Magnet(8.0, 3.0), fit="push", hole_diameter_mm=8.2, hole_depth_mm=3.2, **spot
    )
    label = Engrave(name=Ref("word"), face="topside", text="A", height=mm(8), depth=mm("0.4"), cutter=Ref("vee"), **spot)
    spacer = Spacer(name=Ref("ring"), stock=Ref("gears"), cutter=Ref("fine"), outline=Outline("circle", 30.0, 30.0))
    cutters = tuple(Cutter(name=Ref(name), diameter=mm(4)) for name in ("straight", "fine", "vee"))
    foot = sliding() if kind == "sliding" else captured() if kind == "captured" else riding()
    pivots = (pin(nut=DriveNut(hardware=NUT, side="above", recessed=mm(4))),) if kind == "sliding" else (pin(),)
    gap = pocket.model_copy(update={"name": Ref("gap"), "depth": None})
    made = riser(
        foot, Band(18.0, 17.0, 19.0), Band(10.0, 9.0, 11.0), holes=(hole, through, drilled), pockets=(pocket, gap),
        magnets=(magnet,), engravings=(label,), spacers=(spacer,), cutters=cutters, pivots=pivots,
    )  # fmt: skip
    return made, solve(made)


def test_blind_cuts_of_the_file_and_of_the_train() -> None:
    made, derived = with_cuts("sliding")
    found = [(item.words, item.into, item.depth_mm, item.wood.least, item.names) for item in _depths.depths_of(made, derived)]
    assert found[:4] == [
        ("pocket `tray`", "deck", 7.0, 17.0, ("tray",)), ("hole `deep`", "deck", 5.0, 17.0, ("deep",)),
        ("counterbore of `sunk`", "deck", 4.0, 17.0, ("sunk",)), ("hole of the magnet `m`", "deck", 3.2, 17.0, ("m",)),
    ]  # fmt: skip
    rest = {words: item for words, *item in found[4:]}
    assert rest["recess for the nut below of `crank`"] == ["hub", 6.0, 9.0, ("crank", "hub")]
    west = [item for item in found if "pin.west" in item[4]]
    head, nut = ("west", 7.0, 9.0, ("pin.west", "west")), ("deck", 4.0, 17.0, ("pin.west", "deck"))
    assert west == [("recess for the head of `pin`", *head), ("recess for the nut of `pin`", *nut)]
    assert rest["socket of `corner`"][1:3] == [14.0, 9.0] and len(found) == 4 + 1 + 2 * 2 + 4
    magnet = next(item for item in _depths.depths_of(made, derived) if "magnet" in item.words)
    assert magnet.advice == "a magnet no thicker than {}" and magnet.added_mm == pytest.approx(0.2)


def test_pockets_of_riding_and_of_captured_feet() -> None:
    made, derived = with_cuts("riding")
    assert [item.depth_mm for item in _depths.depths_of(made, derived) if item.words == "pocket for the head of `corner`"] == [5.8] * 4
    both = crank(nut=DriveNut(hardware=NUT, side="above", recessed=mm(2)))
    (two,) = _depths._drive(both, derived.train.gear("hub"))
    assert (two.words, two.depth_mm) == ("recess for the nut above and the nut below of `crank`", 8.0)
    assert list(_depths._drive(crank(jam_nut=None), derived.train.gear("hub"))) == []


def test_what_each_cutter_cuts() -> None:
    made, _ = with_cuts("captured")
    found = [(item.name.text, item.cutter, item.depth_mm) for item in _cutter_uses.cutter_uses(made)]
    assert found[0] == ("deck", "straight", 19.0) and ("hub", "straight", 11.0) in found and ("ring", "fine", 11.0) in found
    assert found.count(("corner", "straight", 19.0)) == 4  # keepers of the deck's sheet
    # Of pockets and holes those that name a cutter; what is drilled is not cut.
    assert found[-3:] == [("deep", "fine", 5.0), ("sunk", "fine", 19.0), ("word", "vee", 0.4)]
    assert len(found) == 1 + 7 + 4 + 1 + 3


def test_what_holds_a_keeper_as_bodies() -> None:
    made, _ = with_cuts("captured")
    plate = Solid("keeper", "corner.nw.keeper", "nw", 50.0, 60.0, 70.0, -40.0, -22.0)
    other = replace(plate, shaft="ne", part="corner.ne.keeper")
    held: dict[str, Any] = {
        "gear": "nw", "board": "deck", "places": ((20.0, 60.0), (80.0, 61.0)), "seat_mm": 5.5, "least_mm": 43.0,
        "stand_off": named(diameter=mm(8)), "screw": named(thread=replace(M8, major_mm=6.0)),
    }  # fmt: skip
    for length, reach in ((45.0, 45.0), (None, 43.0)):
        (found,) = with_stand_offs(made, named(solids=(SolidSet(1, -1, (plate, other), 20.0, True),)), [named(**held, length_mm=length)])
        assert found.solids[:2] == (plate, other) and (found.board, found.gear, found.travel_mm, found.stroke) == (1, -1, 20.0, True)
        told = [(item.kind, item.x_mm, item.y_mm, item.radius_mm, item.low_mm, item.high_mm, item.shaft) for item in found.solids[2:]]
        # Stand-offs from the keeper to the deck; screws from their heads' recess 5.5 up.
        assert told == [
            ("stand_off", 20.0, 60.0, 4.0, -22.0, 0.0, "nw"), ("keeper_screw", 20.0, 60.0, 3.0, -34.5, -34.5 + reach, "nw"),
            ("stand_off", 80.0, 61.0, 4.0, -22.0, 0.0, "nw"), ("keeper_screw", 80.0, 61.0, 3.0, -34.5, -34.5 + reach, "nw"),
        ]  # fmt: skip
    assert with_stand_offs(made, named(solids="as they are"), [named(**held | {"places": ()})]) == "as they are"
