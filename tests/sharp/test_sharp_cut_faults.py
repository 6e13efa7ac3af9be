"""What is said of cuts into fasteners, and of outlines that are faulty or cut twice: each sum is written out. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.sharp.check_samples import at, of, ref, run

from trivet.checks import cut_into_fastener, faulty_contour
from trivet.diagnostics import Diagnostic
from trivet.model.base import Band
from trivet.solve.contour import Contour, Vertex
from trivet.solve.contour_shapes import circle, polygon
from trivet.solve.contour_shapes import rectangle as from_corner
from trivet.solve.feature import Round

BOARD = of(part="deck", layer=0, thickness=Band(18.0, 17.0, 19.0))
LID = of(part="lid", layer=0, thickness=Band(18.0, 17.0, 19.0))


def cut(title: str, shape: Any, depth: float | None = None, face: str = "topside", part: Any = BOARD, start: int = 40, names: str = "") -> Any:
    """A cut; its title ends with its name, which it is accepted by besides its set and its part."""
    name = title.rpartition(" ")[2]
    feature = of(shape=shape, depth_mm=depth, face=face, title=f"{title}, 5 mm deep")
    held = tuple(names.split()) if names else (name, name.partition(".")[0])
    return of(part=part, whole=part.part, feature=feature, title=title, names=(*held, part.part), span=at(start))


def into(monkeypatch: pytest.MonkeyPatch, *cuts: Any, feet: Any = (), climbers: Any = (), units: str = "mm") -> list[Diagnostic]:
    monkeypatch.setattr(cut_into_fastener, "cuts_of", lambda design, derived: cuts)
    stated = {key: tuple(of(name=ref(name)) for name in names.split()) for key, names in STATED.items()}
    boards = tuple(of(board=of(name=ref(name), layers=1), z_under_mm=under) for name, under in (("deck", 0.0), ("lid", 60.0)))
    return run(cut_into_fastener, (of(units=units, **stated), of(boards=boards, feet=feet, climbers=climbers)))


def rectangle(x: float, y: float, wide: float, high: float, radius: float = 0.0) -> Contour:
    """About its middle."""
    return from_corner(x - wide / 2.0, y - high / 2.0, wide, high, radius)


STATED = {"holes": "dog", "pockets": "tray", "magnets": "mag", "dowels": "peg"}
BORE = cut("hole pin.a", Round(100.0, 50.0, 10.0), start=50)


@pytest.mark.parametrize(
    ("shape", "meets"),
    [
        (Round(113.0, 50.0, 16.1), True),  # 8.05 and 5 reach over 13
        (Round(113.0, 50.0, 16.0), False),
        (Round(100.0, 37.0, 16.1), True),
        (Round(105.0, 62.0, 16.1), True),  # 5, 12, 13
        (Round(105.0, 62.0, 15.9), False),
        (Round(100.0, 50.0, 16.0), False),  # about one centre
        (Round(100.009, 50.0, 16.0), False),
        (Round(100.02, 50.0, 16.0), True),
        (rectangle(115.0, 50.0, 20.2, 20.0), True),
        (rectangle(115.0, 50.0, 19.8, 20.0), False),
        (rectangle(100.0, 50.0, 60.0, 60.0), True),  # all of the bore lies within
        (rectangle(109.0, 59.0, 10.6, 10.6), False),  # a corner 3.7 off both ways, 5.23 in all
        (rectangle(109.0, 59.0, 11.4, 11.4), True),  # 3.3 and 4.67
    ],
)
def test_which_cuts_meet(monkeypatch: pytest.MonkeyPatch, shape: Any, meets: bool) -> None:
    own = cut("pocket tray.1", shape)
    found = into(monkeypatch, BORE, own)
    assert len(found) == meets and len(into(monkeypatch, own, BORE)) == meets
    for item in found:
        assert item.message == "the pocket `tray.1` runs into the hole `pin.a`: none of its wood may be cut away" and item.remedy == "move it clear of it"
        assert item.span == at(40) and item.parts == ("tray.1", "tray", "pin.a", "pin", "deck")
        assert [(label.message, label.span) for label in item.related] == [("the hole `pin.a`", at(50))]


@pytest.mark.parametrize("angle", range(0, 360, 24))
def test_a_round_pocket_meets_where_its_arc_does(monkeypatch: pytest.MonkeyPatch, angle: int) -> None:
    """A pocket of 20 of radius about (100, 50) and a hole of 5: they meet within 25."""
    turn = math.radians(angle + 7.0)
    for apart, meets in ((24.9, True), (25.1, False)):
        hole = cut("hole pin.a", Round(100.0 + apart * math.cos(turn), 50.0 + apart * math.sin(turn), 10.0))
        assert bool(into(monkeypatch, hole, cut("pocket tray.1", circle(100.0, 50.0, 20.0)))) == meets


def test_cuts_that_are_compared(monkeypatch: pytest.MonkeyPatch) -> None:
    near = Round(104.0, 50.0, 10.0)
    for name in ("dog.1", "tray.2", "mag.3", "peg.4", "dog"):
        assert len(into(monkeypatch, BORE, cut(f"hole {name}", near))) == 1
    # What is stated is known by its names or its title; two of that kind, two fasteners, or two boards are not compared.
    assert len(into(monkeypatch, BORE, cut("hole of dog.1", near, names="other"))) == 1
    assert len(into(monkeypatch, BORE, cut("hole x.1", near, names="x dog.2"))) == 1
    assert not into(monkeypatch, BORE, cut("hole x.1", near, names="x")) and not into(monkeypatch, BORE, cut("hole doggy.1", near, names="x"))[1:]
    assert not into(monkeypatch, cut("hole dog.1", near), cut("hole dog.2", Round(101.0, 50.0, 10.0)))
    assert not into(monkeypatch, BORE, cut("hole dog.1", near, part=LID)) and not into(monkeypatch, cut("bore x", near), BORE)
    gear = of(part="west", layer=0, thickness=BOARD.thickness)
    assert not into(monkeypatch, cut("bore pin.a", Round(100.0, 50.0, 10.0), part=gear), cut("hole dog.1", near, part=gear))
    other = cut("engraved word", of(points=()))
    assert len(into(monkeypatch, other, cut("hole dog.9", Round(900.0, 50.0, 5.0)), BORE, cut("hole dog.1", near))) == 1
    # A pocket of a fastener is no round hole of it.
    assert not into(monkeypatch, cut("recess pin.a", rectangle(100.0, 50.0, 10.0, 10.0)), cut("hole dog.1", near))
    # From opposite faces of 18: 9 and 9 do not meet, 9 and 9.1 do.
    for depth, count in ((9.0, 0), (9.1, 1)):
        assert len(into(monkeypatch, cut("hole pin.a", BORE.feature.shape, 9.0, "underside"), cut("hole dog.1", near, depth))) == count


def test_every_pair_of_cuts_is_one_finding(monkeypatch: pytest.MonkeyPatch) -> None:
    counterbore = cut("recess pin.a", Round(100.0, 50.0, 20.0), 9.0)
    pair = (cut("hole dog.1", Round(104.0, 50.0, 10.0)), cut("hole dog.2", Round(96.0, 50.0, 10.0), start=41))
    found = into(monkeypatch, counterbore, BORE, *pair)
    assert [(item.parts[0], item.parts[2]) for item in found] == [("dog.1", "pin.a"), ("dog.2", "pin.a")]
    second = cut("hole pin.b", Round(110.0, 50.0, 10.0))
    found = into(monkeypatch, cut("hole pin.c", Round(104.0, 50.0, 4.0), names="pin.c pin"), BORE, second, pair[0])
    assert [item.parts[2] for item in found] == ["pin.a", "pin.b"]  # not pin.c, about its own centre
    far = (cut("hole dog.1", Round(84.0, 39.0, 10.0)), cut("hole pin.a", Round(79.5, 41.0, 10.0)))  # over squares of 40
    assert len(into(monkeypatch, *far)) == 1
    # Edges at 40.5 and 40.2, on the far side of a square's border at 40.
    for one, two in (("hole pin.a", "hole dog.1"), ("hole dog.1", "hole pin.a")):
        assert len(into(monkeypatch, cut(one, Round(35.5, 20.0, 10.0)), cut(two, Round(45.2, 20.0, 10.0)))) == 1


def foot(name: str = "corner.a", z: Any = (2.0, 17.0), hole: float = 10.0, insert: bool = True) -> Any:
    return of(id=name, insert_z_mm=z, foot=of(insert=of(hardware=of(hole_mm=hole)) if insert else None))


HOLE = cut("hole corner.a", Round(100.0, 50.0, 10.0), start=51)
NEAR = Round(104.0, 50.0, 10.0)


@pytest.mark.parametrize(
    ("depth", "face", "words", "remedy"),
    [
        (1.5, "topside", "", ""),  # 16.5 to 18 with the insert's 2 to 17: half a millimetre
        (1.6, "topside", "opens 0.6 mm of its side; at most 0.5 mm is allowed", "move it clear of it, or a depth of 1 mm or less"),
        (2.5, "underside", "", ""),
        (4.04, "underside", "opens 2.04 mm of its side; at most 0.5 mm is allowed", "move it clear of it, or a depth of 2 mm or less"),
        (17.5, "underside", "opens 15 mm of its side; at most 0.5 mm is allowed", "move it clear of it, or a depth of 2.5 mm or less"),
        (None, "topside", "", "move it clear of it"),
    ],
)
def test_side_of_an_insert_that_a_cut_opens(monkeypatch: pytest.MonkeyPatch, depth: float | None, face: str, words: str, remedy: str) -> None:
    own = cut("hole dog.1", NEAR, depth, face)
    for feet in ({"feet": (foot("x.a"), foot())}, {"climbers": (foot(),)}):
        found = into(monkeypatch, HOLE, own, **feet)
        assert [item.remedy for item in found] == ([remedy] if remedy else [])
        assert not words or found[0].message == f"the hole `dog.1` runs into the hole `corner.a` and {words}"
        assert depth is not None or "none of its wood" in found[0].message


def test_holes_of_feet_that_are_no_insert(monkeypatch: pytest.MonkeyPatch) -> None:
    shallow = cut("hole dog.1", NEAR, 1.0)
    assert not into(monkeypatch, HOLE, shallow, feet=(foot(),))
    second = cut("hole pin.b", Round(108.0, 50.0, 10.0))
    assert [item.parts[2] for item in into(monkeypatch, HOLE, second, shallow, feet=(foot(),))] == ["pin.b"]
    # Without an insert, at no known height, of another size or of another foot all of it counts.
    for other in (foot(insert=False), foot(z=None), foot(hole=10.001), foot("corner.b")):
        (item,) = into(monkeypatch, HOLE, shallow, feet=(other,))
        assert "none of its wood" in item.message
    assert not into(monkeypatch, HOLE, shallow, feet=(foot(hole=10.0 + 1e-7),))
    # An insert that begins where the topside is: a depth that would do is no depth at all.
    high = foot(z=(2.0, 30.0))
    assert into(monkeypatch, HOLE, shallow, feet=(high,))[0].remedy == "move it clear of it"
    for lid, count in ((60.0, 1), (0.0, 0)):  # the lid lies 60 higher
        zone = (lid + 2.0, lid + 17.0)
        pair = (cut("hole corner.a", HOLE.feature.shape, part=LID), cut("hole dog.1", NEAR, 5.0, part=LID))
        assert len(into(monkeypatch, *pair, feet=(foot(z=zone),))) == count


SQUARE = rectangle(50.0, 50.0, 20.0, 20.0)
BOW = polygon(((0.0, 0.0), (40.0, 40.0), (40.0, 0.0), (0.0, 10.0)))  # crosses itself in (8, 8)


def contours(monkeypatch: pytest.MonkeyPatch, *cuts: Any, parts: Any = (), gears: Any = (), units: str = "mm") -> list[Diagnostic]:
    monkeypatch.setattr(faulty_contour, "cuts_of", lambda design, derived: cuts)
    monkeypatch.setattr(faulty_contour, "part_features", lambda design, derived: parts)
    monkeypatch.setattr(faulty_contour, "part_places", lambda design: {"deck": at(3), "foot": at(4)})
    return run(faulty_contour, (of(units=units, origin=at(1)), of(train=of(gears=gears))))


def test_outlines_that_cross_themselves(monkeypatch: pytest.MonkeyPatch) -> None:
    (item,) = contours(monkeypatch, cut("pocket tray.1", SQUARE), cut("pocket tray.2", BOW, 5.0))
    assert item.message == "the pocket `tray.2`, 5 mm deep, crosses or touches itself near (8, 8) mm" and item.span == at(40)
    assert item.parts == ("tray.2", "tray", "deck") and item.remedy.startswith("list its points")
    assert "near (0.315, 0.315) in" in contours(monkeypatch, cut("pocket tray.2", BOW), units="in")[0].message
    (item,) = contours(monkeypatch, cut("pocket tray.2", polygon(((0.0, 0.0), (40.0, 0.0), (20.0, 0.0)))))
    assert item.message == "the pocket `tray.2`, 5 mm deep: the outline encloses no area" and item.remedy.startswith("give the outline points that")


def test_edges_of_parts_are_looked_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    def part(name: str, kind: str = "board", outline: Contour = BOW, whole: str = "") -> Any:
        return of(part=name, belongs_to=whole, kind=kind, outline=outline, outline_title=f"edge {name}")

    gears = tuple(of(id=name, geometry=shape, cutter_diameter_mm=size) for name, shape, size in (("a", 1, 6.0), ("b", 1, 6.0), ("c", 2, 6.0), ("d", 1, 3.0)))
    parts = [part(name, "gear") for name in "abcd"] + [part("deck.layer1", whole="deck"), part("foot.a.keeper"), part("sound", outline=SQUARE), part("x")]
    found = contours(monkeypatch, parts=tuple(parts), gears=gears)
    assert [(item.parts, item.span) for item in found] == [
        (("a",), at(1)), (("c",), at(1)), (("d",), at(1)), (("deck",), at(3)), (("foot.a.keeper",), at(4)), (("x",), at(1)),
    ]  # fmt: skip
    assert found[0].message.startswith("the edge `a`, crosses or touches itself")


def test_one_place_is_not_cut_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    def twice(one: Any, other: Any, *more: Any) -> list[Diagnostic]:
        return contours(monkeypatch, one, other, *more)

    for shape, same, other in (
        (SQUARE, polygon(((60.0, 60.0), (40.0, 60.0), (40.0, 40.0), (60.0, 40.0))), rectangle(50.0, 50.0, 20.0, 20.1)),
        (Round(30.0, 20.0, 8.0), circle(30.0, 20.0, 4.0), Round(30.0, 20.0, 8.004)),
        (circle(30.0, 20.0, 4.0), Round(30.0004, 20.0, 8.0), Round(30.004, 20.0, 8.0)),
        (Round(30.0, 20.0, 8.0), Round(30.0, 20.0004, 8.0004), Round(30.0, 20.004, 8.0)),
    ):
        (item,) = twice(cut("pocket tray.1", shape), cut("hole dog.1", same, start=44))
        assert item.message == "the hole `dog.1` lies on the pocket `tray.1`: the same place would be cut twice" and item.remedy == "leave one of them out"
        assert item.span == at(44) and item.related[0].span == at(40) and item.parts == ("dog.1", "dog", "tray.1", "tray", "deck")
        assert not twice(cut("pocket tray.1", shape), cut("hole dog.1", other))
        assert not twice(cut("pocket tray.1", shape), cut("hole dog.1", same, part=LID))
        assert not twice(cut("pocket tray.1", shape, 5.0), cut("hole dog.1", same, 6.0)) and not twice(cut("pocket t", shape), cut("hole d", same, 6.0))
        assert not twice(cut("pocket tray.1", shape, 5.0), cut("hole dog.1", same, 5.0, "underside"))
        assert twice(cut("pocket tray.1", shape), cut("hole dog.1", same, face="underside"))  # both go through
        assert twice(cut("pocket tray.1", shape, 5.0), cut("hole dog.1", same, 5.0))
        found = twice(cut("pocket a", shape), cut("hole dog.2", other), cut("hole b", same))
        assert [item.parts for item in found] == [("b", "b", "a", "a", "deck")]


@pytest.mark.parametrize(
    ("contour", "round_"),
    [
        (circle(30.0, 20.0, 4.0), Round(30.0, 20.0, 8.0)),
        (circle(-30.0, -20.0, 9.0), Round(-30.0, -20.0, 18.0)),
        (Contour(tuple(Vertex(x, y, -1.0) for x, y in ((26.0, 20.0), (34.0, 20.0)))), Round(30.0, 20.0, 8.0)),  # the other way round
        (rectangle(30.0, 20.0, 8.0, 8.0), None),
        (rectangle(30.0, 20.0, 8.0, 8.0, 3.999), None),
        (Contour((Vertex(26.0, 20.0, 0.5), Vertex(34.0, 20.0, 0.5))), None),  # a lens, wider than high
        (Contour((Vertex(0.0, 0.0, 0.3), Vertex(8.0, 0.0, 0.3), Vertex(8.0, 8.0, 0.3), Vertex(0.0, 8.0, 0.3))), None),  # as wide as high
    ],
)
def test_outlines_that_are_circles(contour: Contour, round_: Round | None) -> None:
    found = faulty_contour._circle(contour)
    assert (found is None) == (round_ is None)
    if found is not None and round_ is not None:
        assert (found.x_mm, found.y_mm, found.diameter_mm) == pytest.approx((round_.x_mm, round_.y_mm, round_.diameter_mm))
