"""Requirements, plays, magnets, threads, corners and sheets: what is said of them, check by check. Lengths mm; sums beside the figures."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.sharp.stand_ins import at, length, named, ref, start, starts

from trivet.checks import (
    pivot_clamps_gear,
    pole_mismatch,
    require_not_met,
    require_not_run,
    statement_not_yet_used,
    stop_nut_may_turn,
    swelling_takes_play,
    thickness_not_measured,
    thread_runs_back,
    unrelieved_corner,
)
from trivet.model.base import Band
from trivet.model.intent import Require


def require(kind: Any, place: int) -> Require:
    return Require(kind, low=1.0, origin=at(place))


REQUIRED = (require("binding", 1), require("travel", 2), require("flush_within", 3), require("lift_per_turn", 4), require("height_covers", 5))


def not_run(*, meshes: bool, lift: bool, feet: bool = True, loads: tuple[str, ...] = (), full: bool = False, kinds: tuple[Require, ...] = REQUIRED) -> Any:
    design: Any = named(requires=kinds, loads=tuple(named(direction=way) for way in loads))
    derived: Any = named(train=named(meshes=(1,) if meshes else ()), lift=named() if lift else None, feet=(1,) if feet else ())
    found = (require_not_run.check_full if full else require_not_run.check)(design, derived)
    return [(start(item.span), item.parts[0], item.message.partition(" is ")[2], item.remedy) for item in found]


def test_requirements_that_are_not_judged() -> None:
    slow = "not judged here: `compile` and `check --full` draw whole trains and do"
    sag = "judged without sag here: `compile` and `check --full` work it out"
    none = "not judged: no heights can be computed for this fixture"
    assert not_run(meshes=True, lift=True) == [(1, "binding", slow, "")] and not not_run(meshes=True, lift=True, full=True)
    assert not_run(meshes=True, lift=True, loads=("x", "down"))[1:] == [(3, "flush_within", sag, "")]
    assert len(not_run(meshes=True, lift=True, loads=("x",))) == 1
    # Without heights nothing is judged but binding; without meshes not even that.
    heights = [(place, kind, none, "heights need feet that the drive turns, all in the same sense") for place, kind in (
        (2, "travel"), (3, "flush_within"), (4, "lift_per_turn"), (5, "height_covers"),
    )]  # fmt: skip
    assert not_run(meshes=True, lift=False, loads=("down",)) == [*heights, (1, "binding", slow, "")]
    bound = (1, "binding", "not judged: the fixture has no gears in mesh", "declare a `mesh`")
    assert not_run(meshes=False, lift=True) == [bound] and not_run(meshes=False, lift=False, full=True) == [bound, *heights]
    assert not_run(meshes=True, lift=False, feet=False, full=True)[0][3] == "declare a `foot` and gears that carry it"
    unknown = not_run(meshes=True, lift=True, full=True, kinds=(require("travel", 6), require("other", 7), require("binding", 8), require("another", 9)))
    assert unknown == [(7, "other", "not judged: it is not computed yet", ""), (9, "another", "not judged: it is not computed yet", "")]


@pytest.mark.parametrize("empty", [False, True])
def test_requirements_of_an_empty_stroke(monkeypatch: pytest.MonkeyPatch, empty: bool) -> None:
    judged: Any = {kind: (lambda item, design, derived, lift: [(item.kind, lift)]) for kind in ("travel", "lift_per_turn", "height_covers")}
    monkeypatch.setattr(require_not_met, "crossing", lambda derived: named() if empty else None)
    found = list(require_not_met._judged(named(requires=REQUIRED), named(lift="lift"), judged))
    # Only the lift per turn means something where no stroke is left; what nobody judges is passed over.
    assert found == [(kind, "lift") for kind in (("lift_per_turn",) if empty else ("travel", "lift_per_turn", "height_covers"))]
    assert not list(require_not_met._judged(named(requires=REQUIRED), named(lift=None), judged))


def pivot(name: str, play: float, stated: float | None = 0.3, swelling: float = 0.1, sleeve: float | None = 20.0, shoulder: Any = None) -> Any:
    set_name, _, gear = name.partition(".")
    noun = named(name=ref(set_name, 9), origin=None, play=None if stated is None else length(stated, 8), shoulder=shoulder)
    return named(id=name, gear=gear, play=Band(play + 0.1, play, play + 0.2), pivot=noun, swelling_mm=swelling, sleeve_length_mm=sleeve)


GEARS: Any = {name: named(gear=named(name=ref(name, 20 + k)), face_width=Band(18.0, 17.5, 18.5)) for k, name in enumerate("ab")}
SHOP: Any = named(moisture_least=6.0, moisture_most=12.5)


def clamped(*pivots: Any, units: str = "mm") -> list[Any]:
    return list(pivot_clamps_gear.check(named(units=units), named(pivots=pivots, train=named(gear=GEARS.__getitem__))))


def test_axial_play_at_the_tightest_gear() -> None:
    # 0.2 is wanted: 0.05 more than 0.15, so 0.35 instead of 0.3.
    (item,) = clamped(pivot("pin.a", 0.2), pivot("pin.b", 0.15), pivot("pin.c", 0.3))
    assert item.message == "`pin` leaves `b` 0.15 mm of axial play at its thickest; at least 0.2 mm is required"
    assert (item.remedy, item.parts, starts(item)) == ("`play 0.35 mm`; the sleeve becomes as much longer", ("pin.b",), (8, [21]))
    assert item.related[0].message == "`b` is up to 18.5 mm thick"
    # Unstated, its mean counts: 0.25 and 0.05 to the next twentieth.
    (item,) = clamped(pivot("good.a", 0.2), pivot("pin.a", 0.15, None, sleeve=None))
    assert (item.remedy, start(item.span)) == ("`play 0.3 mm`", 9)
    assert clamped(pivot("pin.a", -0.1, shoulder=named()))[0].remedy == "`play 0.6 mm`; the shoulder becomes as much longer"
    # 0.3 and 0.05 of inches are more than 0.8/64, and less than 1/64: 0.35 mm is 0.0138 in; so 1/64 = 0.0156 in.
    assert clamped(pivot("pin.a", 0.15), units="in")[0].remedy.startswith("`play 1/64 in` (0.016 in);")


def swollen(*pivots: Any, units: str = "mm") -> list[Any]:
    return list(swelling_takes_play.check(named(units=units, shop=SHOP), named(pivots=pivots, train=named(gear=GEARS.__getitem__))))


def test_play_that_swelling_takes() -> None:
    # 0.2 and what it swells; the tightest is the one with least left after that.
    (item,) = swollen(pivot("pin.a", 0.3, swelling=0.1), pivot("pin.b", 0.4, swelling=0.35))
    assert item.message == "`pin` leaves `b` 0.4 mm of axial play; 0.55 mm allows for swelling"
    assert (item.remedy, item.parts, starts(item)) == ("`play 0.45 mm`", ("pin.a", "pin.b"), (8, [21]))
    assert item.related[0].message == "`b` swells by about 0.35 mm from 6 to 12.5 percent of moisture"
    assert not swollen(pivot("pin.a", 0.3, swelling=0.1), pivot("tight.a", 0.19, swelling=0.1))
    found = swollen(pivot("tight.a", 0.19), pivot("good.a", 0.3), pivot("pin.a", 0.2, None, swelling=0.1, sleeve=None))
    assert [item.remedy for item in found] == ["`play 0.3 mm`, or set the play when the gears are at their dampest"] and start(found[0].span) == 9
    # 0.3 and 0.1 are 0.4: 1/64 in is 0.397, so 2/64.
    assert swollen(pivot("pin.a", 0.2, 1.0, swelling=0.1), units="in")[0].remedy == "`play 3/64 in` (0.047 in)"  # 1.1
    assert swollen(pivot("pin.a", 0.2, swelling=0.1), units="in")[0].remedy == "`play 1/32 in` (0.031 in)"


def magnet(name: str, into: str, face: str, pole: str | None, *places: tuple[float, float], disc: float = 10.0, place: int = 0) -> Any:
    ids = tuple(named(id=f"{name}.{k + 1}", x_mm=x, y_mm=y) for k, (x, y) in enumerate(places))
    return named(name=ref(name, place), into=ref(into), face=face, polarity=pole, places=ids, disc=named(diameter_mm=disc), origin=None)


def poles(*magnets: Any) -> list[Any]:
    boards = (named(name=ref("lid"), under=None), named(name=ref("base"), under=ref("lid")), named(name=ref("foot"), under=ref("base")))
    return list(pole_mismatch.check(named(boards=boards, magnets=magnets), named()))


def test_magnets_that_face_each_other() -> None:
    here, there = (100.0, 100.0), (150.0, 80.0)
    upper = magnet("up", "lid", "underside", "north", here, there, place=1)
    held = (
        magnet("other", "lid", "topside", "north", here), magnet("bare", "base", "topside", None, here), magnet("foe", "base", "topside", "south", here),
        magnet("deep", "foot", "topside", "north", there), magnet("under", "base", "underside", "north", here),
        magnet("off", "base", "topside", "north", (100.0, 105.0)),
    )  # fmt: skip
    assert not poles(upper, *held) and not poles(magnet("up", "lid", "underside", None, here), magnet("low", "base", "topside", "north", here))
    # Less than half the smaller disc apart: 4.9 of 5, whichever way.
    found = poles(*held, magnet("first", "lid", "underside", "south", here), upper, magnet("low", "base", "topside", "north", (102.94, 103.92), there, place=2))
    assert [(item.message, item.remedy, item.parts) for item in found] == [
        ("`foe.1` and `first.1` face each other with south poles", "`polarity north` for one of them", ("foe", "first")),
        ("`low.1` and `up.1`, 2 pairs in all, face each other with north poles", "`polarity south` for one of them", ("low", "up")),
    ]
    assert starts(found[1]) == (2, [1])
    small = magnet("low", "base", "topside", "north", (104.0, 100.0), disc=7.9)
    assert not poles(upper, small) and poles(upper, replace_disc(small, 8.1))


def replace_disc(item: Any, disc: float) -> Any:
    return named(**(vars(item) | {"disc": named(diameter_mm=disc)}))


def test_what_is_read_and_not_used() -> None:
    gears = (named(name=ref("a"), flip="none"), named(name=ref("b", 3), flip="x"), named(name=ref("c", 4), flip="y"))
    machines = tuple(
        named(name=ref(name, 5), slot_width=slot, scale=scale, skew=None) for name, slot, scale in (("old", None, None), ("new", length(6, 7), length(1)))
    )
    found = list(statement_not_yet_used.check(named(gears=gears, machines=machines, origin=at(0)), named()))
    assert [(item.message, item.parts, start(item.span)) for item in found] == [
        ("the flip of `b` and `c`: nothing is computed from it yet", ("b", "c"), 3),
        ("the slot_width of `new`: nothing is computed from it yet", ("new",), 7), ("the scale of `new`: nothing is computed from it yet", ("new",), 5),
    ]  # fmt: skip
    assert not list(statement_not_yet_used.check(named(gears=gears[:1], machines=machines[:1], origin=None), named()))


def test_end_nuts_that_nothing_locks() -> None:
    def drive(name: str, stop: bool, locked: str | None) -> Any:
        return named(name=ref(name, 1), stop=stop, stop_locked_by=locked, stop_origin=at(2), origin=at(3))

    found = list(stop_nut_may_turn.check(named(drives=(drive("a", False, None), drive("b", True, "cross_pin"), drive("c", True, None))), named()))
    assert [(item.parts, start(item.span)) for item in found] == [(("c",), 2)]


def thread(lead: float, pitch_diameter: float | None = None) -> Any:
    return named(pitch_diameter_mm=pitch_diameter, major_mm=8.0, pitch_mm=1.25, lead_mm=lead, designation="M8", origin=at(5))


def test_threads_that_run_back() -> None:
    """d2 = 8 − 0.649519 · 1.25 = 7.188; a lead of π d2 · 0.08/cos 30° = 2.0861 is just too steep."""
    around = math.pi * (8.0 - 0.649519 * 1.25)
    limit = around * 0.08 / math.cos(math.radians(30.0))
    feet = tuple(
        named(name=ref(name, 1), origin=None, thread=thread(lead, d2))
        for name, lead, d2 in (("a", 1.25, None), ("b", limit - 1e-4, None), ("c", limit + 1e-4, None), ("d", 2.5, None), ("e", 2.08, 7.0), ("f", 2.08, 7.3))
    )
    found = list(thread_runs_back.check(named(feet=feet, units="mm"), named()))
    assert [item.parts[0] for item in found] == ["c", "d", "e"]
    climbs, needs = math.degrees(math.atan(2.5 / around)), 2.5 / around * math.cos(math.radians(30.0))
    assert found[1].message == (
        f"the thread of `d` climbs at {climbs:.2f} deg, 2.5 mm a turn; less than {math.degrees(math.atan(limit / around)):.2f} deg, {limit:.2f} mm,"
        " holds with a friction of 0.08"
    )
    assert found[1].remedy == f"a thread with a lead below 2.08 mm; this one holds only while its friction is above {needs:.3f}"
    assert starts(found[1]) == (1, [5])


def test_corners_that_are_sharper_than_the_cutter_leaves() -> None:
    cutters = (named(name=ref("six"), diameter=length(6, 5)), named(name=ref("knife"), diameter=None), named(name=ref("ten"), diameter=length(10, 6)))

    def pocket(name: str, radius: float, cutter: str | None = None, shape: str = "rectangle", relieved: bool = False) -> Any:
        outline = named(relieved=relieved, shape=shape, corner_radius_mm=radius, origin=at(3))
        return named(name=ref(name, 4), outline=outline, cutter=None if cutter is None else ref(cutter), into=ref("deck"))

    good = (
        pocket("a", 2, "knife"), pocket("b", 2, relieved=True), pocket("c", 2, shape="circle"), pocket("d", 0), pocket("e", 3), pocket("f", 5, "ten"),
    )  # fmt: skip
    bad = (pocket("g", 2), pocket("h", 4, "ten", "polygon"), pocket("i", 0.5))
    design = named(cutters=cutters, boards=(named(name=ref("deck"), cutter=ref("six")),), pockets=(*good, *bad))
    found = list(unrelieved_corner.check(named(**vars(design), units="mm"), named()))
    assert [item.message for item in found] == [
        "the corners of `g` are stated as 2 mm; its cutter leaves 3 mm", "the corners of `h` are stated as 4 mm; its cutter leaves 5 mm",
        "the corners of `i` are stated as 0.5 mm; its cutter leaves 3 mm",
    ]  # fmt: skip
    assert found[0].remedy == "`relieved` opens the corners, `corner_radius 3 mm` states what is cut, or a cutter of 4 mm or less"
    assert [starts(item) for item in found] == [(3, [5]), (3, [6]), (3, [5])]


def test_thickness_without_a_spread() -> None:
    def sheet(name: str, spread: float = 0.0) -> Any:
        return named(name=ref(name, 1), thickness=Band(18.0, 18.0 - spread, 18.0 + spread))

    def cut(name: str, stock: str, layers: int = 1, place: int = 5) -> Any:
        return named(name=ref(name, place), stock=ref(stock), layers=layers)

    names = ("unused", "spread", "board", "gear", "spacer", "keeper")
    sheets = tuple(sheet(name, 0.2 if name == "spread" else 0.0) for name in names)
    feet = (named(name=ref("bare"), keeper=None), named(name=ref("corner"), keeper=named(stock=ref("keeper"))))
    gears = (cut("g", "gear", 2, 6), cut("i", "spread"), cut("h", "gear", 3, 7))
    design = named(sheets=sheets, boards=(cut("deck", "board"),), gears=gears, spacers=(cut("s", "spacer"),), feet=feet)
    found = list(thickness_not_measured.check(named(**vars(design), units="mm"), named()))
    assert [item.parts[0] for item in found] == ["board", "gear", "spacer", "keeper"]
    assert found[0].message == "`board` is taken as 18 mm thick everywhere"
    assert found[0].remedy == "measure it in eight places and state the spread, such as `thickness 18 +/- 0.2 mm`"
    assert found[1].message == "`gear` is taken as 18 mm thick everywhere; the layers of `g` and `h` add their differences"
    assert [(label.message, start(label.span)) for label in found[1].related] == [("`g` has 2 layers", 6), ("`h` has 3 layers", 7)]
    inches = list(thickness_not_measured.check(named(**vars(design), units="in"), named()))
    assert inches[0].remedy.endswith("`thickness 0.709 +/- 0.008 in`")
