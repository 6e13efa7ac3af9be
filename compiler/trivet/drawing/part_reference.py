"""What is drawn round a part to be read and never cut: sizes, face grain, registration marks, the other face's outline."""

from __future__ import annotations

from trivet.drawing.bounds import Bounds
from trivet.drawing.shapes import Circle, Dimension, Face, Line, Shape, Text
from trivet.drawing.sheet import Layer, Unit, layer_name
from trivet.units import length_text

TEXT_MM = 3.5  # height of capitals: a size of ISO 3098, from memory
DIMENSION_OFFSET_MM = 10.0  # of a dimension line from the part: common practice, no source
# Index holes on the flip axis outside the part, unequally far from its edge so that a part turned over the wrong way does not
# go on both pins; their diameter is a usual dowel's (common practice, no source).
ABOVE_MM, BELOW_MM, INDEX_MM = 18.0, 30.0, 6.0
ARROW_MM, HEAD_MM = 40.0, 4.0


def reference_layer(what: str, face: Face, part: str, shapes: tuple[Shape, ...], title: str) -> Layer:
    """A reference layer of that part."""
    return Layer(layer_name("reference", face, None, what), "reference", face, None, part, shapes, title)


def dimensions(box: Bounds, unit: Unit, face: Face, part: str) -> Layer:
    """Overall width under the part and height at its left."""
    because = "overall size of the outline"
    width, height = (length_text(mm, unit) for mm in (box.width_mm, box.height_mm))
    shapes = (
        Dimension(box.x_min, box.y_min, box.x_max, box.y_min, -DIMENSION_OFFSET_MM, width, TEXT_MM, "overall width", because),
        Dimension(box.x_min, box.y_min, box.x_min, box.y_max, DIMENSION_OFFSET_MM, height, TEXT_MM, "overall height", because),
    )
    return reference_layer("dimensions", face, part, shapes, "overall sizes, never cut")


def registration(box: Bounds, axis_x_mm: float, face: Face, part: str, unit: Unit = "mm") -> Layer:
    """Crosses with circles on the flip axis, and the axis itself beside the part."""
    above, below = length_text(ABOVE_MM, unit), length_text(BELOW_MM, unit)
    because = f"on the flip axis, {above} above and {below} below the part, so that a wrong flip does not fit"
    shapes: list[Shape] = []
    for y, away in ((box.y_max + ABOVE_MM, 1.0), (box.y_min - BELOW_MM, -1.0)):
        title = "index hole on the flip axis"
        # Below, the axis begins under the dimension line.
        edge = box.y_max + 2.0 if away > 0 else box.y_min - DIMENSION_OFFSET_MM - 4.0
        shapes += [
            Circle(axis_x_mm, y, INDEX_MM / 2.0, title, because),
            Line(axis_x_mm - INDEX_MM, y, axis_x_mm + INDEX_MM, y, title, because),
            Line(axis_x_mm, y + away * INDEX_MM, axis_x_mm, edge, "flip axis", because),
        ]
    return reference_layer("registration", face, part, tuple(shapes), "where index holes would stand, never cut")


def grain_arrow(box: Bounds, along: str, face: Face, part: str) -> Layer:
    """A double arrow above the part's left end (along x) or left of its lower end (along y)."""
    because = f"face grain runs along {along} on the sheet"
    title = "face grain"
    if along == "x":
        x, y = box.x_min, box.y_max + 8.0
        end_x, end_y, ux, uy = x + ARROW_MM, y, 1.0, 0.0
        text = Text(end_x + 3.0, y - TEXT_MM / 2.0, TEXT_MM, title, "start", title, because)
    else:
        x, y = box.x_min - 22.0, box.y_min
        end_x, end_y, ux, uy = x, y + ARROW_MM, 0.0, 1.0
        text = Text(x + TEXT_MM / 2.0, end_y + 3.0, TEXT_MM, title, "start", title, because, 90.0)
    shapes: list[Shape] = [Line(x, y, end_x, end_y, title, because)]
    for tip_x, tip_y, back in ((x, y, 1.0), (end_x, end_y, -1.0)):
        for side in (1.0, -1.0):
            along_x, along_y = back * HEAD_MM * ux, back * HEAD_MM * uy
            half = side * HEAD_MM / 2.0
            shapes.append(Line(tip_x, tip_y, tip_x + along_x - half * uy, tip_y + along_y + half * ux, title, because))
    return reference_layer("face grain", face, part, (*shapes, text), "the way the face grain runs, never cut")
