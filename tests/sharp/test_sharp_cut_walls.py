"""Cuts with the statements behind them, and the wood between those that lie near each other or back to back. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs_feet import INSERT, TEE

from trivet.checks import _cuts, _insert_walls, _narrow, _opposite, _wall_remedy
from trivet.model.base import Band, Ref
from trivet.solve.contour_shapes import rectangle
from trivet.solve.feature import Feature, Label, Round
from trivet.solve.part_features import PartFeatures
from trivet.source import SourceFile, Span

FILE = SourceFile("f.trivet", "x" * 100)
THICK = Band(18.0, 17.0, 19.0)
EDGE = rectangle(0.0, 0.0, 200.0, 100.0)


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def at(start: int) -> Span:
    return Span(FILE, start, start + 1)


def feature(shape: Any, title: str = "hole x, 6 mm", depth: float | None = None, face: Any = "topside", kind: Any = "bore", **facts: Any) -> Feature:
    return Feature(kind, face, depth, shape, title, "", **facts)


def part(name: str, *features: Feature, kind: Any = "board", layer: int = 0, whole: str = "") -> PartFeatures:
    return PartFeatures(name, kind, named(), THICK, "topside", EDGE, "edge", "", 4.0, features, layer=layer, belongs_to=whole)


def test_cuts_and_what_they_were_stated_as(monkeypatch: pytest.MonkeyPatch) -> None:
    deck = named(name=Ref("deck", at(1)), x_mm=100.0, y_mm=50.0)
    pin, axle = (named(name=Ref(name, at(start)), drill=drill) for name, start, drill in (("pin", 10, 5.0), ("axle", 11, None)))

    def state(name: str, x: float, on: str | None, foot: str = "") -> Any:
        gear = named(name=Ref(name, at(12)), turns_on=None if on is None else Ref(on), under=Ref("deck"))
        return named(id=name, gear=gear, x_mm=x, y_mm=60.0, foot_id=foot)

    states = (state("hub", 100.0, None), state("west", 110.0, "pin"), state("east", 120.0, "axle"), state("nw", 130.0, None, "corner.nw"))

    def spots(*places: tuple[str, float]) -> Any:
        return tuple(named(id=name, x_mm=x, y_mm=60.0) for name, x in places)

    holes = (
        named(name=Ref("dog", at(13)), into=Ref("deck"), drill_mm=None, places=spots(("dog.1", 130.0), ("dog.2", 140.0))),
        named(name=Ref("peg", at(14)), into=Ref("deck"), drill_mm=3.0, places=spots(("peg", 150.0))),
    )
    magnets = (named(name=Ref("m", at(15)), into=Ref("deck"), places=spots(("m.1", 160.0))),)
    dowels = (named(name=Ref("dowel", at(16)), into=(("base", 0), ("deck", 1)), places=spots(("dowel.1", 170.0), ("dowel.2", 180.0))),)
    gears = (
        named(name=Ref("hub", at(2)), bore=named(origin=at(20))), named(name=Ref("west", at(3)), bore=named(origin=None)),
        named(name=Ref("east", at(4)), bore=None),
    )  # fmt: skip
    design: Any = named(
        boards=(deck,), gears=gears, pivots=(pin, axle), holes=holes, magnets=magnets, dowels=dowels, origin=at(0),
        pockets=(named(name=Ref("tray", at(5))),), engravings=(named(name=Ref("word", at(6))),),
    )  # fmt: skip

    def round_at(x: float, title: str, **facts: Any) -> Feature:
        return feature(Round(x - 100.0, 60.0 - 50.0, 6.0), title, **facts)

    found_on_deck = (
        round_at(110.0, "pilot hole pin.west, 5 mm"), round_at(120.0, "hole axle.east"), round_at(130.0, "insert hole corner.nw, 13 mm"),
        round_at(130.0, "hole dog.1, 6 mm"), round_at(130.0, "guide bore of something"), round_at(140.0, "hole dog.2"), round_at(150.0, "hole peg"),
        round_at(160.0, "hole m.1"), round_at(180.0, "hole dowel.2"), round_at(100.0, "nothing here", origin=at(30)), round_at(105.0, "bare", by_hand=True),
        feature(rectangle(10.0, 10.0, 5.0, 5.0), "pocket tray.1, 7 mm", kind="pocket", origin=at(5)),
        feature(Label(0.0, 0.0, "A", 8.0, 0.0), "text word, 8 mm", kind="engrave", origin=at(6)),
        feature(rectangle(10.0, 10.0, 5.0, 5.0), "opening", kind="opening"),
    )  # fmt: skip
    bore, recess = feature(Round(0.0, 0.0, 8.0), "bore"), feature(Round(0.0, 0.0, 20.0), "recess", kind="counterbore")
    parts = (
        part("deck.1", *found_on_deck, layer=1, whole="deck"), part("hub", bore, recess, kind="gear"), part("west", bore, kind="gear"),
        part("east", bore, kind="gear"), part("corner.keeper", bore, kind="keeper"),
    )  # fmt: skip
    monkeypatch.setattr(_cuts, "part_features", lambda design, derived: parts)
    cuts = list(_cuts.cuts_of(design, named(train=named(gears=states))))
    told = [(cut.names, cut.span.start if cut.span else None, cut.drilled) for cut in cuts]
    assert told == [
        (("pin.west", "pin", "deck"), 10, True), (("axle.east", "axle", "deck"), 11, False), (("corner.nw", "corner", "deck"), 12, False),
        (("dog.1", "dog", "deck"), 13, False), (("corner.nw", "corner", "deck"), 12, False), (("dog.2", "dog", "deck"), 13, False),
        (("peg", "deck"), 14, True), (("m.1", "m", "deck"), 15, False), (("dowel.2", "dowel", "deck"), 16, False), (("deck",), 30, False),
        (("deck",), 1, True), (("tray.1", "tray", "deck"), 5, False), (("word", "deck"), 6, False), (("deck",), 1, False),
        (("hub",), 20, False), (("hub",), 2, False), (("west",), 3, False), (("east",), 4, False), (("corner.keeper",), 0, False),
    ]  # fmt: skip
    assert (cuts[0].whole, cuts[0].title, cuts[-1].whole, cuts[-1].title) == ("deck", "pilot hole pin.west", "corner.keeper", "bore")
    assert [_cuts.quoted(title) for title in ("hole dog.2.1", "recess for a nut of `x`", "bore")] == ["hole `dog.2.1`", "recess for a nut of ``x``", "bore"]
    design.spacers, design.feet = (named(name=Ref("ring", at(7))),), (named(name=Ref("corner", at(8))),)
    assert _cuts.part_places(design) == {"deck": at(1), "hub": at(2), "west": at(3), "east": at(4), "ring": at(7), "corner": at(8)}


def cut(
    of: PartFeatures, shape: Any, depth: float | None = None, face: Any = "topside", *, kind: Any = "bore", start: int = 40, drilled: bool = False,
    cutter: float = 4.0, names: tuple[str, ...] = ("x", "deck"),
) -> _cuts.Cut:  # fmt: skip
    return _cuts.Cut(of, feature(shape, f"hole {names[0]}, 6 mm", depth, face, kind, cutter_diameter_mm=cutter), names, at(start), drilled)


DECK, HUB = part("deck"), part("hub", kind="gear")


def test_round_cuts_narrower_than_their_cutter(monkeypatch: pytest.MonkeyPatch) -> None:
    small, layer = Round(9.0, 9.0, 3.0), part("deck.1", layer=1, whole="deck")
    cuts = (
        cut(DECK, rectangle(0.0, 0.0, 1.0, 1.0)), cut(DECK, small, drilled=True), cut(part("aid", kind="helper"), small), cut(DECK, Round(9.0, 9.0, 4.0)),
        cut(DECK, Round(9.0, 9.0, 4.0 - 5e-7)), cut(DECK, small, start=41), cut(layer, small, start=41), cut(DECK, small, start=42),
        cut(HUB, small, start=43), cut(part("west", kind="gear"), small, start=44), cut(HUB, small, kind="pocket"), cut(DECK, Round(9.0, 9.0, 3.5), start=41),
        cut(DECK, small, start=41, cutter=6.0), _cuts.Cut(DECK, feature(small, cutter_diameter_mm=4.0), (), None, False),
    )  # fmt: skip
    monkeypatch.setattr(_narrow, "cuts_of", lambda design, derived: cuts)
    found = list(_narrow.narrow_rounds(named(boards=(named(name=Ref("deck")),)), named()))
    assert [item for _, item in found] == list(cuts[5:])
    keys = [key for key, _ in found]
    # Alike are the layer's and the deck's of one statement, and bores of gears.
    assert keys[0] == keys[1] and keys[3] == keys[4] and len(set(keys)) == 7


def pairs(monkeypatch: pytest.MonkeyPatch, *cuts: _cuts.Cut, least: float = 3.0) -> list[tuple[float, float, float]]:
    """Depths of the upper and of the lower cut, and the wood between, 17 to 19 thick."""
    monkeypatch.setattr(_opposite, "cuts_of", lambda design, derived: cuts)
    found = _opposite.opposite_pairs(named(), named(), least)
    return [(one.feature.depth_mm or 0.0, other.feature.depth_mm or 0.0, wood) for one, other, wood in found]


def test_cuts_back_to_back(monkeypatch: pytest.MonkeyPatch) -> None:
    here, beside = Round(50.0, 50.0, 20.0), Round(80.0, 50.0, 20.0)
    above = cut(DECK, here, 8.0)
    below = [cut(DECK, here, deep, "underside") for deep in (6.0, 6.1, 10.9, 11.0)]
    # 3 at the thinnest is enough; 19 at the thickest is meant to meet.
    assert [pairs(monkeypatch, above, item) for item in below] == [[], [(8.0, 6.1, pytest.approx(2.9))], [(8.0, 10.9, pytest.approx(-1.9))], []]
    assert pairs(monkeypatch, below[1], above) == [(8.0, 6.1, pytest.approx(2.9))] and pairs(monkeypatch, above, below[0], least=3.1) != []
    assert pairs(monkeypatch, above, cut(DECK, here, 9.0)) == [] and pairs(monkeypatch, above, cut(DECK, beside, 9.0, "underside")) == []
    word = cut(DECK, Label(0.0, 0.0, "A", 8.0, 0.0), 9.0, "underside")
    for passed in (cut(DECK, here, None, "underside"), cut(DECK, here, 9.0, "underside", kind="engrave"), word):
        assert pairs(monkeypatch, above, passed) == []
    assert pairs(monkeypatch, cut(HUB, here, 8.0), cut(HUB, here, 9.0, "underside")) == []
    assert pairs(monkeypatch, above, cut(part("base"), here, 9.0, "underside")) == []  # of another board
    # Round cuts that just touch do not lie over one another; corners of boxes do not count.
    touching = [cut(DECK, Round(50.0 + apart, 50.0, 20.0), 9.0, "underside") for apart in (19.9, 20.0)]
    assert [len(pairs(monkeypatch, above, item)) for item in touching] == [1, 0]
    assert pairs(monkeypatch, above, cut(DECK, Round(64.5, 64.5, 20.0), 9.0, "underside")) == []
    slot = cut(DECK, rectangle(45.0, 20.0, 10.0, 60.0), 9.0, "underside")
    assert pairs(monkeypatch, above, slot) == [(8.0, 9.0, 0.0)]
    two = pairs(monkeypatch, cut(DECK, beside, 7.0), above, slot, cut(DECK, beside, 7.5, "underside"), below[2])
    assert two == [(7.0, 7.5, pytest.approx(2.5)), (8.0, 9.0, 0.0), (8.0, 10.9, pytest.approx(-1.9))]


def test_heights_of_cuts() -> None:
    two, one = named(layers=2), named(layers=1)
    hole, upper, lower = feature("", depth=None), feature("", depth=5.0), feature("", depth=5.0, face="underside")
    whole = [_insert_walls.height_of(DECK, one, item, 10.0) for item in (hole, upper, lower)]
    assert whole == [(10.0, 28.0), (23.0, 28.0), (10.0, 15.0)]
    tops, bottoms = ([_insert_walls.height_of(part("d", layer=layer), two, item, 10.0) for item in (hole, upper)] for layer in (1, 2))
    assert (tops, bottoms) == ([(28.0, 46.0), (41.0, 46.0)], [(10.0, 28.0), (23.0, 28.0)])


def board(name: str, stock: str = "ply", **outline: Any) -> Any:
    shape = {"shape": "rectangle", "width_mm": 200.0, "height_mm": 100.0, "corner_radius_mm": 0.0} | outline
    return named(name=Ref(name), stock=Ref(stock), x_mm=1000.0, y_mm=500.0, layers=1, outline=named(**shape))


WORDS = (("ply", None), ("birch", "birch"), ("mdf", "MDF raw"))
SHEETS = tuple(named(name=Ref(name), material=None if word is None else named(text=word)) for name, word in WORDS)
# An insert 16 wide in a hole of 13.5 fills a board of 18 up to 15 from below; a wood screw of 6 fills its hole of 5.
Screwed = tuple[str, float, float]


def near(
    monkeypatch: pytest.MonkeyPatch, *cuts: _cuts.Cut, inserts: tuple[Screwed, ...] = (), screws: tuple[Screwed, ...] = (),
    boards: tuple[Any, ...] = (), hardware: Any = INSERT, fills: tuple[float, float] = (0.0, 15.0),
) -> list[_insert_walls.Near]:  # fmt: skip
    made = boards or (board("deck"),)
    foot = named(insert=named(hardware=hardware), into=made[-1].name)
    feet = tuple(named(id=name, foot=foot, x_mm=1000.0 + x, y_mm=500.0 + y, insert_z_mm=fills) for name, x, y in inserts)
    pivots = [named(name=Ref("pin"), bolt=False, nut=None, thread=named(major_mm=6.0)), named(name=Ref("axle"), bolt=True, nut=None, thread=None)]
    pivots.append(named(name=Ref("rod"), bolt=False, nut="nut", thread=None))
    states = tuple(
        named(id=f"g{x:g}", x_mm=1000.0 + x, y_mm=500.0 + y, gear=named(turns_on=Ref(name) if name else None, under=made[-1].name)) for name, x, y in screws
    )
    monkeypatch.setattr(_insert_walls, "cuts_of", lambda design, derived: cuts)
    bare = named(id="bare.nw", foot=named(insert=None))
    derived: Any = named(
        feet=(bare, *feet[:1]), climbers=feet[1:], train=named(gears=states), boards=tuple(named(board=item, z_under_mm=0.0) for item in made)
    )
    return list(_insert_walls.near_inserts(named(sheets=SHEETS, pivots=tuple(pivots)), derived))


def held(x: float, y: float, size: float = 13.5, name: str = "corner.nw", of: PartFeatures = DECK, **facts: Any) -> _cuts.Cut:
    return cut(of, Round(x, y, size), names=(name, name.partition(".")[0], "deck"), **facts)


def test_wood_to_an_edge(monkeypatch: pytest.MonkeyPatch) -> None:
    # 16 of wood is wanted: the axis stands 22.75 from the edge.
    for x, y, wood in ((22.7, 50.0, 15.95), (50.0, 22.0, 15.25), (178.0, 50.0, 15.25), (50.0, 78.0, 15.25)):
        (found,) = near(monkeypatch, held(x, y), inserts=(("corner.nw", x, y),))
        assert (found.wood_mm, found.outside_mm, found.mdf_mm, found.wanted_mm) == (pytest.approx(wood), 16.0, 0.0, 16.0)
        assert (found.id, found.set_name, found.what, found.other) == ("corner.nw", "corner", "the insert of `corner.nw`", "the edge of `deck`")
        assert (found.to_edge, found.names, found.span, found.other_span) == (True, ("corner.nw", "corner", "deck"), at(40), None)
    assert near(monkeypatch, held(22.75, 50.0), inserts=(("corner.nw", 22.75, 50.0),)) == []
    (tee,) = near(monkeypatch, held(14.0, 50.0, 10.0), inserts=(("corner.nw", 14.0, 50.0),), hardware=TEE)
    # A tee nut counts by its barrel of 10.
    assert (tee.what, tee.outside_mm, tee.wood_mm) == ("the tee nut of `corner.nw`", 10.0, pytest.approx(9.0))
    screw = (held(8.0, 50.0, 5.0, "pin.g8"),)
    (found,) = near(monkeypatch, *screw, screws=(("", 8.0, 20.0), ("axle", 8.0, 50.0), ("rod", 8.0, 50.0), ("pin", 8.0, 50.0)))
    assert (found.id, found.what, found.wood_mm, found.outside_mm) == ("pin.g8", "the screw of `pin.g8`", pytest.approx(5.5), 6.0)
    assert near(monkeypatch, *screw, screws=(("axle", 8.0, 50.0), ("rod", 8.0, 50.0))) == []
    # Other holes at the place hold nothing: a guide bore, a recess, another's; nor does a hole where nothing is screwed in.
    for other in (held(8.0, 50.0, 13.0), held(8.0, 50.0, kind="counterbore"), held(9.0, 50.0), cut(DECK, rectangle(1.0, 43.0, 14.0, 14.0))):
        assert near(monkeypatch, other, inserts=(("corner.nw", 8.0, 50.0),)) == []
    assert near(monkeypatch, held(8.0, 50.0), inserts=(("corner.nw", 8.0, 50.0),), fills=(18.0, 30.0)) == []
    both = near(monkeypatch, held(100.0, 50.0), held(20.0, 50.0, name="corner.ne"), inserts=(("corner.nw", 100.0, 50.0), ("corner.ne", 20.0, 50.0)))
    assert [item.id for item in both] == ["corner.ne"]
    # A board in which nothing is screwed stands before it.
    boards = (board("base"), board("deck"))
    other = cut(part("base"), Round(20.0, 50.0, 6.0), names=("y", "base"))
    after = near(monkeypatch, other, held(20.0, 50.0), inserts=(("corner.nw", 20.0, 50.0),), boards=boards)
    assert [item.id for item in after] == ["corner.nw"]


def test_wood_in_mdf(monkeypatch: pytest.MonkeyPatch) -> None:
    def found(x: float, y: float, stock: str = "mdf", size: float = 5.0, **outline: Any) -> list[tuple[str, float, float]]:
        made = near(monkeypatch, held(x, y, size, "pin.g"), screws=(("pin", x, y),), boards=(board("deck", stock, **outline),))
        return [(item.other, pytest.approx(item.wood_mm), item.wanted_mm) for item in made]

    # 12 to an edge, whatever the screw; 25 to a corner.
    assert found(14.4, 50.0) == [("the edge of `deck`", 11.9, 12.0)] and found(14.6, 50.0) == []
    assert found(14.4, 50.0, "birch") == found(14.4, 50.0, "ply") == []
    corner = ("a corner of `deck`", math.hypot(16.0, 18.0) - 2.5, 25.0)
    for x, y in ((16.0, 18.0), (184.0, 18.0), (16.0, 82.0), (184.0, 82.0)):
        assert found(x, y) == [corner] and found(x, y, "ply") == []
    # 27.5 from the corner itself: 19.4 each way; a rounding's middle is nearer by r (1 - 1/sqrt 2) each way.
    assert len(found(19.4, 19.4)) == 1 and found(19.5, 19.5) == [] and found(16.0, 18.0, shape="circle") == []
    inset = 10.0 * (1.0 - math.sqrt(0.5))
    assert found(16.0, 18.0, corner_radius_mm=10.0) == [("a corner of `deck`", math.hypot(16.0 - inset, 18.0 - inset) - 2.5, 25.0)]
    assert found(184.0, 82.0, corner_radius_mm=10.0) == found(16.0, 18.0, corner_radius_mm=10.0)
    # 16.5 and 22 are 27.5 from the corner.
    assert found(16.5, 22.0) == [] and len(found(16.5, 21.99)) == 1
    assert len(found(16.0, 18.0, corner_radius_mm=25.0)) == 1 and found(16.0, 18.0, corner_radius_mm=25.1) == []


def test_wood_to_other_cuts(monkeypatch: pytest.MonkeyPatch) -> None:
    def found(*others: _cuts.Cut, fills: tuple[float, float] = (0.0, 15.0)) -> list[tuple[str, float]]:
        made = near(monkeypatch, held(60.0, 50.0), *others, inserts=(("corner.nw", 60.0, 50.0),), fills=fills)
        return [(item.other, pytest.approx(item.wood_mm)) for item in made]

    def dog(apart: float, depth: float | None = None, face: Any = "topside", name: str = "dog.1") -> _cuts.Cut:
        return cut(DECK, Round(60.0 + apart, 50.0, 20.0), depth, face, names=(name, "dog", "deck"), start=60)

    # 6.75 and 10: 32.75 apart for 16.
    assert found(dog(32.7)) == [("the hole `dog.1`", 15.95)] and found(dog(32.75)) == [] and found(dog(-32.7)) == [("the hole `dog.1`", 15.95)]
    # 32.75 aslant, along 3, 4 and 5.
    assert found(cut(DECK, Round(60.0 + 19.65, 50.0 + 26.2, 20.0), names=("dog.1", "dog", "deck"))) == []
    (whole,) = near(monkeypatch, held(60.0, 50.0), dog(30.0), inserts=(("corner.nw", 60.0, 50.0),))
    assert whole.names == ("corner.nw", "corner", "dog.1", "dog", "deck")
    assert (whole.span, whole.other_span, whole.to_edge, whole.wanted_mm, whole.mdf_mm) == (at(40), at(60), False, 16.0, 0.0)
    # The insert ends 3 under the topside, and a hole that is not through lies beside it only from there.
    assert found(dog(30.0, 3.0)) == [] and len(found(dog(30.0, 3.1))) == 1 and len(found(dog(30.0, 1.0, "underside"))) == 1
    assert found(dog(30.0, 4.0, "underside"), fills=(4.0, 20.0)) == [] and len(found(dog(30.0, 4.1, "underside"), fills=(4.0, 20.0))) == 1
    three = found(dog(50.0), dog(30.0, 1.0), dog(30.0, None, "topside", "dog.3"), cut(DECK, Round(60.0, 81.0, 20.0), names=("dog.4", "dog", "deck")))
    assert dict(three) == {"the hole `dog.3`": 13.25, "the hole `dog.4`": 14.25}
    assert found(cut(DECK, rectangle(40.0, 80.0, 60.0, 5.0), names=("slot", "deck"))) == []  # 23.25 away
    assert found(cut(DECK, rectangle(40.0, 71.0, 60.0, 5.0), names=("slot", "deck"))) == [("the hole `slot`", 14.25)]
    # Of another board, of a gear, and what is engraved does not count.
    other = board("base")
    apart = (cut(part("base"), Round(90.0, 50.0, 20.0), names=("y", "base")), cut(HUB, Round(90.0, 50.0, 20.0)), cut(DECK, Label(80.0, 50.0, "A", 8.0, 0.0)))
    assert near(monkeypatch, held(60.0, 50.0), *apart, inserts=(("corner.nw", 60.0, 50.0),), boards=(other, board("deck"))) == []


def test_a_pocket_beside_a_hole_goes_straight_away_from_it() -> None:
    """The hole stands before the middle of the upper side, nearer to it than to any corner of the pocket: the way out is down."""
    pocket = rectangle(0.0, 0.0, 40.0, 20.0)
    x0, _, x1, y1 = pocket.bounds
    hole = Round((x0 + x1) / 2.0 + 3.0, y1 + 4.0, 6.0)
    assert _wall_remedy._away(pocket, hole, ()) == pytest.approx((0.0, -1.0))
