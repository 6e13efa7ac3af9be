"""A figure for the bench: shapes by what they are made of, not to be cut and not to scale across."""

from __future__ import annotations

from typing import Literal

from trivet.drawing.bounds import Bounds, bounds_of
from trivet.drawing.shapes import Anchor, Line, Path, Shape, Text
from trivet.record import record

Tone = Literal["wood", "metal", "dead", "glue", "paper", "bench", "line", "note"]
TEXT_MM = 3.5
MARGIN_MM = 4.0
_WHY = "a figure, not to be cut"


@record
class FigureLayer:
    """Shapes of one tone, drawn in the order of the layers."""

    tone: Tone
    shapes: tuple[Shape, ...]


@record
class Figure:
    """What it shows in a title and in words, and its layers."""

    title: str
    words: str
    layers: tuple[FigureLayer, ...]

    @property
    def bounds(self) -> Bounds:
        """All shapes with a margin."""
        return bounds_of(tuple(shape for layer in self.layers for shape in layer.shapes)).grown(MARGIN_MM)


def box(x_min: float, y_min: float, x_max: float, y_max: float, title: str) -> Path:
    """An upright rectangle."""
    return Path(((x_min, y_min, 0.0), (x_max, y_min, 0.0), (x_max, y_max, 0.0), (x_min, y_max, 0.0)), True, title, _WHY)


def line(x1: float, y1: float, x2: float, y2: float, title: str) -> Line:
    """A straight line."""
    return Line(x1, y1, x2, y2, title, _WHY)


def note(x: float, y: float, text: str, anchor: Anchor = "start") -> Text:
    """A word beside what it names, its middle at y."""
    return Text(x, y - TEXT_MM / 2.0, TEXT_MM, text, anchor, text, _WHY)


def arrow(x1: float, y1: float, x2: float, y2: float, title: str) -> tuple[Line, ...]:
    """A line with a head at its second end, upright or level."""
    back_x, back_y = (0.0, 3.0 if y1 > y2 else -3.0) if x1 == x2 else (3.0 if x1 > x2 else -3.0, 0.0)
    side_x, side_y = (1.5, 0.0) if x1 == x2 else (0.0, 1.5)
    return (
        line(x1, y1, x2, y2, title),
        line(x2, y2, x2 + back_x + side_x, y2 + back_y + side_y, title),
        line(x2, y2, x2 + back_x - side_x, y2 + back_y - side_y, title),
    )


def leader(x_from: float, y_from: float, x_to: float, y_to: float, title: str) -> Line:
    """A thin line from a note to what it names."""
    return line(x_from, y_from, x_to, y_to, title)
