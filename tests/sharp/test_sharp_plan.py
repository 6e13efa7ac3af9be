"""Discs and plates seen from above, at any angle: against a library of plane geometry, and bars crossed where the sum is plain. Lengths mm."""

from __future__ import annotations

import math
import random

import pytest
import shapely
from tests.sharp.test_sharp_outline import arc

from trivet.solve.contour import Contour
from trivet.solve.contour_shapes import circle, polygon, rectangle
from trivet.solve.plan import Point, _cross, _side, disc_gap_mm, inside, plates_gap_mm, to_edge_mm

# Slanted on every side, one corner turned in, none at the origin.
ARROW: tuple[Point, ...] = ((3.0, 2.0), (9.0, 4.5), (12.0, 1.0), (11.0, 9.0), (7.5, 6.5), (2.0, 8.0))
DRAWN = random.Random(7)


def triangles(count: int, size: float) -> list[tuple[Point, ...]]:
    """Triangles of that size, about (2, 3)."""
    return [tuple((2.0 + DRAWN.uniform(0, size), 3.0 + DRAWN.uniform(0, size)) for _ in range(3)) for _ in range(count)]


@pytest.mark.parametrize("ring", [ARROW, ARROW[::-1], ARROW[2:] + ARROW[:2]])
def test_points_beside_slanted_edges(ring: tuple[Point, ...]) -> None:
    shape = shapely.Polygon(ring)
    for k in range(30):
        for n in range(26):
            at = (0.13 + 0.45 * k, 0.17 + 0.41 * n)
            assert inside(at, ring) == shape.contains(shapely.Point(at)), at
            assert to_edge_mm(at, ring) == pytest.approx(shape.exterior.distance(shapely.Point(at))), at


@pytest.mark.parametrize("size", [0.7, 4.0, 60.0])
def test_edges_cross_where_lines_do(size: float) -> None:
    """Also where only the last edge of one crosses the other, and whatever the size."""
    found = []
    for one, other in zip(triangles(150, size), triangles(150, size), strict=True):
        crossed = shapely.Polygon(one).exterior.intersects(shapely.Polygon(other).exterior)
        assert _cross(one, other) == crossed and _cross(other, one) == crossed
        found.append(crossed)
    assert 20 < sum(found) < 140


def test_crossing_at_the_last_edge_only() -> None:
    """A sharp tip through the edge from the last corner to the first; touching is no crossing."""
    wedge = ((8.0, 5.0), (16.0, 4.0), (16.0, 6.0))
    for ring in (((9.0, 0.0), (1.0, 4.0), (9.0, 10.0)), ((9.0, 10.0), (1.0, 6.0), (9.0, 0.0))):
        for tip in (wedge, (wedge[2], wedge[0], wedge[1]), (wedge[1], wedge[2], wedge[0])):
            assert _cross(ring, tip) and _cross(tip, ring)
    touching = ((9.0, 5.0), (16.0, 4.0), (16.0, 6.0))
    for turned in (touching, (touching[2], touching[0], touching[1]), (touching[1], touching[2], touching[0])):
        edge = ((9.0, 0.0), (1.0, 4.0), (9.0, 10.0))
        assert not _cross(edge, turned) and not _cross(turned, edge)
    # Twice the area of a triangle, positive anticlockwise: one of 3 by 4 in any place.
    for dx, dy in ((0.0, 0.0), (5.0, -7.0)):
        a, b, c = ((x + dx, y + dy) for x, y in ((1.0, 2.0), (4.0, 2.0), (1.0, 6.0)))
        assert (_side(a, b, c), _side(b, c, a), _side(a, c, b)) == (12.0, 12.0, -12.0)


@pytest.mark.parametrize("middle", [(100.0, 50.0), (-30.0, 80.0), (40.0, -90.0), (0.0, 0.0)])
@pytest.mark.parametrize(("high", "wide", "deep"), [(6.0, 8.0, 3.0), (10.0, 8.0, 4.0)])
def test_crossed_bars_overlap_by_half_the_thinner(middle: Point, high: float, wide: float, deep: float) -> None:
    x, y = middle
    level, upright = rectangle(x - 20, y - high / 2, 40, high), rectangle(x - wide / 2, y - 20, wide, 40)
    assert plates_gap_mm(level, upright) == pytest.approx(-deep) and plates_gap_mm(upright, level) == pytest.approx(-deep)


def test_round_plates() -> None:
    """Chords lie no more than 0.05 inside an arc, so gaps are no more than twice that too wide."""
    one, other = circle(10, 20, 30), circle(10 + 48, 20 + 64, 25)
    assert 25.0 <= plates_gap_mm(one, other) <= 25.0 + 0.1 and 24.0 <= disc_gap_mm((58, 84), 26.0, one) <= 24.05
    assert -7.0 <= disc_gap_mm((10, 25), 0.0, circle(10, 20, 12)) + 0.0 <= -6.95
    # One within the other: its corners lie 25 from the other's edge, and deeper than its own middle is in it.
    within = plates_gap_mm(one, circle(10, 20, 5))
    assert within == pytest.approx(-25.0, abs=0.06) and plates_gap_mm(circle(10, 20, 5), one) == within


def test_gaps_of_slanted_plates() -> None:
    """Apart, the gap is the distance of the two shapes."""
    turned = [rectangle(-8, -3, 16, 6).rotated(math.radians(angle)) for angle in (0, 20, 65, 110)]
    for one in turned:
        for other in turned:
            moved: Contour = other.translated(17.0, 11.0)
            wanted = shapely.Polygon(one.points(0.05)).distance(shapely.Polygon(moved.points(0.05)))
            assert wanted > 0.0 and plates_gap_mm(one, moved) == pytest.approx(wanted)
    assert plates_gap_mm(polygon(ARROW), polygon([(20, 0), (30, 1), (22, 9)])) == pytest.approx(
        shapely.Polygon(ARROW).distance(shapely.Polygon([(20, 0), (30, 1), (22, 9)]))
    )


@pytest.mark.parametrize("count", [2, 3, 4, 7, 16])
@pytest.mark.parametrize("sweep", [90.0, -90.0, 80.0])
def test_chords_that_just_hold_an_arc(count: int, sweep: float) -> None:
    """A chord of angle t stands off its arc by r (1 − cos t/2): with just that allowed so many do, with a little less one more."""
    piece = arc(1.0, 2.0, 25.0, 30.0, sweep)
    off = 25.0 * (1.0 - math.cos(math.radians(abs(sweep)) / count / 2.0))
    assert [len(piece.points(off * share)) for share in (1.0, 0.999)] == [count, count + 1]
