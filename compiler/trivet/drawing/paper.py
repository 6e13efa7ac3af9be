"""Full-size templates on paper: a drawing cut into pages that are trimmed, or lapped, along marks that both neighbours carry."""

from __future__ import annotations

import math
from typing import Literal

from trivet.drawing.bounds import Bounds, bounds_of
from trivet.drawing.part_sheet import PartSheet
from trivet.drawing.shapes import Circle, Line, Shape, Text
from trivet.drawing.sheet import Layer
from trivet.record import record

Paper = Literal["A4", "Letter"]

# ISO 216 (A4) and ASME Y14.1, size A (Letter), portrait, mm.
SIZES_MM: tuple[tuple[Paper, float, float], ...] = (("A4", 210.0, 297.0), ("Letter", 215.9, 279.4))
# What most printers cannot reach, and room for the words: common practice, no source.
SIDE_MM, TOP_MM, BOTTOM_MM = 12.0, 20.0, 24.0
OVERLAP_MM, ROUND_MM = 10.0, 3.0
CROSS_MM, CENTRE_MM, LABEL_MM = 4.0, 2.5, 2.5
# Layers that a template has no use for: its own pages say as much in their margins.
_LEFT_OUT = ("reference text", "reference scale square", "reference dimensions")


@record
class Page:
    """One page: `window` is the part of the drawing that it shows, at full size; it is the `across`-th of its row and the `down`-th row from the top.

    `marks`: shapes that neighbours share, in the frame of the drawing. `landscape`: the paper lies on its long side.
    """

    title: str
    paper: Paper
    landscape: bool
    window: Bounds
    layers: tuple[Layer, ...]
    marks: tuple[Shape, ...]
    down: int = 1
    across: int = 1
    pages_down: int = 1
    pages_across: int = 1

    @property
    def width_mm(self) -> float:
        """Of the paper as it lies."""
        return _size(self.paper, self.landscape)[0]

    @property
    def height_mm(self) -> float:
        """Of the paper as it lies."""
        return _size(self.paper, self.landscape)[1]


def paper_pages(sheet: PartSheet, paper: Paper) -> tuple[Page, ...]:
    """The pages of one face of one part, row by row from the upper left; the way of laying the paper that takes fewer."""
    layers = tuple(layer for layer in sheet.layers if layer.name not in _LEFT_OUT)
    box = bounds_of(shape for layer in layers for shape in layer.shapes).grown(ROUND_MM)
    landscape = min((False, True), key=lambda lies: math.prod(_counts(box, _window(paper, lies))))
    width, height = _window(paper, landscape)
    columns, rows = _counts(box, (width, height))
    marks = (*_joins(box, width, height, columns, rows), *_centres(layers))
    pages = []
    for row in range(rows):
        for column in range(columns):
            left, top = box.x_min + column * (width - OVERLAP_MM), box.y_max - row * (height - OVERLAP_MM)
            window = Bounds(left, top - height, left + width, top)
            pages.append(Page(sheet.title, paper, landscape, window, layers, marks, row + 1, column + 1, rows, columns))
    return tuple(pages)


def _size(paper: Paper, landscape: bool) -> tuple[float, float]:
    width, height = next((wide, high) for name, wide, high in SIZES_MM if name == paper)
    return (height, width) if landscape else (width, height)


def _window(paper: Paper, landscape: bool) -> tuple[float, float]:
    width, height = _size(paper, landscape)
    return width - 2.0 * SIDE_MM, height - TOP_MM - BOTTOM_MM


def _counts(box: Bounds, window: tuple[float, float]) -> tuple[int, int]:
    """Columns and rows; neighbours share the overlap."""
    return tuple(  # type: ignore[return-value]  # two lengths in, so two counts out
        max(1, math.ceil((length - OVERLAP_MM) / (room - OVERLAP_MM) - 1e-9))
        for length, room in zip((box.width_mm, box.height_mm), window, strict=True)
    )


def _joins(box: Bounds, width: float, height: float, columns: int, rows: int) -> list[Shape]:
    """Crosses in the middle of each overlap, at the quarters of each page's side, named alike on both pages."""
    found: list[Shape] = []
    across, down = width - OVERLAP_MM, height - OVERLAP_MM
    names = iter(range(1, 1 + 2 * (columns * rows) * 2))
    for column in range(1, columns):
        x = box.x_min + column * across + OVERLAP_MM / 2.0
        for row in range(rows):
            for share in (0.25, 0.75):
                found += _cross(x, box.y_max - row * down - share * height, f"join {next(names)}")
    for row in range(1, rows):
        y = box.y_max - row * down - OVERLAP_MM / 2.0
        for column in range(columns):
            for share in (0.25, 0.75):
                found += _cross(box.x_min + column * across + share * width, y, f"join {next(names)}")
    return found


def _cross(x: float, y: float, name: str) -> list[Shape]:
    because = "both neighbouring pages have it: lay one over the other"
    return [
        Line(x - CROSS_MM, y, x + CROSS_MM, y, name, because),
        Line(x, y - CROSS_MM, x, y + CROSS_MM, name, because),
        Text(x + 0.8, y + 0.8, LABEL_MM, name.removeprefix("join "), "start", name, because),
    ]


def _centres(layers: tuple[Layer, ...]) -> list[Shape]:
    """A cross in each round cut, for a bradawl or the point of a drill."""
    found: list[Shape] = []
    for layer in layers:
        for shape in layer.shapes:
            if isinstance(shape, Circle) and not layer.reference:
                half = min(CENTRE_MM, shape.r * 0.8)
                title, because = f"centre of {shape.title}", "to mark through the paper"
                found.append(Line(shape.cx - half, shape.cy, shape.cx + half, shape.cy, title, because))
                found.append(Line(shape.cx, shape.cy - half, shape.cx, shape.cy + half, title, because))
    return found
