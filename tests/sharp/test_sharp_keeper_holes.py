"""Holes for what holds a keeper, what stands in its way, and of several screws the one that is taken: each alone, figures by hand. Lengths mm."""

from __future__ import annotations

from collections.abc import Iterator
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import mm
from tests.designs_feet import PAN

from trivet.model.base import Band
from trivet.model.hardware import Head
from trivet.model.outline import Outline, Placed
from trivet.record import replace
from trivet.solve import keeper, keeper_cuts, keeper_holds
from trivet.solve.contour_shapes import rectangle
from trivet.solve.corner import MEAN, Corner
from trivet.solve.feature import Feature, Round
from trivet.solve.keeper_obstacles import Obstacles
from trivet.solve.solid import Solid, SolidSet

CONE = Head(form="countersunk", diameter_mm=12.0, height_mm=3.5, height_max_mm=3.9, angle_deg=90.0)
FEET = (Of(id="corner.ne", x_mm=400.0, y_mm=300.0), Of(id="corner.nw", x_mm=100.0, y_mm=50.0))


def named(text: str) -> Any:
    return Of(text=text)


def held(**facts: Any) -> Any:
    given = {
        "id": "corner.nw.keeper", "foot": "corner.nw", "board": "deck", "gears": ("nw",), "places": ((130.0, 70.0), (70.0, 20.0)), "pilot_mm": 4.7,
        "pilot_depth_mm": 13.5, "clearance_mm": 6.8, "recess_diameter_mm": 13.0, "seat_mm": 5.5, "height_mm": 18.3,
        "keeper": Of(origin="the keeper"), "screws": Of(origin=None, drill=None), "screw": Of(thread=Of(designation="ST6.3"), head=PAN),
        "stand_off": Of(form="wood", diameter=mm(16), origin="stated"),
    }  # fmt: skip
    return Of(**(given | facts))


def context(*keepers: Any, cutter: float = 6.0, **facts: Any) -> Any:
    return Of(
        derived=Of(keepers=keepers, feet=FEET), cutter_mm=lambda name: {"straight": cutter}[name], size=lambda size: f"{size:.2f} mm",
        length=lambda size: f"{size:g} mm", **facts,
    )  # fmt: skip


DECK: Any = Of(name=named("deck"), cutter=named("straight"))


def test_pilot_holes_of_a_board() -> None:
    other, mine, more = held(board="base"), held(), held(id="corner.ne.keeper", screws=Of(origin="the screws", drill=mm(5)), pilot_mm=6.0)
    found = keeper_cuts.keeper_pilots(context(other, mine, other, more), DECK)
    begins = "pilot hole for the screw"
    assert [item.title for item in found] == [
        *(f"{begins} corner.nw.keeper.{k}, 4.70 mm, drilled" for k in (1, 2)), *(f"{begins} corner.ne.keeper.{k}, 6.00 mm" for k in (1, 2)),
    ]  # fmt: skip
    first, last = found[0], found[-1]
    # In the world's frame, from below, as deep as the screw reaches; a cutter as wide as the hole cuts it.
    assert first == Feature("bore", "underside", 13.5, Round(130.0, 70.0, 4.7), first.title, first.because, 6.0, None, True)
    assert (first.origin, last.origin, last.shape) == ("the keeper", "the screws", Round(70.0, 20.0, 6.0))
    assert first.because == "ST6.3: three quarters of it (common practice, no source); as deep as the screw can reach"
    assert last.because == "ST6.3: as stated; as deep as the screw can reach" and first.by_hand


def test_holes_and_recesses_of_a_keeper() -> None:
    found = list(keeper_cuts.keeper_holes(context(cutter=4.0), held(), 4.0, 18.0))
    begins = ("hole for the screw", "recess for the head of")
    assert [item.title for item in found] == [f"{begins[j]} corner.nw.keeper.{k}, {('6.80', '13.00')[j]} mm" for k in (1, 2) for j in (0, 1)]
    # Steps from the foot's axis at (100, 50).
    passage, recess = found[0], found[1]
    assert passage == Feature("bore", "underside", None, Round(30.0, 20.0, 6.8), passage.title, passage.because, 4.0, None, True) and passage.by_hand
    assert (recess.operation, recess.face, recess.depth_mm, recess.shape) == ("counterbore", "underside", 5.5, Round(30.0, 20.0, 13.0))
    assert [item.shape for item in found[2:]] == [Round(-30.0, -30.0, 6.8), Round(-30.0, -30.0, 13.0)]
    assert {item.origin for item in found} == {"the keeper"} and "plus 1 mm, no narrower" in recess.because
    stated = list(keeper_cuts.keeper_holes(context(), held(screws=Of(origin="the screws")), 7.0, 18.0))
    assert {item.origin for item in stated} == {"the screws"} and stated[0].title.endswith(".1, 6.80 mm, drilled")
    # A cone leaves no recess where it lies flush.
    cone = list(keeper_cuts.keeper_holes(context(), held(screw=Of(thread=Of(designation="ST6.3"), head=CONE), seat_mm=0.0), 4.0, 18.0))
    assert next(item.title.split(".1, ")[-1] for item in cone) == "6.80 mm, countersunk with 90 deg to 12.00 mm across" and len(cone) == 2


def test_stand_offs_cut_from_the_gears_sheets() -> None:
    sheets = {name: Of(name=named(name), thickness=Band(size, size, size)) for name, size in (("thick", 18.0), ("thin", 6.0))}
    layered = {"a": ("thick", 1, 4.0), "b": ("thin", 3, 7.0), "c": ("thick", 2, 5.0)}
    states = {name: Of(gear=Of(stock=named(stock), layers=layers), cutter_diameter_mm=cutter) for name, (stock, layers, cutter) in layered.items()}
    made = context(states=states, parts=Of(sheets=sheets))
    thick, thin = keeper_cuts.stand_off_parts(made, held(gears=("a", "b", "c")))
    # Of each sheet 1 + 2 and 3 layers for each of two screws, with the cutter of its first gear.
    assert [(item.part, item.quantity, item.cutter_diameter_mm, item.sheet) for item in (thick, thin)] == [
        ("corner.nw.stand_off", 6, 4.0, sheets["thick"]), ("corner.nw.stand_off_2", 6, 7.0, sheets["thin"]),
    ]  # fmt: skip
    assert thick.outline.as_circle() == pytest.approx((0.0, 0.0, 8.0)) and thick.thickness == sheets["thick"].thickness and thick.kind == "spacer"
    assert [item.features[0].title for item in (thick, thin)] == [f"hole for the screw corner.nw.keeper, 6.80 mm{end}" for end in ("", ", drilled")]
    assert thick.features[0].shape == Round(0.0, 0.0, 6.8) and thick.features[0].through and thick.features[0].by_hand
    assert thick.notes == ("stacked with shims to 18.3 mm, whatever the sheets measure",) and thick.outline_title.endswith("circle 16 mm")
    sleeve = held(stand_off=Of(form="sleeve", diameter=mm(16), origin=None))
    assert list(keeper_cuts.stand_off_parts(made, sleeve)) == list(keeper_cuts.stand_off_parts(made, held(places=()))) == []


# Where the plate and its gears lie.
STACK: Any = (Of(id="a", face_width=Band(18.0, 17.0, 19.0)), Of(id="b", face_width=Band(6.0, 5.5, 6.5)))


def test_a_keepers_underside_and_what_lies_on_it() -> None:
    sheets = tuple(Of(name=named(name), thickness=Band(size, size - 1.0, size + 2.0)) for name, size in (("thin", 9.0), ("ply", 18.0), ("thick", 24.0)))
    design: Any = Of(sheets=sheets)
    foot: Any = Of(kind="captured_nut", keeper=Of(stock=named("ply")))
    # 19 + 6.5 of the thickest gears and 0.3 of play, whatever they are.
    assert keeper.keeper_room_mm(STACK) == pytest.approx(25.8)
    lows = [keeper.keeper_low_mm(design, foot, STACK, -2.0, corner) for corner in (MEAN, Corner(1, -1), Corner(-1, 1))]
    assert lows == pytest.approx([-2.0 - 25.8 - 18.0, -2.0 - 25.8 - 17.0, -2.0 - 25.8 - 20.0])
    assert keeper.keeper_low_mm(design, Of(keeper=None), STACK, -2.0, MEAN) == pytest.approx(-27.8)
    # Gears 22.5 thick have 3.3 of play: pushed up by a captured nut; on the keeper over a sliding hex.
    up = keeper.kept_gears(foot, STACK, -2.0, Corner(-1, -1))
    down = keeper.kept_gears(Of(kind="sliding_hex"), STACK, -2.0, Corner(-1, -1))
    for found, rest in ((up, -2.0), (down, -5.3)):
        assert [(item.top_mm, item.bottom_mm) for item in found.values()] == [(pytest.approx(rest), pytest.approx(rest - 17.0)),
            (pytest.approx(rest - 17.0), pytest.approx(rest - 22.5))]  # fmt: skip
        assert [(item.lowest_top_mm, item.highest_bottom_mm) for item in found.values()] == [(pytest.approx(-5.3), pytest.approx(-19.0)),
            (pytest.approx(-22.3), pytest.approx(-24.5))]  # fmt: skip


# What stands in the way.
PLATE = Solid("keeper", "corner.nw.keeper", "nw", 100.0, 50.0, 90.0, -40.0, -22.0)
BODY = replace(PLATE, kind="stand_off", radius_mm=4.0, low_mm=-40.0, high_mm=5.0)


def blocked(*others: Solid, at: tuple[float, float] = (160.0, 50.0), stroke: bool = True, travel: float = 0.0, depth: float = 5.0, **cuts: Any) -> str:
    empty = SolidSet(0, 0, (replace(PLATE, shaft="x", x_mm=160.0),), 0.0, False)
    derived: Any = Of(solids=(empty, SolidSet(0, 0, others, travel, stroke)), boards=(Of(board=DECK, thickness=Band(18.0, 17.0, 19.0)),))
    design: Any = Of(**({"holes": (), "magnets": (), "dowels": (), "pockets": ()} | cuts))
    return Obstacles(design, derived).near(PLATE, BODY, "deck", depth)(at)


def solid(kind: Any, part: str, x: float, low: float, high: float, radius: float = 10.0, shaft: str = "west", **facts: Any) -> Solid:
    return Solid(kind, part, shaft, x, 50.0, radius, low, high, **facts)


@pytest.mark.parametrize(
    ("others", "words"),
    [
        ((), ""),
        # At x = 160, 4 wide: teeth 10 round 175 leave 1, which is enough; 174.9 leaves 0.9.
        ((solid("gear", "west", 175.0, -20.0, -2.0),), ""), ((solid("gear", "west", 174.9, -20.0, -2.0),), "the teeth of `west`"),
        ((solid("gear", "nw", 174.9, -20.0, -2.0, shaft="nw"),), ""),
        ((solid("head", "pin.west", 174.0, -60.0, -30.0),), "hardware of `pin.west`"),
        ((solid("keeper", "corner.ne.keeper", 174.0, -20.0, -2.0),), "the keeper of `corner.ne`"),
        ((solid("pad", "corner.ne", 174.0, -60.0, -30.0),), "the foot `corner.ne`"),
        ((solid("insert", "corner.ne", 174.0, 0.0, 15.0),), "the insert of `corner.ne`"),
        # The stand-off and its screw reach from -40 to 5: what ends there is not in the way.
        ((solid("gear", "west", 174.0, 5.0, 20.0),), ""), ((solid("gear", "west", 174.0, -60.0, -40.0),), ""),
        ((solid("gear", "west", 174.0, 4.5, 20.0),), "the teeth of `west`"),
        # The first of two; the one that is too near.
        ((solid("gear", "west", 176.0, -20.0, -2.0), solid("nut", "crank.hub", 174.0, -20.0, -2.0, shaft="hub")), "hardware of `crank.hub`"),
        ((solid("gear", "nw", 160.0, -20.0, -2.0, shaft="nw"), solid("gear", "west", 174.0, -20.0, -2.0)), "the teeth of `west`"),
        ((solid("gear", "west", 176.0, -20.0, -2.0), solid("gear", "west", 174.0, -20.0, -2.0)), "the teeth of `west`"),
        ((solid("gear", "west", 174.0, -20.0, -2.0), solid("gear", "west", 174.0, -20.0, -2.0, 8.0)), "the teeth of `west`"),
        ((solid("gear", "west", 173.0, -20.0, -2.0, 8.0), solid("gear", "west", 173.0, -20.0, -2.0)), "the teeth of `west`"),
        # Below the keeper at rest, yet it rises no further: a plate counts by its edge, at 165 here.
        ((solid("keeper", "corner.ne.keeper", 200.0, -20.0, -2.0, 60.0, plate=rectangle(165.0, 0.0, 70.0, 90.0)),), ""),
        ((solid("keeper", "corner.ne.keeper", 200.0, -20.0, -2.0, 60.0, plate=rectangle(164.9, 0.0, 70.0, 90.0)),), "the keeper of `corner.ne`"),
    ],
)  # fmt: skip
def test_what_is_too_near_a_stand_off(others: tuple[Solid, ...], words: str) -> None:
    assert blocked(*others) == words
    # Where no stroke is known nothing is.
    assert blocked(*others, stroke=False) == ""


def test_what_comes_down_with_the_feet() -> None:
    above = solid("gear", "west", 174.0, 8.0, 20.0, moves=True)
    assert [blocked(above, travel=travel) != "" for travel in (0.0, 2.9, 20.0)] == [False, False, True]


def hole(x: float, diameter: float, depth: Any = None, name: str = "h", **facts: Any) -> Any:
    given = {"into": named("deck"), "diameter_mm": diameter, "face": "topside", "counterbore": None, "places": (Placed(name, x, 50.0),)}
    return Of(**(given | {"depth": None if depth is None else mm(depth)} | facts))


def test_cuts_of_the_board_over_a_stand_off() -> None:
    # 4 and 2 of wood beside a hole of 6 at 169: enough.
    assert [blocked(holes=(hole(x, 6.0),)) for x in (169.0, 168.9, 151.0, 151.1)] == ["", "the cut `h`", "", "the cut `h`"]
    assert blocked(holes=(hole(168.9, 6.0, into=named("base")),)) == ""
    assert blocked(holes=(hole(168.9, 6.0, into=named("base")), hole(100.0, 6.0), hole(168.9, 6.0, name="other"))) == "the cut `other`"
    # From above 9 deep, 17 - 5 - 3 are whole at the thinnest; from below always.
    for deep, words in ((9, ""), ("9.01", "the cut `h`")):
        assert blocked(holes=(hole(165.0, 6.0, deep),)) == words
        assert blocked(holes=(hole(165.0, 6.0, deep, face="underside"),)) == "the cut `h`"
    assert blocked(holes=(hole(165.0, 6.0, 9),), depth=5.01) == "the cut `h`"
    # A hair's hole has no width but its own: 4 + 2 + 0.2.
    assert [blocked(holes=(hole(x, 0.4),)) for x in (166.25, 166.15)] == ["", "the cut `h`"]
    # At the plate's rim, 90 from its axis: what reaches over the rim and 2 more counts.
    for x, words in ((195.9, "the cut `h`"), (196.1, "")):
        assert blocked(holes=(hole(x, 8.0),), at=(190.0, 50.0)) == words
    assert blocked(holes=(hole(196.0, 8.0),), at=(190.1, 50.0)) == ""

    # A pocket 30 by 40 over and under the place, 6 off its near side.
    box = Outline("rectangle", 30.0, 40.0)
    for y, words in ((76.1, ""), (75.9, "the cut `p`"), (23.9, ""), (24.1, "the cut `p`")):
        pocket = Of(into=named("deck"), outline=box, face="underside", depth=mm(5), places=(Placed("p", 160.0, y),))
        assert blocked(pockets=(pocket,)) == words


# Which of several screws.
def tries(*kinds: tuple[str, bool, bool]) -> Any:
    """(screw, whether it holds, whether it finds places)."""
    return keeper_holds._Tries(iter([Of(screw=screw, holds=holds, places=places) for screw, holds, places in kinds]))


def taken(*keepers: Any) -> list[str]:
    return [item.screw for item in keeper_holds._alike(keepers)]


@pytest.mark.parametrize(
    ("keepers", "screws"),
    [
        ((), []), (((),), []),
        (((("a", True, True), ("b", True, True)), (("a", True, True),)), ["a", "a"]),
        # The first with which all hold; a keeper that has none at all is left out.
        (((("a", True, True), ("b", True, True)), (("a", False, True), ("b", True, True))), ["b", "b"]),
        (((("a", False, True), ("b", True, True)), (), (("b", True, True), ("a", True, True))), ["b", "b"]),
        # In the order of the first keeper's.
        (((("a", True, True), ("b", True, True)), (("b", True, True), ("a", True, True))), ["a", "a"]),
        # None in common: each its own that holds, else the first that finds places, else the first.
        (((("a", True, True),), (("b", True, True),)), ["a", "b"]),
        (((("a", False, False), ("b", True, True)), (("c", False, False), ("d", False, True))), ["b", "d"]),
        (((("a", False, False), ("b", False, False)), (("c", True, True),)), ["a", "c"]),
    ],
)  # fmt: skip
def test_one_screw_for_all_keepers_of_a_set(keepers: tuple[Any, ...], screws: list[str]) -> None:
    assert taken(*(tries(*kinds) for kinds in keepers)) == screws


def test_tries_are_made_when_asked_for() -> None:
    asked: list[int] = []

    def made() -> Iterator[Any]:
        for number in range(3):
            asked.append(number)
            yield number

    found = keeper_holds._Tries(made())
    assert next(iter(found)) == 0 and asked == [0]
    assert list(found) == [0, 1, 2] == list(found) and asked == [0, 1, 2]


def test_keepers_of_each_set_in_the_order_of_the_feet(monkeypatch: pytest.MonkeyPatch) -> None:
    def state(name: str, gear: str, screws: Any = "stated", **facts: Any) -> Any:
        kept = Of(keeper=Of(screws=screws), name=named(name.partition(".")[0]))
        return Of(**({"id": name, "gear": gear, "foot": kept} | facts))

    bare = state("corner.a", "a", foot=Of(keeper=None, name=named("corner")))
    feet = (bare, state("corner.b", "b", None), state("corner.c", "c"), state("side.d", "d"), state("corner.e", "e"), state("corner.f", "f"))
    kinds: tuple[tuple[Any, str], ...] = (("keeper", "c"), ("keeper", "d"), ("keeper", "e"), ("gear", "f"))
    plates = tuple(Solid(kind, "", gear, 0.0, 0.0, 1.0, 0.0, 1.0) for kind, gear in kinds)
    seen: list[tuple[str, str]] = []

    def tried(design: Any, derived: Any, foot: Any, solid: Solid, obstacles: Any) -> Iterator[Any]:
        seen.append((foot.id, solid.shaft))
        yield from (Of(id=f"{foot.id}.keeper", screw=screw, holds=screw != "s" or foot.id != "corner.e", places=True) for screw in "st")

    monkeypatch.setattr(keeper_holds, "_tried", tried)
    monkeypatch.setattr(keeper_holds, "Obstacles", lambda *given: None)
    design: Any = Of()
    derived: Any = Of(feet=feet, solids=(SolidSet(0, 0, plates, 0.0, True), SolidSet(1, 1, (), 0.0, True)))
    found = keeper_holds.keeper_states(design, derived)
    # One of the corners holds with `t` alone, so all corners take it; the side has its own set. One without a plate is left out.
    assert [(item.id, item.screw) for item in found] == [("corner.c.keeper", "t"), ("side.d.keeper", "s"), ("corner.e.keeper", "t")]
    assert sorted(seen) == [("corner.c", "c"), ("corner.e", "e"), ("side.d", "d")]
    others: tuple[Any, ...] = (Of(feet=feet, solids=()), Of(feet=feet[:2], solids=derived.solids))
    assert [keeper_holds.keeper_states(design, other) for other in others] == [(), ()]
