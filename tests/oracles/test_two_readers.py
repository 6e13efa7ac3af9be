"""Two readers that know nothing of each other or of the writers: GDAL on the DXF, svgelements on the SVG; all drawings of all examples."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from tests.oracles.sheet_files import gdal_areas, svg_items
from tests.part_samples import EXAMPLES, example

from trivet.drawing.nested_sheets import nested_sheets
from trivet.drawing.part_sheet import PartSheet
from trivet.drawing.parts import sheets_of
from trivet.drawing.scale_square import scale_slips
from trivet.emit.dxf import dxf
from trivet.solve.nest import nest

AGREE_MM = 0.01
each_example = pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)


@cache
def drawings(path: Path) -> tuple[PartSheet, ...]:
    """Part drawings and sheet drawings."""
    design, derived, parts = example(path)
    return (*sheets_of(design, parts), *nested_sheets(design, nest(design, derived)))


@each_example
def test_both_readers_find_the_same_areas_at_the_same_places(path: Path) -> None:
    """Every closed contour that is cut: its box within 0.01 mm on each side, its area within that along its length."""
    for drawn in drawings(path):
        mm = 25.4 if drawn.unit == "in" else 1.0
        from_dxf, from_svg = gdal_areas(drawn), svg_items(drawn)
        count = 0
        for layer in dict.fromkeys(layer.name for layer in drawn.layers if not layer.reference and layer.operation != "engrave"):
            left = [item.area for item in from_svg if item.layer == layer and item.area.geom_type == "Polygon"]
            right = from_dxf[layer.replace(",", "-")]
            assert len(left) == len(right) > 0, (drawn.id, layer)
            for one, other in zip(left, right, strict=True):
                count += 1
                ends = zip(one.bounds, (value * mm for value in other.bounds), strict=True)
                assert all(abs(a - b) <= AGREE_MM for a, b in ends), (drawn.id, layer)
                assert abs(one.area - other.area * mm * mm) <= AGREE_MM * one.length, (drawn.id, layer)
        assert count


# Factor by which a drawing comes out, from inches, and from 96, 90 or 72 units to the inch; the unit that a reader takes for another.
# Worked from 25.4 mm to the inch (international yard and pound agreement of 1959) and CSS's 96 to the inch (W3C, CSS Values and Units 3,
# section 6.2, from memory); the figures are those of the trade notes' table, printed to four places.
SLIPS = [
    (96.0, 25.4, 3.780), (25.4, 96.0, 0.2646), (72.0, 25.4, 2.835), (25.4, 72.0, 0.3528), (90.0, 25.4, 3.543), (25.4, 90.0, 0.2822),
    (96.0, 72.0, 1.333), (72.0, 96.0, 0.75), (96.0, 90.0, 1.067), (90.0, 96.0, 0.9375), (25.4, 1.0, 25.4), (1.0, 25.4, 0.03937),
]  # fmt: skip


@pytest.mark.parametrize(("written_per_inch", "read_per_inch", "factor"), SLIPS)
def test_the_square_reads_as_the_table_of_slips_says(written_per_inch: float, read_per_inch: float, factor: float) -> None:
    """The SVG is read with one unit and measured with another, as a mistaken import does; the square then shows by how much."""
    drawn = drawings(EXAMPLES[0])[-1]
    (square,) = [item.area for item in svg_items(drawn, ppi=written_per_inch) if item.layer == "reference scale square"]
    x0, y0, x1, y1 = square.bounds
    sides = [(high - low) * 25.4 / read_per_inch for low, high in ((x0, x1), (y0, y1))]
    # The printed factors have four figures.
    assert all(abs(side / 100.0 - factor) <= 0.00051 * factor for side in sides)
    assert min(abs(slip.reading_mm - sides[0]) for slip in scale_slips()) <= 0.01 * max(1.0, factor)
    assert abs(sides[0] - 100.0) > 5.0


def test_a_dxf_read_without_its_unit_shows_on_the_square() -> None:
    """An inch drawing whose header is not heeded comes out 25.4 times too small, and a metric one too large as inches."""
    inch = next(path for path in EXAMPLES if path.stem == "inch_table")
    for path, factor in ((inch, 1 / 25.4), (EXAMPLES[0], 1.0)):
        drawn = drawings(path)[-1]
        (square,) = gdal_areas(drawn, dxf(drawn))["reference scale square"]
        x0, _, x1, _ = square.bounds
        assert abs((x1 - x0) - 100.0 * factor) <= AGREE_MM
    assert any(abs(slip.factor - 1 / 25.4) < 1e-6 for slip in scale_slips())
