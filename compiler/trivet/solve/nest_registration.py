"""Index holes in the waste of a sheet that is turned over: two that locate it, far apart, and a third that keeps every wrong turn off.

Any two holes go onto any two dowels at their distance, whichever way the sheet is turned. Three do so in one way only when their sides
differ: the sheet not turned over, turned over about the wrong axis, or turned half round lies off a dowel by more than its diameter.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import permutations
from typing import Any

from trivet.solve.contour import Contour
from trivet.solve.nest_records import IndexHole, Job, Stock

# Slide fit of the two that locate, and room round the third, which only guards; diametral, mm (common practice, no source).
SLIDE_MM, GUARD_MM = 0.1, 1.0
# Wood between hole and the sheet's edge, mm, and how far beyond the pieces holes may stand, so that the rest of the sheet stays whole
# (common practice, no source).
WALL_MM, BEYOND_MM = 5.0, 12.0
# The holes that locate stand at least this share of the used sheet's longer side apart (common practice, no source).
LEAST_SHARE = 0.6
# A wrong turn misses a dowel by so many of its diameters at least.
MISSES_BY = 1.5
_STEP_MM = 5.0
_MOST = 400

Point = tuple[float, float]


def reserve_mm(job: Job) -> float:
    """Radius kept free at corners of a sheet for index holes."""
    return max(job.dowel_mm / 2.0 + GUARD_MM / 2.0 + WALL_MM, (job.dowel_mm + GUARD_MM) / 2.0 + job.spacing_mm / 2.0)


def index_holes(
    job: Job, stock: Stock, outlines: Sequence[Contour], used: tuple[float, float, float, float]
) -> tuple[IndexHole, ...]:
    """Three holes, or none where no three places suit: inside the sheet, off the pieces by the spacing, far enough apart.

    Thick dowels beside a piece that fills the sheet's breadth may need more of the sheet than thin ones.
    """
    longer = max(used[2] - used[0], used[3] - used[1])
    for beyond in (BEYOND_MM, 2.0 * BEYOND_MM):
        places = _places(job, stock, outlines, used, beyond)
        chosen = _chosen(places, LEAST_SHARE * longer, MISSES_BY * (job.dowel_mm + GUARD_MM)) if len(places) >= 3 else None
        if chosen is not None:
            return tuple(
                IndexHole(x, y, round(job.dowel_mm + (GUARD_MM if index == 2 else SLIDE_MM), 4), index == 2)
                for index, (x, y) in enumerate(chosen)
            )
    return ()


def _places(
    job: Job, stock: Stock, outlines: Sequence[Contour], used: tuple[float, float, float, float], beyond_mm: float = BEYOND_MM
) -> list[Point]:
    """Places for a hole's centre: a grid over the free waste near the pieces, and the corners of that waste."""
    import numpy
    import shapely

    reach = (job.dowel_mm + GUARD_MM) / 2.0
    beyond = reach + job.spacing_mm + beyond_mm
    low_x, low_y = max(reach + WALL_MM, used[0] - beyond), max(reach + WALL_MM, used[1] - beyond)
    high_x = min(stock.width_mm - reach - WALL_MM, used[2] + beyond)
    high_y = min(stock.height_mm - reach - WALL_MM, used[3] + beyond)
    if high_x <= low_x or high_y <= low_y:
        return []
    pieces = [shapely.Polygon(outline.points(0.05)) for outline in outlines]
    closed = shapely.union_all(shapely.buffer(pieces, reach + job.spacing_mm + 0.1, quad_segs=16))
    free = shapely.difference(shapely.box(low_x, low_y, high_x, high_y), closed)
    if free.is_empty:
        return []
    xs = numpy.append(numpy.arange(math.ceil(low_x), high_x, _STEP_MM), math.floor(high_x))
    ys = numpy.append(numpy.arange(math.ceil(low_y), high_y, _STEP_MM), math.floor(high_y))
    grid = numpy.stack(numpy.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    inside = grid[shapely.contains_xy(free, grid[:, 0], grid[:, 1])]
    return _thinned(inside)


def _thinned(points: Any) -> list[Point]:
    """The outermost in many directions and some between, so that looking at triples stays cheap; sorted."""
    import numpy

    if not len(points):
        return []
    order = numpy.lexsort((points[:, 1], points[:, 0]))
    points = points[order]
    if len(points) > _MOST:
        turns = numpy.arange(64) * (2.0 * math.pi / 64)
        far = points @ numpy.stack([numpy.cos(turns), numpy.sin(turns)])
        keep = sorted({*map(int, numpy.argmax(numpy.round(far, 6), axis=0)), *range(0, len(points), len(points) // _MOST + 1)})
        points = points[keep]
    return [(float(x), float(y)) for x, y in points]


def _chosen(places: Sequence[Point], least_mm: float, miss_mm: float) -> tuple[Point, Point, Point] | None:
    """The two farthest apart, and the third that makes every wrong turn miss by most."""
    import numpy

    at = numpy.array(places)
    apart = numpy.round(numpy.hypot(*(at[:, None, :] - at[None, :, :]).transpose(2, 0, 1)), 3)
    pairs = numpy.argwhere(numpy.triu(apart, 1) >= max(least_mm, 1.0))
    if not len(pairs):
        return None
    ranks = numpy.lexsort((pairs[:, 1], pairs[:, 0], -apart[pairs[:, 0], pairs[:, 1]]))
    for rank in ranks[:40]:
        a, b = (places[int(k)] for k in pairs[rank])
        best = max(((round(least_miss_mm((a, b, c)), 3), c) for c in places if c not in (a, b)), default=None)
        if best is not None and best[0] >= miss_mm:
            return a, b, best[1]
    return None


def least_miss_mm(holes: tuple[Point, Point, Point]) -> float:
    """By how much the three holes at least miss the dowels in the best of all wrong ways to put the sheet on them, mm.

    The right way is the sheet turned over; a wrong one has it not turned over, or its holes on each other's dowels. Each is put on as
    well as it goes: middles on each other, turned for the least squares (Kabsch, Acta Crystallographica A 32, 1976, from memory).
    """
    middle_x, middle_y = (sum(point[axis] for point in holes) / 3.0 for axis in (0, 1))
    right = [complex(x - middle_x, y - middle_y) for x, y in holes]
    least = math.inf
    for mirrored in (False, True):
        for order in permutations(range(3)):
            if not mirrored and order == (0, 1, 2):
                continue
            moved = [right[k].conjugate() if mirrored else right[k] for k in order]
            turn = sum(there * here.conjugate() for there, here in zip(right, moved, strict=True))
            turn = turn / abs(turn) if abs(turn) > 1e-9 else 1.0 + 0j
            least = min(least, max(abs(there - here * turn) for there, here in zip(right, moved, strict=True)))
    return least
