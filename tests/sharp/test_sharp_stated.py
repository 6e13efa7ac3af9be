"""What the file states for a board, cut by cut, and where a stated cut lays an insert bare: figures by hand. Lengths mm."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import design, gear, mm
from tests.designs_feet import riding

from trivet.model.base import Band, Ref
from trivet.model.board import Board, Counterbore, Dowel, Engrave, Hole, MagnetPlace, Pocket
from trivet.model.hardware import Magnet
from trivet.model.outline import Outline, Placed
from trivet.model.shop import Cutter
from trivet.solve.bare_inserts import SunkHole, bare_inserts, sunk_holes
from trivet.solve.board_levels import boards_at
from trivet.solve.board_stated import stated_cuts
from trivet.solve.contour import Contour
from trivet.solve.derived import BoardLevel
from trivet.solve.feature import Feature, Label, Round
from trivet.solve.part_context import PartContext
from trivet.solve.train_parts import train_parts
from trivet.source import SourceFile, Span

FILE = SourceFile("f.trivet", "x" * 100)
PLAIN = Outline(shape="rectangle", width_mm=20.0, height_mm=10.0)
DISC = Magnet(diameter_mm=10.0, thickness_mm=3.0)


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def at(start: int) -> Span:
    return Span(FILE, start, start + 1)


def board(name: str, **facts: Any) -> Board:
    outline = Outline(shape="rectangle", width_mm=480.0, height_mm=350.0)
    return Board(**({"name": Ref(name), "stock": Ref("ply"), "cutter": Ref("straight"), "outline": outline} | facts))


LID, DECK = board("lid"), board("deck", datum="topside")


def hole(name: str, into: str = "deck", *places: tuple[float, float], **facts: Any) -> Hole:
    stood = tuple(Placed(f"{name}.{index}", *place) for index, place in enumerate(places or ((30.0, 40.0),), 1))
    return Hole(**({"name": Ref(name), "into": Ref(into), "diameter_mm": 8.0, "because": "diameter 8 mm", "places": stood} | facts))


def context(units: str = "mm", **facts: Any) -> PartContext:
    cutters = (Cutter(name=Ref("thick"), diameter=mm(6), reach=mm(25)), Cutter(name=Ref("vee")), Cutter(name=Ref("straight"), diameter=mm(4), reach=mm(25)))
    made = design((), boards=(LID, DECK), cutters=cutters, units=units, **facts)
    derived: Any = named()
    return PartContext(made, derived, train_parts(made), boards_at(made, 0), {}, {}, {}, {})


def cuts(units: str = "mm", into: Board = DECK, **facts: Any) -> tuple[Feature, ...]:
    return stated_cuts(context(units, **facts), into)


def test_round_holes_of_one_board() -> None:
    sunk = Counterbore(face="underside", diameter_mm=14.0, depth_mm=7.0, for_standard="ISO 4762", origin=at(7))
    plain = Counterbore(face="topside", diameter_mm=16.0, depth_mm=3.0)
    holes = (
        hole("far", "lid"),
        hole("dog", "deck", (10.0, 20.0), (50.0, 60.0), because="dowel 19 mm, slide fit +0.20 mm", fit="slide", diameter_mm=19.2, origin=at(3)),
        hole("pin", because="diameter 8 mm, press fit -0.10 mm", fit="press", drill_mm=3.5, depth=mm(5), face="underside", cutter=Ref("thick")),
        hole("screw", because="clearance hole M6, medium", fit="medium", diameter_mm=6.6, counterbore=sunk),
        hole("last", drill_mm=4.0, counterbore=plain),
    )
    found = cuts(holes=holes)
    assert found == (
        # From the datum face where it goes through, whatever face is stated.
        Feature("bore", "topside", None, Round(10.0, 20.0, 19.2), "hole dog.1, 19.20 mm", "dowel 19 mm, slide fit +0.2 mm", 4.0),
        Feature("bore", "topside", None, Round(50.0, 60.0, 19.2), "hole dog.2, 19.20 mm", "dowel 19 mm, slide fit +0.2 mm", 4.0),
        Feature("bore", "underside", 5.0, Round(30.0, 40.0, 3.5), "hole pin.1, 3.50 mm, drilled", "diameter 8 mm, press fit -0.1 mm; drilled as stated", 6.0),
        Feature("bore", "topside", None, Round(30.0, 40.0, 6.6), "hole screw.1, 6.60 mm", "clearance hole M6, medium", 4.0),
        Feature("counterbore", "underside", 7.0, Round(30.0, 40.0, 14.0), "counterbore of screw.1, 14.00 mm", "counterbore for ISO 4762", 4.0),
        # Exactly as wide as the cutter: it is plunged, not drilled by hand.
        Feature("bore", "topside", None, Round(30.0, 40.0, 4.0), "hole last.1, 4.00 mm", "diameter 8 mm; drilled as stated", 4.0),
        Feature("counterbore", "topside", 3.0, Round(30.0, 40.0, 16.0), "counterbore of last.1, 16.00 mm", "counterbore as stated", 4.0),
    )
    assert (found[0].origin, found[4].origin) == (at(3), at(7))
    (lid,) = cuts(into=LID, holes=holes)
    assert (lid.title, lid.face) == ("hole far.1, 8.00 mm", "underside")


def test_fits_in_inches() -> None:
    slide = hole("dog", because="dowel 3/4 in, slide fit +0.20 mm", fit="slide", diameter_mm=19.25)
    (found,) = cuts("in", holes=(slide,))
    assert (found.title, found.because) == ("hole dog.1, 0.758 in", "dowel 3/4 in, slide fit +0.008 in")


def pocket(name: str, into: str = "deck", *turns: float, **facts: Any) -> Pocket:
    stood = tuple(Placed(f"{name}.{index}", 100.0 * index, 50.0, turn) for index, turn in enumerate(turns or (0.0,), 1))
    return Pocket(**({"name": Ref(name), "into": Ref(into), "face": "underside", "outline": PLAIN, "places": stood} | facts))


def test_pockets_and_openings_of_one_board() -> None:
    relieved = Outline(shape="rectangle", width_mm=20.0, height_mm=10.0, relieved=True)
    pockets = (
        pocket("far", "lid"), pocket("well", "deck", 0.0, 90.0, depth=mm(6), cutter=Ref("thick")), pocket("slot", outline=relieved),
    )  # fmt: skip
    found = cuts(pockets=pockets)
    assert [(item.operation, item.face, item.depth_mm, item.title, item.because, item.cutter_diameter_mm) for item in found] == [
        ("pocket", "underside", 6.0, "pocket well.1, rectangle 20 mm by 10 mm", "as stated; corners as the cutter leaves them", 6.0),
        ("pocket", "underside", 6.0, "pocket well.2, rectangle 20 mm by 10 mm", "as stated; corners as the cutter leaves them", 6.0),
        ("opening", "topside", None, "opening slot.1, rectangle 20 mm by 10 mm", "as stated; corners opened by the cutter so that a square part seats", 4.0),
    ]
    shapes = [item.shape for item in found if isinstance(item.shape, Contour)]
    assert [shape.bounds for shape in shapes[:2]] == [pytest.approx((90.0, 45.0, 110.0, 55.0)), pytest.approx((195.0, 40.0, 205.0, 60.0))]
    # Four corners rounded with 3 lose 9 (4 - pi); corners opened gain.
    assert shapes[0].area_mm2 == pytest.approx(200.0 - 9.0 * (4.0 - 3.141592653589793)) and shapes[2].area_mm2 > 200.0
    assert [item.title for item in cuts(into=LID, pockets=pockets)] == ["opening far.1, rectangle 20 mm by 10 mm"]


def test_magnets_and_dowels_of_one_board() -> None:
    def magnet(name: str, into: str, **facts: Any) -> MagnetPlace:
        given = {"face": "underside", "disc": DISC, "fit": "push", "hole_diameter_mm": 10.05, "hole_depth_mm": 3.2}
        return MagnetPlace(name=Ref(name), into=Ref(into), places=(Placed(f"{name}.1", 5.0, 6.0), Placed(f"{name}.2", 7.0, 8.0)), **(given | facts))

    def dowel(name: str, *into: tuple[str, str]) -> Dowel:
        return Dowel(name=Ref(name), diameter_mm=6.0, into=into, places=(Placed(f"{name}.1", 1.0, 2.0), Placed(f"{name}.2", 3.0, 4.0)))

    found = cuts(
        magnets=(magnet("far", "lid"), magnet("m", "deck", polarity="north"), magnet("n", "deck", face="topside")),
        dowels=(dowel("none", ("lid", "slide")), dowel("d", ("lid", "slide"), ("deck", "press")), dowel("e", ("deck", "slide"), ("lid", "press"))),
    )
    disc = "disc 10 mm by 3 mm, push fit (common practice, no source)"
    press, slide = (f"dowel 6 mm, {words} (common practice, no source)" for words in ("press fit -0.1 mm", "slide fit +0.2 mm"))
    assert found == (
        Feature("pocket", "underside", 3.2, Round(5.0, 6.0, 10.05), "pocket for the magnet m.1, 10.05 mm, north pole showing", disc, 4.0),
        Feature("pocket", "underside", 3.2, Round(7.0, 8.0, 10.05), "pocket for the magnet m.2, 10.05 mm, north pole showing", disc, 4.0),
        Feature("pocket", "topside", 3.2, Round(5.0, 6.0, 10.05), "pocket for the magnet n.1, 10.05 mm", disc, 4.0),
        Feature("pocket", "topside", 3.2, Round(7.0, 8.0, 10.05), "pocket for the magnet n.2, 10.05 mm", disc, 4.0),
        Feature("bore", "topside", None, Round(1.0, 2.0, 5.9), "hole for the dowel d.1, 5.90 mm", press, 4.0),
        Feature("bore", "topside", None, Round(3.0, 4.0, 5.9), "hole for the dowel d.2, 5.90 mm", press, 4.0),
        Feature("bore", "topside", None, Round(1.0, 2.0, 6.2), "hole for the dowel e.1, 6.20 mm", slide, 4.0),
        Feature("bore", "topside", None, Round(3.0, 4.0, 6.2), "hole for the dowel e.2, 6.20 mm", slide, 4.0),
    )


def test_labels_of_one_board() -> None:
    def label(name: str, into: str, *places: tuple[float, bool]) -> Engrave:
        stood = tuple(Placed(f"{name}.{index}", 9.0, 8.0, turn, mirrored) for index, (turn, mirrored) in enumerate(places, 1))
        given: dict[str, Any] = {"face": "underside", "text": "UP", "height": mm(6), "depth": mm("0.4"), "cutter": Ref("vee")}
        return Engrave(name=Ref(name), into=Ref(into), places=stood, **given)

    found = cuts(engravings=(label("far", "lid", (0.0, False)), label("a", "deck", (120.0, False), (30.0, True), (120.0, True), (-120.0, True), (90.0, True))))
    # A mirrored line reads along the same axis; its letters stand upright.
    turns = (120.0, 30.0, -60.0, 60.0, -90.0)
    assert found == tuple(
        Feature("engrave", "underside", 0.4, Label(9.0, 8.0, "UP", 6.0, turn), f"label a.{index}, capitals 6.00 mm high", "as stated", 0.0)
        for index, turn in enumerate(turns, 1)
    )


def test_everything_round_that_the_file_states() -> None:
    sunk = Counterbore(face="underside", diameter_mm=14.0, depth_mm=7.0, origin=at(7))
    stood = (Placed("m", 5.0, 6.0),)
    magnet = MagnetPlace(name=Ref("m"), into=Ref("lid"), face="underside", disc=DISC, fit="push", hole_diameter_mm=10.0, hole_depth_mm=3.0, places=stood)
    made = design(
        (), boards=(LID, DECK),
        holes=(hole("a", "deck", (1.0, 2.0), (3.0, 4.0), counterbore=sunk, origin=at(1)), hole("b", "lid", depth=mm(5))),
        magnets=(magnet,),
        dowels=(Dowel(name=Ref("d"), diameter_mm=6.0, into=(("lid", "press"), ("deck", "slide")), places=(Placed("d", 7.0, 8.0),)),),
    )  # fmt: skip
    assert list(sunk_holes(made)) == [
        SunkHole("a.1", "deck", 1.0, 2.0, 8.0, "topside", None, at(1)), SunkHole("a.1", "deck", 1.0, 2.0, 14.0, "underside", 7.0, at(7)),
        SunkHole("a.2", "deck", 3.0, 4.0, 8.0, "topside", None, at(1)), SunkHole("a.2", "deck", 3.0, 4.0, 14.0, "underside", 7.0, at(7)),
        SunkHole("b.1", "lid", 30.0, 40.0, 8.0, "topside", 5.0, None), SunkHole("m", "lid", 5.0, 6.0, 10.0, "underside", 3.0, None),
        SunkHole("d", "lid", 7.0, 8.0, 6.0, "topside", None, None), SunkHole("d", "deck", 7.0, 8.0, 6.0, "topside", None, None),
    ]  # fmt: skip


def bare(zone: tuple[float, float] | None, *holes: Hole, at: tuple[float, float] = (30.0, 40.0)) -> list[tuple[str, str, float, float]]:
    """Of feet on a deck of 18 whose underside is 10 up: the insert's hole is 13.5 wide. The first foot is elsewhere, the second has no insert."""
    levels = (BoardLevel(LID, -60.0, Band(12.0, 12.0, 12.0)), BoardLevel(DECK, 10.0, Band(18.0, 17.0, 19.0)))
    foot = riding()
    none = foot.model_copy(update={"insert": None})
    feet = (
        named(id="c.far", foot=foot, x_mm=300.0, y_mm=40.0, insert_z_mm=(10.0, 25.0)), named(id="c.none", foot=none, x_mm=at[0], y_mm=at[1], insert_z_mm=zone),
        named(id="c.lost", foot=foot, x_mm=at[0], y_mm=at[1], insert_z_mm=None), named(id="c.near", foot=foot, x_mm=at[0], y_mm=at[1], insert_z_mm=zone),
    )  # fmt: skip
    made = design((gear("nw", 20, foot=True),), boards=(LID, DECK), holes=holes)
    derived: Any = named(boards=levels, feet=feet)
    return [(item.foot.id, item.hole.id, pytest.approx(item.bare_mm), item.depth_mm) for item in bare_inserts(made, derived)]


def wide(name: str = "w", **facts: Any) -> Hole:
    return hole(name, **({"diameter_mm": 20.0} | facts))


@pytest.mark.parametrize(
    ("facts", "zone", "found"),
    [
        # Deck 10 to 28. The insert from 10 to 25: a cut 6 deep from above reaches down to 22, one from below up to 16.
        ({"depth": mm(6)}, (10.0, 25.0), (3.0, 6.0)), ({"depth": mm(6), "face": "underside"}, (10.0, 25.0), (6.0, 6.0)),
        ({}, (10.0, 25.0), (15.0, 18.0)), ({"face": "underside"}, (12.0, 27.0), (15.0, 18.0)), ({"depth": mm(3)}, (10.0, 25.0), None),
        ({"depth": mm(6), "face": "underside"}, (15.0, 27.0), (1.0, 6.0)), ({"depth": mm(6)}, (24.0, 30.0), (4.0, 6.0)),
        ({"depth": mm(6), "face": "underside"}, (6.0, 12.0), (2.0, 6.0)),
        # No wider than the insert's hole, and a hair wider.
        ({"diameter_mm": 13.51}, (10.0, 25.0), None), ({"diameter_mm": 13.52}, (10.0, 25.0), (15.0, 18.0)),
    ],
)  # fmt: skip
def test_how_much_of_an_insert_is_bare(facts: dict[str, Any], zone: tuple[float, float], found: tuple[float, float] | None) -> None:
    assert bare(zone, wide(**facts)) == ([] if found is None else [("c.near", "w.1", *found)])


def test_inserts_and_cuts_apart_and_together() -> None:
    zone = (10.0, 25.0)
    # The second of two cuts, the first of them narrow; a cut of another board; one aside.
    assert [item[1] for item in bare(zone, hole("n"), wide("w"), wide("v"))] == ["w.1", "v.1"]
    assert bare(zone, wide(into="lid")) == []
    for aside, seen in ((0.009, True), (0.011, False), (0.8, False)):
        assert bool(bare(zone, wide(), at=(30.0 + aside, 40.0))) is seen is bool(bare(zone, wide(), at=(30.0, 40.0 - aside)))
    # Where rounding parts them: 30.5 is rounded to 30, 30.504 to 31.
    for x, y in ((30.504, 40.0), (30.496, 40.0), (30.0, 41.504), (30.0, 41.496)):
        (found,) = bare(zone, hole("w", "deck", (round(x, 1), round(y, 1)), diameter_mm=20.0), at=(x, y))
        assert found[0] == "c.near"
    assert bare(None, wide()) == []
