"""What is gathered over feet, gears and sheets on the way to a stroke: each step alone, with records made up for it. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import design, drive, gear, mesh, mm, pivot
from tests.designs_feet import captured, hex_screw, riding, riser, sliding

from trivet.model.base import Band, Ref
from trivet.model.board import Board
from trivet.model.outline import Outline
from trivet.solve import solids, stroke, world
from trivet.solve import solve as solving
from trivet.solve.corner import MEAN, Corner
from trivet.solve.fixed_gear import FixedGear
from trivet.solve.foot_case import Bound, FootCase
from trivet.solve.shaft import shafts
from trivet.solve.solid import SolidSet
from trivet.solve.train import solve_train


def bound(end: Any, at: float, hard: bool, cause: str = "bench") -> Bound:
    return Bound(end, cause, at, hard)


def case(plane: float, *bounds: Bound, work: float = 18.0) -> FootCase:
    return FootCase(0.0, plane, None, bounds, work)


def test_what_all_feet_allow_together() -> None:
    """Height 18 − plane and on: one at 30, one at 40; the highest of the least, the lowest of the most, each by its foot."""
    a = case(-12.0, bound("least", 2.0, True, "tip"), bound("least", 5.0, False, "comfort"), bound("most", 20.0, False), bound("most", 28.0, True))
    b = case(-22.0, bound("least", -7.0, True), bound("least", -9.0, True), bound("most", 15.0, True), bound("most", 11.0, False, "thread"))
    found = stroke.stroke_of({"a": a, "b": b})
    assert found is not None
    ends = [(item.height_mm, item.foot, item.bound.cause) for item in (found.low, found.high, found.hard_low, found.hard_high)]
    # What is hard counts for comfort too; what is only comfortable does not count for parting.
    assert ends == [(35.0, "a", "comfort"), (50.0, "a", "bench"), (33.0, "b", "bench"), (55.0, "b", "bench")]
    assert (found.travel_mm, found.to_parting_mm) == (15.0, 22.0)
    # Of equal bounds the first foot's stands.
    twins = stroke.stroke_of({"a": a, "b": a})
    assert twins is not None and {item.foot for item in (twins.low, twins.high, twins.hard_low, twins.hard_high)} == {"a"}


@pytest.mark.parametrize(
    "bounds",
    [
        (bound("least", 0.0, True), bound("most", 9.0, False)),
        (bound("least", 0.0, False), bound("most", 9.0, True)),
        (bound("least", 0.0, True),),
        (bound("least", 0.0, True), bound("most", math.inf, True)),
        (bound("least", -math.inf, True), bound("most", 9.0, True)),
        (),
    ],
)
def test_an_end_without_bound_is_no_stroke(bounds: tuple[Bound, ...]) -> None:
    assert stroke.stroke_of({"a": case(0.0, *bounds)}) is None


def test_feet_with_what_climbers_allow(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = case(-12.0, bound("least", 2.0, True), bound("most", 20.0, True))
    monkeypatch.setattr(stroke, "foot_case", lambda spec, where, corner: spec.case)
    monkeypatch.setattr(stroke, "with_climbers", lambda cases, specs, where, corner, low: {"climbed": low})
    one: Any = Of(id="a", case=whole)
    loose: Any = Of(id="a", case=case(-12.0, bound("least", 2.0, True)))
    climbing: Any = Of(climbers=("c",))
    plain: Any = Of(climbers=())
    assert stroke.cases_at((one,), climbing, MEAN) == {"climbed": 32.0}
    assert stroke.cases_at((one,), plain, MEAN) == {"a": whole} and stroke.cases_at((), climbing, MEAN) == {}
    assert stroke.cases_at((loose,), climbing, MEAN) == {"a": loose.case}


@pytest.mark.parametrize(("kind", "taken"), [("riding", "riding"), ("captured_nut", "captured"), ("sliding_hex", "sliding")])
def test_each_kind_of_foot_its_own_case(kind: str, taken: str, monkeypatch: pytest.MonkeyPatch) -> None:
    for name, tag in (("riding_case", "riding"), ("captured_nut_case", "captured"), ("sliding_hex_case", "sliding")):
        monkeypatch.setattr(stroke, name, lambda spec, where, corner, tag=tag: (tag, where, corner))
    spec: Any = Of(foot=Of(kind=kind))
    where: Any = "world"
    assert stroke.foot_case(spec, where, Corner(1)) == (taken, "world", Corner(1))


# Feet as they are taken from a design.
def test_what_is_taken_of_each_foot() -> None:
    made = riser(riding())
    found = solving.foot_specs(made, shafts(solve_train(made)))
    assert [item.id for item in found] == ["corner.ne", "corner.nw", "corner.se", "corner.sw"]
    assert {(item.length_mm, item.pocket_mm, item.drop_mm, len(item.stack)) for item in found} == {(30.0, 5.8, 3.0, 1)}
    bare = riser(riding(length=None, pad=riding().pad.model_copy(update={"drop": None})))
    assert {(item.length_mm, item.drop_mm) for item in solving.foot_specs(bare, shafts(solve_train(bare)))} == {(0.0, 0.0)}
    assert solving.climber_specs(made, shafts(solve_train(made))) == ()
    climbing = made.model_copy(update={"feet": (riding(), riding(name=Ref("climber"), climbs_from=mm(2)))})
    gears = tuple(g.model_copy(update={"turns_on": None, "carries": Ref("climber")}) if g.name.text == "west" else g for g in made.gears)
    climbing = climbing.model_copy(update={"gears": gears})
    stacks = shafts(solve_train(climbing))
    assert [item.id for item in solving.climber_specs(climbing, stacks)] == ["climber.west"]
    assert len(solving.foot_specs(climbing, stacks)) == 4


def test_pockets_that_are_not_stated() -> None:
    """A riding foot's head of 5.3 lies flush; nuts and sliding heads have their own sockets."""
    assert [solving._pocket_mm(foot) for foot in (riding(), riding(pocket=None), riding(pocket=None, screw=None))] == [5.8, 5.3, 0.0]
    assert [solving._pocket_mm(foot) for foot in (sliding(screw=hex_screw()), captured(), captured(pocket=mm(4)))] == [0.0, 0.0, 4.0]


def spec(name: str, foot: str = "corner", insert: Any = "insert") -> Any:
    return Of(id=f"{foot}.{name}", foot=Of(name=Of(text=foot), insert=insert), other_way=False)


def ending(height: float, foot: str = "", key: str = "") -> Any:
    return Of(height_mm=height, foot=foot, bound=key)


def test_where_the_bench_is(monkeypatch: pytest.MonkeyPatch) -> None:
    """Work surface less the lowest height: the most over recesses and heads, for each pair of sheets."""
    monkeypatch.setattr(solving, "cases_at", lambda specs, where, corner: {"a": Of(work_mm=18.0 + where), "corner": corner})
    monkeypatch.setattr(solving, "stroke_of", lambda cases: Of(low=ending(40.0 - cases["corner"].depth - 3 * cases["corner"].head)))
    worlds: Any = {(b, g): 10.0 * b + g for b in (-1, 1) for g in (-1, 1)}
    specs: Any = (Of(id="a"), Of(id="b"))
    found = solving._bench_room(specs, worlds)
    assert found is not None and found.z_mm == {key: 18.0 + value - 36.0 for key, value in worlds.items()}
    assert solving._bench_room((), worlds) is None
    monkeypatch.setattr(solving, "stroke_of", lambda cases: None)
    assert solving._bench_room(specs, worlds) is None


def test_remedies_of_both_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    """Tried once for a set of feet, and said of the bound that ends the travel at either end."""
    asked = []

    def tried(specs: Any, name: str, where: Any, stroke_: Any, unit: str) -> Any:
        asked.append((name, where, unit))
        return ((f"other {name}", 9.0),)

    monkeypatch.setattr(solving, "remedies", tried)
    monkeypatch.setattr(solving, "key_of", lambda held: f"key of {held}")
    specs: Any = (spec("a"), spec("b"), spec("c", "tall"))
    where: Any = "world"

    def found(low: str, high: str) -> Any:
        asked.clear()
        ends: Any = Of(low=ending(1.0, low, "bench"), high=ending(2.0, high, "thread"))
        return solving._remedies(specs, where, ends, "in")

    one, two = (("other corner", 9.0),), (("other tall", 9.0),)
    assert found("corner.a", "corner.b") == {("corner.a", "key of bench"): one, ("corner.b", "key of thread"): one}
    assert asked == [("corner", "world", "in")]
    assert found("corner.a", "tall.c") == {("corner.a", "key of bench"): one, ("tall.c", "key of thread"): two}
    assert solving._remedies(specs, where, None, "mm") == {}


def test_inserts_driven_from_the_other_face(monkeypatch: pytest.MonkeyPatch) -> None:
    """One set at a time; sets without inserts are left out; a travel that ends cross is none."""
    monkeypatch.setattr(solving, "replace", lambda item, other_way: Of(**(vars(item) | {"other_way": other_way})))

    def travel(specs: Any, where: Any) -> Any:
        turned = [item.id for item in specs if item.other_way]
        return {"corner.a": Of(travel_mm=7.5), "tall.c": Of(travel_mm=-2.0), "low.d": None}[turned[0]]

    monkeypatch.setattr(solving, "mean_stroke", travel)
    specs: Any = (spec("a"), spec("b"), spec("e", "bare", None), spec("c", "tall"), spec("d", "low"))
    where: Any = "world"
    assert solving._other_way(specs, where) == {"corner": 7.5, "tall": 0.0}


def test_extensions_at_both_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    held: Any = {(0, 0): {"a": Of(height_at_zero_mm=30.0), "b": Of(height_at_zero_mm=34.0)}, (1, 1): {}}
    monkeypatch.setattr(solving, "stroke_of", lambda cases: Of(low=ending(35.0), high=ending(50.0)) if cases else None)
    one: Any = ("spec",)
    assert solving._ends(one, held) == {(0, 0): {"a": (5.0, 20.0), "b": (1.0, 16.0)}} and solving._ends((), held) == {}
    low: Any = Of(low=ending(35.0))
    assert (solving._least(low, 30.0), solving._least(None, 30.0)) == (5.0, 0.0)


# Bodies of all gears, by what holds each.
def test_bodies_at_each_combination(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(solids, "gear_solids", lambda where, stack, root: [f"gear {root}"])
    monkeypatch.setattr(solids, "drive_solids", lambda where, stack, state, held, length: [f"{held.name.text} {state.id} {length}"])
    monkeypatch.setattr(solids, "pivot_solids", lambda where, stack, state, held, length: [f"{held.name.text} {state.id} {length}"])
    monkeypatch.setattr(solids, "foot_solids", lambda foot, at, where, least: [f"foot {foot.id} {least}"])
    monkeypatch.setattr(solids, "climber_solids", lambda foot, where, ends, made: [f"climber {foot.id} {ends}"])
    monkeypatch.setattr(solids, "stroke_of", lambda cases: cases["stroke"])

    def held(name: str, **by: str) -> Any:
        given: dict[str, Any] = {"turned_by": None, "turns_on": None} | {key: Of(text=text) for key, text in by.items()}
        return Of(id=name, gear=Of(**given))

    states = {
        "hub": held("hub", turned_by="crank"), "west": held("west", turns_on="pin"), "nw": held("nw"), "up": held("up"), "lone": held("lone"),
    }  # fmt: skip
    named = [Of(name=Of(text=name)) for name in ("other", "crank", "pin")]
    climbers = (Of(id="climber.x", gear=Of(id="x")), Of(id="climber.up", gear=Of(id="up")))
    there: Any = Of(design=Of(drives=named[:2], pivots=(named[0], named[2])), states=states, climbers=climbers)
    feet: Any = (Of(id="corner.nw", gear=Of(id="nw")),)
    made = Of(low=ending(35.0), travel_mm=12.0)
    cases: Any = {key: {"corner.nw": Of(height_at_zero_mm=33.0), "stroke": made} for key in ((1, 1), (0, 0), (-1, 1))}
    cases[-1, 1]["stroke"], cases[1, 1]["stroke"] = None, Of(low=ending(36.0), travel_mm=-1.0)
    worlds: Any = dict.fromkeys(cases, there)
    stacks: Any = {name: () for name in states}
    ends: Any = {(0, 0): {"climber.up": (2.0, 9.0)}}

    def found(specs: Any = feet, whole: bool = True, climbed: Any = ends) -> Any:
        return solids.solids_of(specs, worlds, cases, stacks, {"hub": 25.0}, whole, climbed)

    def every(least: float, up: tuple[float, float]) -> tuple[str, ...]:
        return (
            "gear hub", "crank hub 25.0", "gear west", "pin west None", "gear nw", f"foot corner.nw {least}", "gear up",
            f"climber climber.up {up}", "gear lone",
        )  # fmt: skip

    none = (0.0, 0.0)
    # The mean first, the others as they come. Ends that cross leave no travel; where there is no stroke feet stand at no extension.
    assert found() == (
        SolidSet(0, 0, every(2.0, (2.0, 9.0)), 12.0, True), SolidSet(1, 1, every(3.0, none), 0.0, True), SolidSet(-1, 1, every(0.0, none), 0.0, False),
    )  # fmt: skip
    assert [(item.travel_mm, item.stroke) for item in found(whole=False)] == [(0.0, False)] * 3
    assert found(climbed=None)[0].solids == every(2.0, none)
    # A fixture without feet has no stroke to miss.
    assert [(item.travel_mm, item.stroke) for item in found((), False)] == [(0.0, True)] * 3


# What does not move with the feet.
def two_boards() -> Any:
    outline = Outline(shape="rectangle", width_mm=480.0, height_mm=350.0)
    boards = tuple(Board(name=Ref(name), stock=Ref("ply"), cutter=Ref("straight"), outline=outline) for name in ("other", "deck"))
    gears = (
        gear("hub", 20, (0.0, 0.0), drive=True), gear("wheel", 20), gear("low", 20, shaft="wheel"), gear("deep", 30), gear("end", 30, foot=True),
    )  # fmt: skip
    meshes = (mesh("hub", "wheel", 0.0), mesh("low", "deep", 0.0), mesh("deep", "end", 90.0))
    return design(gears, meshes, boards=boards, drives=(drive(),), feet=(captured(),), pivots=(pivot(),))


def test_levels_and_neighbours_in_a_world() -> None:
    made = two_boards()
    train = solve_train(made)
    found = world.build_world(made, train, shafts(train), MEAN)
    assert found.neighbours == {
        "hub": (("hub-wheel", "wheel"),), "wheel": (("hub-wheel", "hub"),), "low": (("low-deep", "deep"),),
        "deep": (("deep-end", "end"), ("low-deep", "low")), "end": (("deep-end", "deep"),),
    }  # fmt: skip
    assert found.drops == {0: 0.0, 1: pytest.approx(17.8)} and set(found.fixed) == {"hub", "wheel", "low", "deep", "end"}
    # The captured nut's gear is pushed up under the wheel's level; its keeper hangs under the thickest gear of 18, 0.3 of play and itself.
    assert found.fixed["end"].top_mm == pytest.approx(-17.8) and found.keepers == {"end": pytest.approx(-17.8 - 18.3 - 17.8)}
    # The wheel's sleeve is as long as two gears of 18 and 0.3, round two of 17.8.
    assert (found.fixed["wheel"].top_mm, found.fixed["low"].top_mm) == pytest.approx((-0.7, -18.5))
    assert found.low is None and found.corner == MEAN and set(found.states) == set(found.fixed)


def test_a_riding_gear_is_not_fixed() -> None:
    made = riser(riding(), Band(18.0, 17.0, 19.0))
    train = solve_train(made)
    found = world.build_world(made, train, shafts(train), Corner(1, 1))
    assert set(found.fixed) == {"hub", "west", "east"} and found.keepers == {}
    assert isinstance(found.fixed["hub"], FixedGear)
