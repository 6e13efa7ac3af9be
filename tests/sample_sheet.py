"""A sheet with every operation and every shape, for the tests of the drawing formats."""

from __future__ import annotations

import math

from trivet.drawing.bounds import Bounds
from trivet.drawing.shapes import Arc, Circle, Dimension, Line, Path, Shape, Text
from trivet.drawing.sheet import Layer, Sheet, Unit, layer_name

QUARTER = math.tan(math.pi / 8)
BECAUSE = "chosen for the test"


def rounded_rectangle(x: float, y: float, width: float, height: float, r: float) -> Path:
    """Anticlockwise, with quarter turns at the corners."""
    right, top = x + width, y + height
    vertices = (
        (x + r, y, 0.0),
        (right - r, y, QUARTER),
        (right, y + r, 0.0),
        (right, top - r, QUARTER),
        (right - r, top, 0.0),
        (x + r, top, QUARTER),
        (x, top - r, 0.0),
        (x, y + r, QUARTER),
    )
    return Path(vertices, True, f"outer edge, {width} by {height} mm", BECAUSE)


OUTER = rounded_rectangle(-20.0, 5.0, 80.0, 50.0, 6.0)
SLOT = Path(((0.0, 10.0, 0.0), (20.0, 10.0, 1.0), (20.0, 18.0, 0.0), (0.0, 18.0, 1.0)), True, "slot", BECAUSE)
# Three quarters of a circle of radius 5 about (45, 40), closed by its chord: the large-arc case.
LARGE = Path(((50.0, 40.0, math.tan(3 * math.pi / 8)), (45.0, 35.0, 0.0)), True, "pocket", BECAUSE)
# A square with one side hollowed by half a circle, run through clockwise.
HOLLOW = Path(
    ((30.0, 10.0, 0.0), (30.0, 20.0, 0.0), (40.0, 20.0, 0.0), (40.0, 18.0, 1.0), (40.0, 12.0, 0.0), (40.0, 10.0, 0.0)),
    True,
    "hollow pocket",
    BECAUSE,
)
BORE = Circle(-10.0, 45.0, 4.1, "bore for pin.west, 8.20 mm", BECAUSE)
COUNTERBORE = Circle(-10.0, 45.0, 8.0, "counterbore, 16.00 mm", BECAUSE)
MARK = Path(((0.0, 30.0, 0.0), (4.0, 30.0, -0.5), (8.0, 34.0, 0.0)), False, "mark", BECAUSE)
REFERENCES: tuple[Shape, ...] = (
    Line(-20.0, 30.0, 60.0, 30.0, "centre line", BECAUSE),
    Arc(20.0, 30.0, 12.0, 350.0, 80.0, "turn", BECAUSE),
    Text(20.0, 0.0, 3.5, "gear <nw> & 50%%d ^J", "middle", "note", BECAUSE, 30.0),
    Dimension(-20.0, 5.0, 60.0, 5.0, -8.0, "80.00", 3.5, "width", BECAUSE),
)


def layer(operation: str, face: str, depth_mm: float | None, *shapes: Shape, part: str = "base") -> Layer:
    """A layer named by the rule, titled by its operation."""
    what = "drawing" if operation == "reference" else ""
    name = layer_name(operation, face, depth_mm, what)
    return Layer(name, operation, face, depth_mm, part, shapes, operation.replace("_", " "))


def sample(unit: Unit = "mm") -> Sheet:
    """The whole sample."""
    layers = (
        layer("outer_edge", "topside", None, OUTER),
        layer("opening", "topside", None, SLOT),
        layer("bore", "topside", None, BORE),
        layer("pocket", "underside", 5.8, LARGE, HOLLOW),
        layer("counterbore", "topside", 9.0, COUNTERBORE),
        layer("engrave", "topside", 0.5, MARK),
        layer("reference", "topside", None, *REFERENCES),
    )
    return Sheet("base.topside", "base, topside", Bounds(-40.0, -20.0, 80.0, 70.0), layers, unit, ("not offset",))


def sheet_with(*layers: Layer) -> Sheet:
    """A sheet of only these layers."""
    return Sheet("one", "one", Bounds(-1000.0, -1000.0, 1000.0, 1000.0), layers)
