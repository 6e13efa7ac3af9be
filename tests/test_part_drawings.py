"""The drawings of the parts: nothing lost between model and sheet, the underside turned over, reference layers beside."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from tests.designs import mm
from tests.designs_feet import captured, riding, riser, sliding
from tests.part_samples import EXAMPLES, example

from trivet.drawing.part_sheet import PartSheet
from trivet.drawing.parts import part_sheets, sheets_of
from trivet.drawing.shapes import Circle, Line, Text
from trivet.drawing.shapes import Path as Outline
from trivet.drawing.sheet import Layer
from trivet.emit.dxf import dxf
from trivet.emit.svg import svg
from trivet.model.base import Ref
from trivet.model.board import Engrave, Hole, Pocket
from trivet.model.design import Design
from trivet.model.outline import Outline as Stated
from trivet.model.outline import OutlineVertex, Placed
from trivet.solve.derived import Derived
from trivet.solve.parts import part_features
from trivet.solve.solve import solve

PLACES = (Placed(id="p", x_mm=100.0, y_mm=60.0),)


def _drawn(design: Design) -> dict[str, PartSheet]:
    return {sheet.id: sheet for sheet in part_sheets(design, solve(design))}


def _cut(sheet: PartSheet) -> list[Layer]:
    return [layer for layer in sheet.layers if not layer.reference]


def _named(sheet: PartSheet, name: str) -> Layer:
    return next(layer for layer in sheet.layers if layer.name == name)


def test_layers_of_the_riser_are_named_in_plain_words() -> None:
    sheets = _drawn(riser(riding()))
    assert [layer.name for layer in _cut(sheets["deck.underside"])] == [
        "underside bore 11.5 mm",
        "bore through",
        "outer edge through",
    ]
    assert [layer.name for layer in _cut(sheets["deck.topside"])] == ["topside counterbore 9.0 mm"]
    assert [layer.name for layer in _cut(sheets["nw.underside"])] == [
        "underside pocket 5.8 mm",
        "bore through",
        "outer edge through",
    ]
    assert "nw.topside" not in sheets and (sheets["nw.underside"].part, sheets["nw.underside"].face) == ("nw", "underside")
    for sheet in sheets.values():
        assert {"reference scale square", "reference text"} <= {layer.name for layer in sheet.layers if layer.reference}
        assert any("no cutter offset is applied" in note for note in sheet.notes)
        mirrored = any("already mirrored about the vertical axis" in note for note in sheet.notes)
        assert mirrored == (sheet.face == "underside")


def test_second_face_shows_the_edge_only_to_be_read() -> None:
    sheets = _drawn(riser(riding()))
    topside = sheets["deck.topside"]
    assert all(layer.operation != "outer_edge" for layer in topside.layers)
    assert isinstance(_named(topside, "reference outline").shapes[0], Outline)
    for face in ("deck.topside", "deck.underside"):
        holes = [shape for shape in _named(sheets[face], "reference registration").shapes if isinstance(shape, Circle)]
        assert [hole.cx for hole in holes] == [240, 240], "on the flip axis, so that turning over left to right brings them back"
        above, below = holes[0].cy - 350, -holes[1].cy
        assert abs(above - below) > holes[0].r * 2, "turned over top to bottom, the pins miss the holes"


def test_underside_is_turned_over_left_to_right() -> None:
    sheets = _drawn(riser(riding()))
    # corner.nw's gear stands at 132 + 120 cos 118° from the left seen from above.
    x, y = 132 + 120 * math.cos(math.radians(118)), 175 + 120 * math.sin(math.radians(118))
    found = [shape for shape in _named(sheets["deck.underside"], "bore through").shapes if "corner.nw" in shape.title]
    assert len(found) == 1 and isinstance(found[0], Circle)
    assert (found[0].cx, found[0].cy) == pytest.approx((480 - x, y), abs=1e-4)


def test_a_handed_pocket_and_its_letters() -> None:
    """An L of which the short leg points right seen from above points left in the underside's drawing; letters stay readable."""
    corners = ((0, 0), (40, 0), (40, 10), (10, 10), (10, 60), (0, 60))
    ell = Stated(shape="polygon", width_mm=40, height_mm=60, vertices=tuple(OutlineVertex(x=x, y=y) for x, y in corners))
    pocket = Pocket(name=Ref("p"), into=Ref("deck"), face="underside", outline=ell, depth=mm(5), places=PLACES)
    label = Engrave(
        name=Ref("t"),
        into=Ref("deck"),
        face="underside",
        text="L",
        height=mm(12),
        depth=mm("0.5"),
        cutter=Ref("straight"),
        places=PLACES,
    )
    above = _drawn(riser(riding(), pockets=(pocket.model_copy(update={"face": "topside"}),)))["deck.topside"]
    under = _drawn(riser(riding(), pockets=(pocket,), engravings=(label,)))["deck.underside"]

    def leg(sheet: PartSheet, name: str) -> list[float]:
        shape = _named(sheet, name).shapes[0]
        assert isinstance(shape, Outline)
        return [x for x, y, _ in shape.vertices if y < 30 + 15]

    assert max(leg(above, "topside pocket 5.0 mm")) == pytest.approx(120)
    assert min(leg(under, "underside pocket 5.0 mm")) == pytest.approx(480 - 120)
    letter = _named(under, "underside engrave 0.5 mm").shapes[0]
    assert isinstance(letter, Outline) and not letter.closed
    xs = [x for x, _, _ in letter.vertices]
    # An L: its upright is on the left of its foot, and it stands round the mirrored place.
    assert xs[0] == pytest.approx(min(xs)) and (min(xs) + max(xs)) / 2 == pytest.approx(480 - 100, abs=1e-3)


def test_gear_undersides_mirror_their_phase() -> None:
    design = riser(riding())
    part = next(item for item in part_features(design, solve(design)) if item.part == "nw")
    path = _named(_drawn(design)["nw.underside"], "outer edge through").shapes[0]
    assert isinstance(path, Outline)
    drawn = sorted((round(x, 3), round(y, 3)) for x, y, _ in path.vertices)
    wanted = sorted((round(-v.x, 3), round(v.y, 3)) for v in part.outline.vertices)
    assert drawn == [pytest.approx(item, abs=2e-3) for item in wanted]
    assert drawn != [
        pytest.approx((round(v.x, 3), round(v.y, 3)), abs=2e-3) for v in sorted(part.outline.vertices, key=lambda v: (v.x, v.y))
    ]


def _expected(design: Design, derived: Derived) -> dict[str, int]:
    """How many cuts each part needs, counted from the model: (words of the title) to a number; screws of keepers as many as found room."""
    screws = sum(len(held.places) for held in derived.keepers)
    feet = {foot.name.text: foot for foot in design.feet}
    carried = [feet[gear.carries.text] for gear in design.gears if gear.carries is not None]
    above = {board.name.text: board.under.text for board in design.boards if board.under is not None}

    def boards_over(name: str) -> int:
        return 1 + (boards_over(above[name]) if name in above else 0)

    drives = [gear for gear in design.gears if gear.turned_by is not None]
    return {
        "hole for the insert": sum(1 for foot in carried if foot.insert is not None),
        "hole for the rod": sum(1 for foot in carried if foot.insert is None),
        "hex pocket": sum(1 for foot in carried if foot.kind == "riding" or foot.kind == "captured_nut"),
        "hex socket": sum(1 for foot in carried if foot.kind == "sliding_hex"),
        "hole for the drive bolt": sum(boards_over(gear.under.text) for gear in drives),
        "pilot hole": sum(1 for gear in design.gears if gear.turns_on is not None) + screws,
        "hole for the screw": screws,
        "bore for": len(design.gears) + sum(1 for foot in carried if foot.keeper is not None),
        "teeth of": len(design.gears),
        "hole for the dowel": sum(len(dowel.places) * len(dowel.into) for dowel in design.dowels),
        "pocket for the magnet": sum(len(magnet.places) for magnet in design.magnets),
        "label": sum(len(label.places) for label in design.engravings),
        "counterbore of": sum(len(hole.places) for hole in design.holes if hole.counterbore is not None),
        "edge of the keeper": sum(1 for foot in carried if foot.keeper is not None),
    }


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_hole_of_the_model_is_drawn_once(path: Path) -> None:
    design, derived, parts = example(path)
    seen: set[tuple[str, str]] = set()
    for sheet in sheets_of(design, parts):
        whole = next(part.belongs_to or part.part for part in parts if part.part == sheet.part)
        mine: list[tuple[str, str]] = []
        for layer in _cut(sheet):
            titles = [shape.title for shape in layer.shapes]
            mine += [(whole, title) for title in (dict.fromkeys(titles) if layer.operation == "engrave" else titles)]
        twice = {item for item in mine if mine.count(item) > 1 and not item[1].startswith(("opening", "dowel that"))}
        assert not twice, f"{sheet.id}: {twice}"
        seen |= set(mine)
    for words, count in _expected(design, derived).items():
        found = sorted(item for item in seen if item[1].startswith(words))
        assert len(found) == count, (words, found)
    for kind in (*design.holes, *design.pockets):
        for place in kind.places:
            word = "hole" if isinstance(kind, Hole) else "pocket" if kind.depth is not None else "opening"
            assert (
                len([item for item in seen if item[0] == kind.into.text and f"{item[1]},".startswith(f"{word} {place.id},")]) == 1
            )


@pytest.mark.parametrize("kind", ["riding", "captured", "sliding"])
def test_every_sheet_is_written_in_both_formats_and_the_same_twice(kind: str) -> None:
    design = riser({"riding": riding, "captured": captured, "sliding": sliding}[kind]())
    first, second = _drawn(design), _drawn(design)
    assert list(first) == list(second) and len(set(first)) == len(first)
    for name, sheet in list(first.items())[:3]:
        assert svg(sheet) == svg(second[name]) and dxf(sheet) == dxf(second[name])


def test_text_keeps_clear_of_what_is_cut_and_of_other_text() -> None:
    from trivet.drawing.bounds import bounds_of

    for path in EXAMPLES:
        design, _, parts = example(path)
        for sheet in sheets_of(design, parts):
            texts = [shape for layer in sheet.layers for shape in layer.shapes if isinstance(shape, Text)]
            boxes = [bounds_of([text]) for text in texts]
            cuts = [bounds_of([s]) for layer in _cut(sheet) for s in layer.shapes if layer.operation != "outer_edge"]
            cuts += [
                bounds_of([s])
                for layer in sheet.layers
                for s in layer.shapes
                if "registration" in layer.name and not isinstance(s, Line)
            ]
            for index, box in enumerate(boxes):
                for other in (*boxes[:index], *cuts):
                    apart = (
                        box.x_min >= other.x_max or other.x_min >= box.x_max or box.y_min >= other.y_max or other.y_min >= box.y_max
                    )
                    assert apart, f"{sheet.id}: {texts[index].text!r}"
