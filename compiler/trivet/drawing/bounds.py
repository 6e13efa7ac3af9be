"""Bounds: the upright rectangle round shapes."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import assert_never

from trivet.drawing.dimension import parts_of
from trivet.drawing.shapes import Arc, Circle, Dimension, Line, Path, Shape, Text, rounded
from trivet.drawing.text_width import text_width_mm
from trivet.record import record

Point = tuple[float, float]


@record
class Bounds:
    """Least and greatest coordinates, in mm."""

    x_min: float
    y_min: float
    x_max: float
    y_max: float

    def __post_init__(self) -> None:
        for name in ("x_min", "y_min", "x_max", "y_max"):
            object.__setattr__(self, name, rounded(getattr(self, name)))
        if self.x_max < self.x_min or self.y_max < self.y_min:
            raise ValueError(f"bounds are turned inside out: {self}")

    @property
    def width_mm(self) -> float:
        """Extent along x."""
        return rounded(self.x_max - self.x_min)

    @property
    def height_mm(self) -> float:
        """Extent along y."""
        return rounded(self.y_max - self.y_min)

    def grown(self, margin_mm: float) -> Bounds:
        """The bounds moved outwards on all four sides."""
        return Bounds(self.x_min - margin_mm, self.y_min - margin_mm, self.x_max + margin_mm, self.y_max + margin_mm)

    def joined(self, other: Bounds) -> Bounds:
        """The bounds round both."""
        return Bounds(
            min(self.x_min, other.x_min),
            min(self.y_min, other.y_min),
            max(self.x_max, other.x_max),
            max(self.y_max, other.y_max),
        )


def bounds_of(shapes: Iterable[Shape]) -> Bounds:
    """The bounds of the shapes: exact for lines and arcs, room enough for text. Raises `ValueError` without shapes."""
    points = [point for shape in shapes for point in _extreme_points(shape)]
    if not points:
        raise ValueError("no shapes, so no bounds")
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def _extreme_points(shape: Shape) -> list[Point]:
    match shape:
        case Line():
            return [(shape.x1, shape.y1), (shape.x2, shape.y2)]
        case Circle():
            return [(shape.cx - shape.r, shape.cy - shape.r), (shape.cx + shape.r, shape.cy + shape.r)]
        case Arc():
            start = math.radians(shape.start_deg)
            return _arc_points(shape.cx, shape.cy, shape.r, start, math.radians(shape.sweep_deg))
        case Path():
            return [point for segment in shape.segments() for point in _segment_points(*segment)]
        case Text():
            return _text_points(shape)
        case Dimension():
            return [point for part in parts_of(shape) for point in _extreme_points(part)]
    assert_never(shape)


def _segment_points(x1: float, y1: float, x2: float, y2: float, bulge: float) -> list[Point]:
    if bulge == 0.0:
        return [(x1, y1), (x2, y2)]
    # The centre lies (1 - b^2) / (4 b) chords to the left of the chord's middle, from b = tan(included angle / 4).
    side = (1.0 - bulge * bulge) / (4.0 * bulge)
    cx = (x1 + x2) / 2 - (y2 - y1) * side
    cy = (y1 + y2) / 2 + (x2 - x1) * side
    start, sweep = math.atan2(y1 - cy, x1 - cx), 4.0 * math.atan(bulge)
    if sweep < 0:
        start, sweep = start + sweep, -sweep
    return [(x1, y1), (x2, y2), *_quarter_points(cx, cy, math.hypot(x1 - cx, y1 - cy), start, sweep)]


def _arc_points(cx: float, cy: float, r: float, start: float, sweep: float) -> list[Point]:
    ends = [(cx + r * math.cos(angle), cy + r * math.sin(angle)) for angle in (start, start + sweep)]
    return ends + _quarter_points(cx, cy, r, start, sweep)


def _quarter_points(cx: float, cy: float, r: float, start: float, sweep: float) -> list[Point]:
    quarters = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))
    return [
        (cx + r * ux, cy + r * uy)
        for quarter, (ux, uy) in enumerate(quarters)
        if (quarter * math.pi / 2 - start) % (2 * math.pi) <= sweep
    ]


def _text_points(text: Text) -> list[Point]:
    width = text_width_mm(text.text, text.height_mm)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
    below, above = -0.35 * text.height_mm, 1.1 * text.height_mm
    angle = math.radians(text.angle_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    corners = [(u, v) for u in (left, left + width) for v in (below, above)]
    return [(text.x + u * cos - v * sin, text.y + u * sin + v * cos) for u, v in corners]
