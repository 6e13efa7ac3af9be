"""Shapes, layers and sheets: rounding on entry, names in plain words, bounds, scale square, dimensions, stroke font."""

from __future__ import annotations

import math
import string

import pytest
from tests.sample_sheet import BECAUSE, BORE, LARGE, OUTER, SLOT, layer, sheet_with

from trivet.drawing.bounds import Bounds, bounds_of
from trivet.drawing.dimension import parts_of
from trivet.drawing.reference_text import reference_text
from trivet.drawing.scale_square import GAP_MM, scale_square
from trivet.drawing.shapes import Arc, Circle, Dimension, Line, Path, Text
from trivet.drawing.sheet import Layer, layer_name, sheet_of
from trivet.drawing.stroke_font import centred, engraved, strokes, width_mm
from trivet.drawing.stroke_glyphs import GLYPHS


def test_coordinates_are_rounded_on_entry_and_never_minus_zero() -> None:
    line = Line(-0.00001, 1.23456, 2, 3.00004, "line", BECAUSE)
    assert (line.x1, line.y1, line.y2) == (0.0, 1.2346, 3.0)
    assert math.copysign(1, line.x1) == 1.0
    with pytest.raises(ValueError, match="finite"):
        Circle(0, 0, math.inf, "circle", BECAUSE)
    with pytest.raises(ValueError, match="positive radius"):
        Circle(0, 0, 0.00001, "circle", BECAUSE)


def test_neighbours_nearer_than_a_micrometre_become_one_vertex() -> None:
    corners = ((0.0, 0.0, 0.0), (0.0005, 0.0, 0.0), (10.0, 0.0, 1.0), (10.0, 8.0, 0.0), (0.0, 0.0, 0.0))
    path = Path(corners, True, "path", BECAUSE)
    assert path.vertices == ((0.0, 0.0, 0.0), (10.0, 0.0, 1.0), (10.0, 8.0, 0.0))
    with pytest.raises(ValueError, match="too few"):
        Path(((0.0, 0.0, 0.0), (5.0, 0.0, 0.0), (0.0, 0.0, 0.0)), True, "path", BECAUSE)


@pytest.mark.parametrize(
    ("arguments", "name"),
    [
        (("outer_edge", "topside", None), "outer edge through"),
        (("opening", "topside", None), "opening through"),
        (("bore", "topside", None), "bore through"),
        (("pocket", "underside", 5.8), "underside pocket 5.8 mm"),
        (("counterbore", "topside", 9.0), "topside counterbore 9.0 mm"),
        (("engrave", "topside", 0.5), "topside engrave 0.5 mm"),
        (("pocket", "topside", 5.853), "topside pocket 5.853 mm"),
        (("reference", "topside", None, "scale square"), "reference scale square"),
        (("counterbore", "topside", 6.35, "", "in"), "topside counterbore 0.25 in"),
    ],
)
def test_layer_names(arguments: tuple[str, ...], name: str) -> None:
    assert layer_name(*arguments) == name


def test_what_is_cut_holds_no_text() -> None:
    text = Text(0, 0, 3, "words", "start", "note", BECAUSE)
    with pytest.raises(ValueError, match="holds no text"):
        layer("bore", "topside", None, text)
    with pytest.raises(ValueError, match="depth"):
        Layer("reference x", "reference", "topside", 3.0, "", (text,), "")
    with pytest.raises(ValueError, match="two layers named"):
        sheet_with(layer("bore", "topside", None, BORE), layer("bore", "topside", None, BORE))


def test_bounds_are_exact_for_arcs() -> None:
    assert bounds_of([OUTER]) == Bounds(-20, 5, 60, 55)
    assert bounds_of([SLOT]) == Bounds(-4, 10, 24, 18)
    assert bounds_of([LARGE]) == Bounds(40, 35, 50, 45)
    turn = 10 * math.cos(math.radians(30))
    assert bounds_of([Arc(0, 0, 10, -30, 150, "arc", BECAUSE)]) == Bounds(-turn, -5, 10, 10)
    assert bounds_of([Arc(0, 0, 10, 300, 30, "arc", BECAUSE)]) == Bounds(5, -turn, 10, 5)
    assert sheet_of("s", "s", (layer("bore", "topside", None, BORE),)).bounds == bounds_of([BORE]).grown(5)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_scale_square_stands_beside_the_part(unit: str) -> None:
    part = Bounds(-20, 5, 60, 55)
    square, *texts = scale_square(part, unit).shapes
    around = bounds_of([square])
    # 100 mm square by the requirement on cut files; exact.
    assert (around.width_mm, around.height_mm) == (100.0, 100.0)
    assert around.x_min == part.x_max + GAP_MM
    inside = bounds_of(texts)
    assert around.joined(inside) == around, "the text reaches out of the square"
    assert scale_square(part).reference and scale_square(part).name == "reference scale square"


def test_reference_text_lies_under_the_drawing() -> None:
    part = Bounds(-20, 5, 60, 55)
    around = bounds_of(reference_text(part, ("one", "two"), BECAUSE).shapes)
    assert around.y_max < part.y_min


@pytest.mark.parametrize(("x2", "y2", "angle"), [(30, 0, 0), (-30, 0, 0), (0, 30, 90), (0, -30, 90), (-30, 30, -45)])
def test_dimension_text_reads_from_the_bottom_or_the_right(x2: float, y2: float, angle: float) -> None:
    *lines, text = parts_of(Dimension(0, 0, x2, y2, 10, "30.00", 3.5, "length", BECAUSE))
    assert isinstance(text, Text) and text.angle_deg == pytest.approx(angle)
    dimension_line = lines[2]
    assert isinstance(dimension_line, Line)
    length = math.hypot(dimension_line.x2 - dimension_line.x1, dimension_line.y2 - dimension_line.y1)
    assert length == pytest.approx(math.hypot(x2, y2), abs=2e-4)
    # To the left of the direction from the first point to the second.
    cross = x2 * dimension_line.y1 - y2 * dimension_line.x1
    assert cross / math.hypot(x2, y2) == pytest.approx(10, abs=2e-4)


def test_every_promised_character_is_drawn_and_others_are_a_box() -> None:
    promised = string.ascii_letters + string.digits + "#.,-+/():'\"&\N{DEGREE SIGN}"
    box = strokes("\N{SNOWMAN}", 6)
    assert len(box) == 1 and len(box[0]) == 5
    for character in promised:
        assert strokes(character, 6) and strokes(character, 6) != box, character
    assert strokes(" ", 6) == () and width_mm(" ", 6) > 0


def test_no_two_characters_look_alike() -> None:
    drawn = [strokes(character, 6) for character in GLYPHS]
    assert len(set(drawn)) == len(GLYPHS)


def test_strokes_stay_in_their_box_and_follow_the_height() -> None:
    for character in GLYPHS:
        if not (paths := engraved(character, 0, 0, 6, BECAUSE)):
            continue
        around = bounds_of(paths)
        half = width_mm(character, 6) / 2 + 0.31
        assert -half <= around.x_min and around.x_max <= half, character
        assert around.y_min >= -3 - 2.02 and around.y_max <= 3.61, character
    assert width_mm("pin.west", 12) == pytest.approx(2 * width_mm("pin.west", 6))


def test_centred_text_has_its_middle_there() -> None:
    points = [point for stroke in centred("HOH", 50, 20, 7) for point in stroke]
    xs, ys = [x for x, _, _ in points], [y for _, y, _ in points]
    assert (min(xs) + max(xs)) / 2 == pytest.approx(50) and (min(ys) + max(ys)) / 2 == pytest.approx(20)
    assert max(ys) - min(ys) == pytest.approx(7)
