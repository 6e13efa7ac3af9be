"""Drawings for readers that know no arcs: outlines as chords close to them."""

from __future__ import annotations

from typing import TypeVar

from trivet.drawing.shapes import Path, Shape
from trivet.drawing.sheet import Layer, Sheet
from trivet.record import replace
from trivet.solve.segment import Segment

# Chords lie this close to their arcs (from memory: what cutting services ask for), mm.
CHORD_MM = 0.02

S = TypeVar("S", bound=Sheet)


def without_arcs(sheet: S) -> S:
    """The same sheet with the arcs of all paths as chords; whole circles stay circles, since bores are drilled or bored as such."""
    return replace(sheet, layers=tuple(_layer(layer) for layer in sheet.layers))


def _layer(layer: Layer) -> Layer:
    return replace(layer, shapes=tuple(_shape(shape) for shape in layer.shapes))


def _shape(shape: Shape) -> Shape:
    if not isinstance(shape, Path):
        return shape
    points = [point for x0, y0, x1, y1, bulge in shape.segments() for point in Segment(x0, y0, x1, y1, bulge).points(CHORD_MM)]
    if not shape.closed:
        points.append(shape.vertices[-1][:2])
    return replace(shape, vertices=tuple((x, y, 0.0) for x, y in points))
