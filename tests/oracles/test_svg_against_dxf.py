"""Every drawing of every example read back: SVG against DXF, layer by layer, and what a reader that cuts needs of a contour.

The SVG reader follows the W3C's formulae, the DXF is read by its package; areas come from centres and angles of the SVG's
arcs on one side and from the DXF's bulges on the other, so neither shares a formula with the other or with the writers.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from tests.oracles.test_drawing_readback import (
    AGREEMENT_MM,
    Outline,
    area,
    assert_same_drawing,
    dxf_document,
    ordered,
    svg_layers,
)
from tests.part_samples import EXAMPLES, example

from trivet.drawing.part_sheet import PartSheet
from trivet.drawing.parts import sheets_of

CLOSEST_MM = 0.001  # points nearer than this are joined or refused by readers: common practice, no source


@dataclass(frozen=True)
class Polyline:
    """A polyline of the DXF file: (x, y, bulge) in mm."""

    layer: str
    points: tuple[tuple[float, float, float], ...]
    closed: bool

    @property
    def middles(self) -> list[complex]:
        """The middle of each segment: half the chord, aside by the sagitta, which is bulge times half the chord."""
        found = []
        ends = self.points[1:] + (self.points[:1] if self.closed else ())
        for (x1, y1, bulge), (x2, y2, _) in zip(self.points, ends, strict=False):
            chord = complex(x2 - x1, y2 - y1)
            # Positive bulge turns anticlockwise, so the arc lies to the right of its chord.
            found.append(complex(x1, y1) + chord / 2 - 1j * chord * bulge / 2)
        return found

    @property
    def area_mm2(self) -> float:
        """Shoelace, and each circular segment from its included angle of four times the arc tangent of the bulge."""
        total = 0.0
        for (x1, y1, bulge), (x2, y2, _) in zip(self.points, self.points[1:] + self.points[:1], strict=True):
            total += (x1 * y2 - x2 * y1) / 2
            if bulge:
                angle = 4 * math.atan(bulge)
                r = math.hypot(x2 - x1, y2 - y1) / (2 * math.sin(abs(angle) / 2))
                total += r * r * (angle - math.sin(angle)) / 2
        return abs(total)


@dataclass(frozen=True)
class Circle:
    """A circle of the DXF file, mm."""

    layer: str
    centre: complex
    r: float


@dataclass(frozen=True)
class Drawing:
    """One sheet as its two files give it back."""

    sheet: PartSheet
    svg: dict[str, list[Outline | tuple[complex, float]]]
    dxf: tuple[Polyline | Circle, ...]

    @property
    def cut_layers(self) -> tuple[str, ...]:
        return tuple(layer.name for layer in self.sheet.layers if not layer.reference)

    @property
    def engraved(self) -> frozenset[str]:
        return frozenset(layer.name for layer in self.sheet.layers if layer.operation == "engrave")

    def on(self, layer: str) -> list[Polyline | Circle]:
        return [item for item in self.dxf if item.layer == layer]


def _read(sheet: PartSheet) -> Drawing:
    document = dxf_document(sheet)
    mm = {1: 25.4, 4: 1.0}[document.header["$INSUNITS"]]
    found: list[Polyline | Circle] = []
    for entity in document.modelspace():
        if entity.dxftype() == "LWPOLYLINE":
            points = tuple((float(x) * mm, float(y) * mm, float(bulge)) for x, y, bulge in entity.get_points("xyb"))
            found.append(Polyline(entity.dxf.layer, points, bool(entity.closed)))
        elif entity.dxftype() == "CIRCLE":
            found.append(Circle(entity.dxf.layer, complex(*entity.dxf.center.vec2) * mm, entity.dxf.radius * mm))
    return Drawing(sheet, svg_layers(sheet), tuple(found))


@cache
def drawings(path: Path) -> tuple[Drawing, ...]:
    """All drawings of an example."""
    design, _, parts = example(path)
    return tuple(_read(sheet) for sheet in sheets_of(design, parts))


each_example = pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)


@each_example
def test_every_layer_holds_the_same_shapes_in_both_files(path: Path) -> None:
    """Reference layers too: lines, outlines, circles and where text stands."""
    for drawing in drawings(path):
        assert_same_drawing(drawing.sheet)


@each_example
def test_contours_agree_in_place_and_area(path: Path) -> None:
    """The strokes of letters are lines and arcs, not contours: their places are compared above."""
    for drawing in drawings(path):
        assert drawing.cut_layers
        for layer in sorted(set(drawing.cut_layers) - drawing.engraved):
            left, right = drawing.svg[layer], drawing.on(layer)
            assert len(left) == len(right) > 0, (drawing.sheet.id, layer)
            total_svg = total_dxf = length = 0.0
            for one, other in zip(left, right, strict=True):
                if isinstance(one, tuple):
                    assert isinstance(other, Circle)
                    assert abs(one[0] - other.centre) <= AGREEMENT_MM and abs(one[1] - other.r) <= AGREEMENT_MM
                    total_svg += math.pi * one[1] ** 2
                    total_dxf += math.pi * other.r**2
                    length += 2 * math.pi * other.r
                    continue
                assert isinstance(other, Polyline)
                assert len(one) == len(other.middles)
                pairs = zip(one, other.points, other.middles, strict=True)
                for (start, middle, _), (x, y, _), between in pairs:
                    assert abs(start - complex(x, y)) <= AGREEMENT_MM, (drawing.sheet.id, layer)
                    assert abs(middle - between) <= AGREEMENT_MM, (drawing.sheet.id, layer)
                total_svg += area(ordered(one))
                total_dxf += other.area_mm2
                length += sum(abs(b - a) + abs(c - b) for a, b, c in one)
            # An outline shifted by the agreement all along its length changes the area by their product.
            assert abs(total_svg - total_dxf) <= AGREEMENT_MM * length, (drawing.sheet.id, layer)


@each_example
def test_contours_are_closed_except_letters(path: Path) -> None:
    for drawing in drawings(path):
        for item in drawing.dxf:
            if isinstance(item, Polyline) and item.layer in drawing.cut_layers:
                assert item.closed or item.layer in drawing.engraved, (drawing.sheet.id, item.layer)


def _near_pairs(points: list[complex]) -> Iterator[tuple[complex, complex]]:
    """Pairs nearer than the closest distance, by cells of that size."""
    cells: dict[tuple[int, int], list[complex]] = defaultdict(list)
    for point in points:
        column, row = int(point.real // CLOSEST_MM), int(point.imag // CLOSEST_MM)
        for dx in (-1, 0, 1):
            for dy in (-1, 0, 1):
                yield from ((point, other) for other in cells.get((column + dx, row + dy), ()) if abs(point - other) < CLOSEST_MM)
        cells[column, row].append(point)


def test_near_points_are_found() -> None:
    assert list(_near_pairs([0j, 0.0009 + 0j])) == [(0.0009 + 0j, 0j)]
    assert not list(_near_pairs([0j, 0.0011 + 0j, 5 + 5j]))


@each_example
def test_no_two_points_of_a_cut_layer_are_closer_than_readers_can_tell(path: Path) -> None:
    for drawing in drawings(path):
        for layer in drawing.cut_layers:
            closed = [item for item in drawing.on(layer) if isinstance(item, Polyline) and item.closed]
            points = [complex(x, y) for item in closed for x, y, _ in item.points]
            assert not list(_near_pairs(points)), (drawing.sheet.id, layer)
            # A letter's strokes may meet each other; none may hold a point twice in a row.
            for item in drawing.on(layer):
                if isinstance(item, Polyline) and not item.closed:
                    steps = zip(item.points, item.points[1:], strict=False)
                    assert all(math.dist(a[:2], b[:2]) >= CLOSEST_MM for a, b in steps), (drawing.sheet.id, layer)


def _sample(item: Polyline | Circle) -> tuple[Any, ...]:
    """The shape's points to 0.001 mm in an order that does not depend on where it starts or which way it runs."""
    if isinstance(item, Circle):
        return ("circle", round(item.centre.real, 3), round(item.centre.imag, 3), round(item.r, 3))
    ends = [(round(x, 3), round(y, 3)) for x, y, _ in item.points]
    middles = [(round(point.real, 3), round(point.imag, 3)) for point in item.middles]
    return ("outline", tuple(sorted(ends)), tuple(sorted(middles)))


@each_example
def test_no_contour_is_cut_twice(path: Path) -> None:
    """In one file, over all its cut layers."""
    for drawing in drawings(path):
        cut = [_sample(item) for item in drawing.dxf if item.layer in drawing.cut_layers]
        twice = {item for item in cut if cut.count(item) > 1}
        assert not twice, (drawing.sheet.id, twice)


def _polygon(item: Polyline | Circle) -> Any:
    from shapely import LinearRing, Point, Polygon

    if isinstance(item, Circle):
        return Point(item.centre.real, item.centre.imag).buffer(item.r, 64)
    points: list[tuple[float, float]] = []
    for (x, y, bulge), middle in zip(item.points, item.middles, strict=True):
        points.append((x, y))
        if bulge:
            points.append((middle.real, middle.imag))
    assert LinearRing(points).is_simple, item.layer
    return Polygon(points)


@each_example
def test_no_contour_crosses_itself_and_bores_keep_clear_of_the_edge(path: Path) -> None:
    """A bore or an opening that met the outer edge would leave no wall; on each sheet that cuts the edge."""
    for drawing in drawings(path):
        work = {layer.name: layer.operation for layer in drawing.sheet.layers if not layer.reference}
        shapes = [
            (work[item.layer], _polygon(item))
            for item in drawing.dxf
            if item.layer in work and (isinstance(item, Circle) or item.closed)
        ]
        edges = [shape for operation, shape in shapes if operation == "outer_edge"]
        assert len(edges) <= 1
        for edge in edges:
            inside = [shape for operation, shape in shapes if operation in ("bore", "opening")]
            assert all(edge.contains(shape) for shape in inside), drawing.sheet.id
            assert all(not a.intersects(b) for k, a in enumerate(inside) for b in inside[:k]), drawing.sheet.id
