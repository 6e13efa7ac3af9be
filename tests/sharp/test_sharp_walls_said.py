"""Walls between cuts, cuts of two faces, boards below and keepers' screws, check by check. Lengths mm."""

from __future__ import annotations

from typing import Any

import pytest
from tests.sharp.stand_ins import MM, at, length, named, ref, start, starts

from trivet.checks import no_room_for_keeper_screws, split_between_faces, strikes_board_below, thin_wall
from trivet.model.base import Band
from trivet.solve.contour import Contour, Vertex
from trivet.solve.feature import Feature, Label, Round
from trivet.solve.solid import Solid
from trivet.solve.split_faces import Split

SQUARE = Contour(tuple(Vertex(x, y) for x, y in ((0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0))))


def cut(name: str, shape: Any, place: int = 1, part: str = "deck", kind: str = "board", depth: float | None = None, face: Any = "topside") -> Any:
    feature = Feature("hole", face, depth, shape, name, "stated", 6.0, None)
    held = named(part=part, kind=kind, outline=SQUARE, thickness=Band(18.0, 17.0, 19.0))
    set_name, _, _ = name.partition(".")
    return named(part=held, whole=part, feature=feature, title=f"hole {name}", names=(name, set_name, part), span=at(place))


def remedy(design: Any, one: Any, other: Any, edge: Any, more: float) -> str:
    return f"{one.names[0]} {other.names[0] if other else '-'} {more:.2f} {len(edge)}"


def walls(*cuts: Any) -> list[Any]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(thin_wall, "cuts_of", lambda design, derived: cuts)
        patch.setattr(thin_wall, "wall_remedy", remedy)
        return list(thin_wall.check(MM, named()))


def test_walls_between_cuts_and_to_the_edge() -> None:
    # 1.5 between the first two, 0.5 to the edge; what lies in a gear, writes a word or is in another part counts for nothing.
    one, other = cut("a", Round(20.0, 50.0, 10.0), 1), cut("b", Round(31.5, 50.0, 10.0), 2)
    odd = (
        cut("g", Round(20.0, 50.0, 12.0), kind="gear", part="hub"), cut("w", Label(20.0, 50.0, "L", 5.0, 0.0)), cut("p", Round(20.0, 50.0, 10.0), part="lid"),
    )  # fmt: skip
    found = walls(*odd, one, other, cut("edge", Round(100.0, 5.5, 10.0), 3))
    assert [item.message for item in found] == [
        "between the hole `b` and the hole `a` 1.5 mm of wood is left; at least 2 mm of wood is required",
        "between the hole `edge` and the edge of `deck` 0.5 mm of wood is left; at least 2 mm of wood is required",
    ]
    assert [(item.remedy, item.parts, starts(item)) for item in found] == [
        ("b a 0.50 4", ("b", "a", "deck"), (2, [1])), ("edge - 1.50 4", ("edge", "deck"), (3, [])),
    ]  # fmt: skip
    assert not walls(one, cut("b", Round(32.0, 50.0, 10.0))) and not walls(cut("edge", Round(100.0, 7.0, 10.0)))
    assert "1.9 mm of wood is left" in walls(cut("edge", Round(100.0, 6.9, 10.0)))[0].message
    # Two of one shape are two; from the corner of an opening to a hole √2 · 5.3 − 5 are left.
    shared = Round(20.0, 50.0, 10.0)
    assert len(walls(cut("a", shared), cut("b", shared), cut("c", Round(31.5, 50.0, 10.0)))) == 2
    corner = Contour(tuple(Vertex(x, y) for x, y in ((20.0, 20.0), (40.0, 20.0), (40.0, 40.0), (20.0, 40.0))))
    assert not walls(cut("a", corner), cut("b", Round(45.3, 45.3, 10.0))) and walls(cut("a", corner), cut("b", Round(44.9, 44.9, 10.0)))
    # Halves of the sheet from both faces share no height.
    assert not walls(cut("a", Round(20.0, 50.0, 10.0), depth=8.0), cut("b", Round(31.0, 50.0, 10.0), depth=8.0, face="underside"))


def test_cuts_that_run_into_each_other_or_through_the_edge() -> None:
    found = walls(cut("a", Round(20.0, 50.0, 10.0)), cut("b", Round(29.0, 50.0, 10.0)), cut("edge", Round(100.0, 4.0, 10.0)))
    assert [item.message for item in found] == [
        "the hole `b` and the hole `a` run into each other by 1 mm; at least 2 mm of wood is required",
        "the hole `edge` breaks through the edge by 1 mm; at least 2 mm of wood is required",
    ]
    assert walls(cut("a", Round(20.0, 50.0, 10.0)), cut("b", Round(30.0, 50.0, 10.0)))[0].message.startswith("between the hole `b` and the hole `a` 0 mm of")


def test_equal_walls_of_one_statement_are_said_once() -> None:
    row = [cut(f"a.{k}", Round(20.0 + 11.0 * k, 50.0, 10.0), 1) for k in range(4)]
    (item,) = walls(*row)
    assert item.message.endswith("is required; the same at 2 other places") and starts(item) == (1, [1])
    assert item.parts == ("a.1", "a", "a.0", "deck", "a.2", "a.3")
    (item,) = walls(*row[:3])
    assert item.message.endswith("is required; the same at 1 other place")
    given = (("a", 20.0, 6.0, 1), ("a.2", 60.0, 6.0002, 5), ("c", 90.0, 6.0, 6), ("a.3", 120.0, 6.003, 7))
    found = walls(*(cut(name, Round(x, y, 10.0), place) for name, x, y, place in given))
    assert [starts(item) for item in found] == [(1, [5]), (6, []), (7, [])] and found[0].related[0].message == "the same holds for `a.2`"


def split(owner: str, room: float, wander: float = 0.35, *, guide: bool = False, kind: str = "board", through: bool = True, place: int = 1) -> Any:
    held: Any = named(part="deck", belongs_to="", datum="underside", kind=kind)
    shape = Round(0.0, 0.0, 8.0)
    hole = Feature("hole", "topside", None if through else 9.0, shape, f"hole of {owner}, 8 mm", "stated", 6.0, at(5))
    recess = Feature("recess", "topside", 6.0, shape, f"recess of {owner}, 14 mm", "stated", 6.0, at(6))
    return Split(held, owner, "its head", hole, recess, room, wander, guide, at(place))


def splits(*items: Any) -> list[Any]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(split_between_faces, "split_faces", lambda design, derived: items)
        return list(split_between_faces.check(named(units="mm", origin=at(0)), named()))


def test_cuts_of_two_faces() -> None:
    found = splits(split("good", 0.35), split("pin.a", 0.3), split("crank.hub", -0.1), split("pin.b", 0.3), split("pin.c", 0.2))
    assert [item.parts for item in found] == [("pin.a", "pin.b", "deck"), ("crank.hub", "deck"), ("pin.c", "deck")]
    assert found[0].message == (
        "the hole of `pin.a` is cut from the underside of `deck` and the recess of `pin.a` from the other face, and 1 more like it:"
        " they may lie 0.35 mm off each other, and its head has 0.3 mm to either side"
    )
    assert "its head has 0 mm to either side" in found[1].message and starts(found[0]) == (1, [5])
    assert [" more like it" in item.message for item in found] == [True, False, False]
    assert len(splits(split("pin.a", 0.3), split("bolt.a", 0.3))) == 2  # another set
    assert "is cut from the topside of `deck`" in splits(split("pin.a", 0.3, through=False))[0].message


@pytest.mark.parametrize(
    ("given", "ways"),
    [
        # Twice what is lacking, across; and half the room less the dowels' 0.05 for the machine.
        ({"guide": True}, "an insert driven from the underside, or `datum topside`, cuts both from one face; a guide clearance 0.1 mm larger"),
        ({}, "`datum topside` cuts both from one face"), ({"kind": "gear"}, "ease the recess by 0.1 mm across, by hand"),
    ],
)  # fmt: skip
def test_ways_out_of_two_faces(given: dict[str, Any], ways: str) -> None:
    assert split_between_faces._remedy(split("a", 0.3, **given), "mm") == f"{ways}; a hole position of +/- 0.12 mm or better"
    tight = split_between_faces._remedy(split("a", 0.149, 0.199, **given), "mm")
    assert tight == ways and split_between_faces._remedy(split("a", 0.1501, 0.2001, **given), "mm").endswith("+/- 0.05 mm or better")


def strike(part: str, radial: float | None, axial: float | None = None, cutout: Any = None, board: str = "skirt") -> Any:
    solid = Solid("gear", part, part, 0.0, 0.0, 10.0, 0.0, 5.0)
    return named(board=board, cutout=cutout, solid=solid, radial_mm=radial, axial_mm=axial)


def struck(*items: Any) -> list[Any]:
    names = ("hub", "a", "b", "c")
    design: Any = named(
        units="mm", origin=at(0), gears=tuple(named(name=ref(name, k + 1)) for k, name in enumerate(names)), boards=(named(name=ref("skirt", 9)),), feet=(),
        pivots=(), drives=(), magnets=(),
    )  # fmt: skip
    levels = (named(board=named(name=ref("deck")), thickness=Band(9.0, 8.0, 10.0)), named(board=named(name=ref("skirt")), thickness=Band(18.0, 17.0, 19.0)))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(strikes_board_below, "strikes", lambda design, derived: items)
        patch.setattr(strikes_board_below, "strike_words", lambda worst, thin, unit: (f"{worst.solid.part} strikes {thin:g}", unit))
        return list(strikes_board_below.check(design, named(boards=levels, feet=(), climbers=(), pivots=(), drives=())))


def test_what_strikes_a_board_below() -> None:
    room = named(feature=named(title="pocket room", origin=at(7)))
    bare = named(feature=named(title="opening", origin=None))
    found = struck(
        strike("hub", 0.5, cutout=room), strike("a", -0.2, cutout=room), strike("b", None, 0.3, room), strike("c", 0.1, cutout=room),
        strike("hub", None, -1.0, room), strike("a", None, 0.0), strike("b", None, None), strike("c", 0.2, cutout=bare),
    )  # fmt: skip
    assert [item.message for item in found] == [
        "a strikes 17; so do `hub` and `c`", "hub strikes 17; so do `b`", "a strikes 17; so do `b`", "c strikes 17",
    ]  # fmt: skip
    assert [starts(item) for item in found] == [(2, [7]), (1, [7]), (2, [9]), (4, [9])]
    assert [item.related[0].message for item in found] == ["pocket room", "pocket room", "`skirt` is declared here", "opening"]
    assert found[0].parts == ("hub", "a", "c", "skirt")
    # Where no depth is known, it counts as one that just touches.
    assert [struck(strike("a", None, deep), strike("b", None, None))[0].message[:1] for deep in (0.5, -0.5)] == ["b", "a"]


def keeper(foot: str, *, places: tuple[Any, ...] = (), lacking: str = "", faults: tuple[Any, ...] = (), form: str = "hexagon", count: int | None = 2) -> Any:
    screw = named(thread=named(designation="M4"), head=named(form=form))
    stated = named(count=count, origin=at(4), places=tuple(named(origin=at(50 + k)) for k in range(6)))
    return named(
        id=f"{foot}.keeper", foot=foot, gear="hub", board="deck", places=places, lacking=lacking, faults=faults, screw=screw, screws=stated, tip_mm=66.0,
        stand_off=named(diameter=length(8)), recess_diameter_mm=11.0, keeper=named(origin=at(6)),
    )  # fmt: skip


def kept(*items: Any, hanging: tuple[str, ...] = ("c.a", "c.b", "d.a"), units: str = "mm") -> list[Any]:
    design: Any = named(units=units, origin=at(0), gears=(named(name=ref("hub", 2)),), boards=(), feet=(), pivots=(), drives=(), magnets=())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(no_room_for_keeper_screws, "stand_offs", lambda design, derived: [named(foot=name, opposite=True) for name in hanging])
        return list(no_room_for_keeper_screws.check(design, named(keepers=items, feet=(), climbers=(), pivots=(), drives=())))


def test_keepers_on_which_no_screw_finds_a_place() -> None:
    """Beside tips of 66: 1 of gap, half the stand-off of 8, half the recess of 11 and 2 of wood, so 2 · (66 + 12.5) across; 11 + 4 wide."""
    bare = keeper("c.x"), keeper("c.a", places=((0.0, 0.0),)), keeper("c.a"), keeper("c.b"), keeper("d.a", lacking="the drive", count=None)
    found = kept(*bare)
    assert [(item.parts, starts(item)) for item in found] == [(("c.a", "c.b"), (4, [2])), (("d.a",), (4, [2]))]
    assert found[0].message == "the keeper of `c.a` has no room for its 2 screws, M4 with a stand-off 8 mm outside, beside the teeth of `hub`"
    assert found[0].remedy == "an outline of 157 mm or more one way and 15 mm or more the other, under the board at both ends"
    assert found[1].message == "the keeper of `d.a` has no room for its screws, M4 with a stand-off 8 mm outside, clear of the drive"
    # 157 mm are 6.181 in and 15 mm 0.591 in: to the next twentieth.
    assert kept(keeper("c.a"), units="in")[0].remedy.startswith("an outline of 6.2 in or more one way and 0.6 in or more the other")
    assert [item.parts for item in kept(keeper("c.a"), keeper("d.a"))] == [("c.a",), ("d.a",)]
    assert found[1].remedy == "turn the outline, so that its corners stand clear, or make it longer" and not kept()


def test_stated_places_of_a_keepers_screws() -> None:
    one: Any = {"places": ((0.0, 0.0),)}
    faults = (("", 0.0), ("teeth", 0.43), ("edge", 0.5), ("board", 1.5), ("the insert", 0.0), ("the teeth of `x`", 1.0))
    found = kept(keeper("c.a", faults=faults, **one), keeper("c.b", faults=faults[:2], **one), keeper("d.a", faults=(("edge", 0.5),), form="pan", **one))
    assert [item.message for item in found] == [
        "the stand-off 2 of the keeper of `c.a` stands 0.57 mm off the teeth of `hub`; at least 1 mm is required",
        "the stand-off 3 of the keeper of `c.a` leaves 1.5 mm of wood round its screw's head; at least 2 mm is required",
        "the stand-off 4 of the keeper of `c.a` stands 3.5 mm inside the edge of `deck`; at least 5 mm is required",
        "the stand-off 5 of the keeper of `c.a` stands in the way of the insert",
    ]
    assert [item.remedy for item in found[:3]] == ["0.5 mm further out", "0.5 mm further in", "1.5 mm further in"]
    assert [item.parts for item in found[:2]] == [("c.a", "c.b"), ("c.a",)] and [start(item.span) for item in found[:3]] == [51, 52, 53]
    # 0.43 mm are 0.0169 in: to the next five thousandths.
    assert kept(keeper("c.a", faults=(("teeth", 0.43),), **one), units="in")[0].remedy == "0.02 in further out"
    first = kept(keeper("c.a", faults=(("teeth", 0.4),), **one), keeper("d.a", faults=(("teeth", 0.4),), **one))
    assert [item.message[:35] for item in first] == [f"the stand-off 1 of the keeper of `{name}" for name in "cd"] and start(first[0].span) == 50
