"""Index holes: how far wrong turns miss, by trying every angle; which three places are chosen, by trying all; and regions that shapes bar.

Lengths mm.
"""

from __future__ import annotations

import itertools
import math
import random
from typing import Any

import numpy
import pytest
import shapely
from tests.sharp.test_sharp_nest import ELL, job, piece

from trivet.record import replace
from trivet.solve import nest_registration
from trivet.solve.contour import Contour
from trivet.solve.contour_shapes import circle, polygon, rectangle
from trivet.solve.nest_records import IndexHole, Stock
from trivet.solve.nest_registration import Point, _chosen, _places, _thinned, index_holes, least_miss_mm
from trivet.solve.nest_shapes import Grown, forbidden, grown

STOCK = Stock(600.0, 400.0, None, False)
DRAWN = random.Random(11)


def tried(holes: tuple[Point, ...]) -> float:
    """Every order of the holes, mirrored and not but for the right way, turned by every hundredth of a degree about the middle."""
    middle = (sum(x for x, _ in holes) / 3.0, sum(y for _, y in holes) / 3.0)
    at = [(x - middle[0], y - middle[1]) for x, y in holes]
    angles = numpy.radians(numpy.arange(0.0, 360.0, 0.01))
    c, s = numpy.cos(angles), numpy.sin(angles)
    least = math.inf
    for mirrored, order in itertools.product((False, True), itertools.permutations(range(3))):
        if not mirrored and order == (0, 1, 2):
            continue
        squares, farthest = numpy.zeros(len(angles)), numpy.zeros(len(angles))
        for (x, y), k in zip(at, order, strict=True):
            u, v = at[k][0], -at[k][1] if mirrored else at[k][1]
            away = numpy.hypot(u * c - v * s - x, u * s + v * c - y)
            squares, farthest = squares + away**2, numpy.maximum(farthest, away)
        least = min(least, float(farthest[int(numpy.argmin(squares))]))
    return least


TRIPLES: list[tuple[Point, Point, Point]] = [
    ((0, 0), (300, 0), (80, 60)), ((10, 20), (590, 380), (590, 20)), ((-50, 7), (250, 30), (90, -40)), ((0, 0), (100, 0), (30, 0.5)),
    ((500, 100), (20, 300), (480, 330)),
]  # fmt: skip


@pytest.mark.parametrize("holes", TRIPLES)
def test_how_far_a_wrong_turn_misses(holes: tuple[Point, Point, Point]) -> None:
    found = least_miss_mm(holes)
    assert found == pytest.approx(tried(holes), abs=0.1) and found > 0.3
    # It is a thing of the triangle alone: moved, turned, mirrored or taken in another order it is the same.
    a, b, c = ((5.0 - 0.6 * x + 0.8 * y, -3.0 + 0.8 * x + 0.6 * y) for x, y in holes)
    assert least_miss_mm((a, b, c)) == pytest.approx(found) and least_miss_mm((c, a, b)) == pytest.approx(found)
    for scale in (2.0, 0.001):
        a, b, c = ((scale * x, scale * y) for x, y in holes)
        assert least_miss_mm((a, b, c)) == pytest.approx(scale * found)


def test_even_sides_go_on_in_other_ways() -> None:
    assert least_miss_mm(((0, 0), (40, 0), (20, 30))) == pytest.approx(0.0, abs=1e-9)
    assert least_miss_mm(((0, 0), (40, 0), (20, 20.0 * math.sqrt(3.0)))) == pytest.approx(0.0, abs=1e-9)
    # In one line: mirrored they lie as they were.
    assert least_miss_mm(((0, 0), (40, 0), (100, 0))) == pytest.approx(0.0, abs=1e-9)


def chosen(places: list[Point], least: float, miss: float) -> tuple[Point, Point, Point] | None:
    """All pairs, the farthest apart first, the first named of equals; of the thirds that with the greatest miss, the last named of equals."""
    pairs = [(round(math.dist(a, b), 3), a, b) for a, b in itertools.combinations(places, 2)]
    for apart, a, b in sorted(pairs, key=lambda item: -item[0])[:40]:
        if apart < max(least, 1.0):
            continue
        thirds = [(round(least_miss_mm((a, b, c)), 3), c) for c in places if c not in (a, b)]
        if thirds and max(thirds)[0] >= miss:
            return a, b, max(thirds)[1]
    return None


@pytest.mark.parametrize("count", [3, 5, 8, 14])
def test_which_places_are_chosen(count: int) -> None:
    none = 0
    for _ in range(6):
        places = sorted((float(DRAWN.randrange(0, 120)), float(DRAWN.randrange(0, 60))) for _ in range(count))
        for least, miss in ((0.0, 0.0), (0.0, 13.5), (60.0, 9.0), (95.0, 2.0), (0.0, 25.0)):
            found = _chosen(places, least, miss)
            assert found == chosen(places, least, miss)
            none += found is None
    assert none > 0


def test_places_a_millimetre_apart() -> None:
    """Two locating holes stand at least 1 apart and at least as far as is asked."""
    small: list[Point] = [(0.0, 0.0), (0.2, 0.9), (0.9, 0.5)]
    assert _chosen(small, 0.0, 0.0) == ((0.0, 0.0), (0.9, 0.5), (0.2, 0.9))
    assert _chosen(small, 1.029, 0.0) is not None and _chosen(small, 1.031, 0.0) is None
    tiny: list[Point] = [(0.0, 0.0), (0.1, 0.9), (0.4, 0.6)]
    assert _chosen(tiny, 0.0, 0.0) is None
    # Just as far as is asked is far enough; of equal diagonals that of the first corner.
    assert _chosen([(0.0, 0.0), (0.5, 0.3), (1.0, 0.0)], 1.0, 0.0) is not None
    corners: list[Point] = [(0.0, 0.0), (0.0, 30.0), (40.0, 0.0), (40.0, 30.0)]
    for least in (0.0, 50.0):
        across = _chosen(corners, least, 0.0)
        assert across is not None and across[:2] == ((0.0, 0.0), (40.0, 30.0))
    assert _chosen(corners, 50.001, 0.0) is None


@pytest.mark.parametrize(("used", "longer"), [((10, 20, 310, 120), 300.0), ((10, 20, 110, 420), 400.0), ((50, 40, 250, 90), 200.0)])
def test_what_is_asked_of_three_places(monkeypatch: pytest.MonkeyPatch, used: Any, longer: float) -> None:
    """Six tenths of the longer side apart, one and a half guard holes of miss; the third hole has 1 of room, the two 0.1."""
    asked: list[tuple[Any, ...]] = []
    three: list[Point] = [(1.0, 2.0), (3.0, 4.0), (5.0, 6.0)]
    monkeypatch.setattr(nest_registration, "_chosen", lambda *facts: asked.append(facts) or tuple(three))
    made = job(piece(), dowel_mm=8.12344)
    for places, holes in ((three, 3), (three[:2], 0)):
        monkeypatch.setattr(nest_registration, "_places", lambda *facts, places=places: places)
        found = index_holes(made, STOCK, (), used)
        assert len(found) == holes
    assert asked == [(three, pytest.approx(0.6 * longer), pytest.approx(1.5 * 9.12344))]
    monkeypatch.setattr(nest_registration, "_places", lambda *facts: three)
    assert index_holes(made, STOCK, (), used) == (
        IndexHole(1.0, 2.0, 8.2234, False), IndexHole(3.0, 4.0, 8.2234, False), IndexHole(5.0, 6.0, 9.1234, True),
    )  # fmt: skip
    monkeypatch.setattr(nest_registration, "_chosen", lambda *facts: None)
    assert index_holes(made, STOCK, (), used) == ()


@pytest.mark.parametrize(
    ("used", "part"),
    [
        ((150, 100, 450, 300), rectangle(150, 100, 150, 100)), ((10, 10, 590, 390), rectangle(10, 10, 290, 190)),
        ((200.5, 80.3, 300.25, 210.6), rectangle(200.5, 80.3, 50, 65)),
        # A grid that is kept whole; 10.5 from the edges at 129.5 is too near, and so is 10.5 from a round edge.
        ((99.5, 99.5, 129.5, 129.5), rectangle(99.5, 99.5, 30, 30)), ((95, 95, 135, 135), circle(115, 115, 20)),
        ((100, 100, 130, 130), circle(118, 117, 18)),
    ],
)  # fmt: skip
def test_every_place_of_a_grid_of_five(used: Any, part: Contour) -> None:
    """From the least to the greatest whole millimetre that is allowed, every fifth, and the last; off the piece by 4.5, 6 and 0.1."""
    found = _places(job(spacing_mm=6.0), STOCK, (part,), used)
    low = [max(9.5, used[k] - 22.5) for k in (0, 1)]
    high = [min(size - 9.5, used[k] + 22.5) for k, size in ((2, 600.0), (3, 400.0))]
    sets = [{*range(math.ceil(a), math.ceil(b), 5), math.floor(b)} for a, b in zip(low, high, strict=True)]
    shape, frame = shapely.Polygon(part.points(0.001)), shapely.box(*low, *high).buffer(-1e-9)
    away = {(float(x), float(y)): shape.distance(shapely.Point(x, y)) for x in sets[0] for y in sets[1] if frame.contains(shapely.Point(x, y))}
    assert found == sorted(found) and all(away[at] > 10.6 - 0.1 for at in found)
    surely = {at for at, apart in away.items() if apart > 10.6 + 0.001}
    assert len(found) < 470 and (len(surely) > 395 or surely <= set(found))


def test_those_farthest_out_are_kept() -> None:
    """64 places in a ring round two thousand: each is the farthest in one of 64 directions."""
    ring = [(100.0 * math.cos(k * math.pi / 32), 100.0 * math.sin(k * math.pi / 32)) for k in range(64)]
    kept = _thinned(numpy.array([*ring, *((float(x), float(y)) for x in range(-20, 25) for y in range(-20, 25))]))
    assert {(round(x, 6), round(y, 6)) for x, y in ring} <= {(round(x, 6), round(y, 6)) for x, y in kept} and len(kept) <= 400 + 64


def test_few_of_many_places() -> None:
    """Every second of 401, every third of 801 and more; those farthest out in 64 directions besides."""
    line = numpy.array([(float(x), 0.0) for x in range(900)])
    for count, step in ((400, 1), (401, 2), (800, 3), (799, 2), (801, 3)):
        kept = _thinned(line[:count])
        assert kept == [(float(x), 0.0) for x in range(count) if x % step == 0 or x == count - 1]
    grid = numpy.array([(float(x), float(y)) for x in range(41) for y in range(41)])
    disc = grid[numpy.hypot(grid[:, 0] - 20.0, grid[:, 1] - 20.0) <= 20.0]
    kept = _thinned(disc)
    for k in range(64):
        c, s = math.cos(k * math.pi / 32), math.sin(k * math.pi / 32)
        assert max(x * c + y * s for x, y in kept) == pytest.approx(float((disc @ numpy.array((c, s))).max()), abs=1e-6)


# Shapes that bar one another.
def region(first: Grown, second: Grown) -> Any:
    return forbidden(first, second)


@pytest.mark.parametrize("by", [(0.0, 0.0), (100.0, 50.0), (-37.0, 4.0)])
@pytest.mark.parametrize("convex", [True, False])
def test_a_shape_moved_is_barred_from_places_moved_back(by: Point, convex: bool) -> None:
    """A square of 4 beside a box of 10 by 9: 14 by 13, with a hair of 0.03 about it where the notched way is taken."""
    dx, dy = by
    square = Grown(tuple((x + dx, y + dy) for x, y in ((0, 0), (4, 0), (4, 4), (0, 4))), True, (dx, dy, 4 + dx, 4 + dy))
    box = Grown(((0, 0), (10, 0), (10, 9), (0, 9)), convex, (0, 0, 10, 9))
    hair = 0.0 if convex else 0.03
    found = region(box, square)
    assert found.bounds == pytest.approx((-4 - dx - hair, -4 - dy - hair, 10 - dx + hair, 9 - dy + hair))
    assert found.area == pytest.approx((14 + 2 * hair) * (13 + 2 * hair), abs=0.01)
    around = region(square, replace(box, convex=convex))
    assert around.bounds == pytest.approx((dx - 10 - hair, dy - 9 - hair, 4 + dx + hair, 4 + dy + hair))


def test_no_gap_in_what_is_barred() -> None:
    """Round and notched outlines with many short edges: where any two places of their edges meet is barred, and so is all between."""
    small = grown(circle(3, -2, 2.5), 1.0, 0.0)
    for other in (grown(ELL, 1.0, 20.0), grown(polygon([(0, 0), (9, 0), (9, 8), (6, 8), (6, 2), (3, 2), (3, 8), (0, 8)]), 0.2, 0.0)):
        assert not other.convex
        for first, second in ((other, small), (small, other), (other, other)):
            found = region(first, second)
            ends = []
            for shape in (first, second):
                ring = shapely.Polygon(shape.points).exterior
                ends.append(numpy.array([ring.interpolate(k / 150, normalized=True).coords[0] for k in range(150)]))
            sums = (ends[0][:, None, :] - ends[1][None, :, :]).reshape(-1, 2)
            assert shapely.contains_xy(found, sums[:, 0], sums[:, 1]).all()


def test_round_shapes_keep_their_distance() -> None:
    """A circle of any size, grown: no chord comes nearer to its middle than radius and half the spacing, nor more than 0.45 farther."""
    for step in range(60):
        for half in (2.0, 5.0, 9.0):
            radius = 3.0 + 0.7 * step
            ring = shapely.Polygon(grown(circle(0, 0, radius), half, 0.0).points).exterior
            assert ring.distance(shapely.Point(0, 0)) >= radius + half
            assert max(math.hypot(x, y) for x, y in ring.coords) <= radius + half + 0.45
