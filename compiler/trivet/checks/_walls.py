"""How much wood stands between two cuts of a part, and between a cut and the part's edge, seen from above."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise, product

from trivet.solve.contour import Contour
from trivet.solve.feature import Feature, Round

# Arcs are followed by chords this close to them, mm.
CHORD_MM = 0.002
# Chords that only sort out what is far from an edge, mm.
ROUGH_CHORD_MM = 0.5
# Side of the squares that cuts are sorted into, mm.
SQUARE_MM = 40.0
# A cut wider than this is sorted into one square only, mm.
WIDEST_MM = 4000.0
Point = tuple[float, float]


def box_of(cut: Round | Contour) -> tuple[float, float, float, float]:
    """Least x and y, greatest x and y."""
    if isinstance(cut, Contour):
        return cut.bounds
    r = cut.diameter_mm / 2.0
    return cut.x_mm - r, cut.y_mm - r, cut.x_mm + r, cut.y_mm + r


def far_apart(one: Round | Contour, other: Round | Contour, margin_mm: float) -> bool:
    """Whether the boxes alone show that two cuts are at least the margin apart."""
    (x0, y0, x1, y1), (u0, v0, u1, v1) = box_of(one), box_of(other)
    return max(u0 - x1, x0 - u1, v0 - y1, y0 - v1) >= margin_mm


def far_inside(cut: Round | Contour, edge: Sequence[Point], margin_mm: float) -> bool:
    """Whether the cut's box alone shows that the cut is at least the margin inside the edge.

    Two shapes that do not cross are nearest to each other at a corner of one of them: the box's corners and the edge's are tried.
    """
    x0, y0, x1, y1 = box_of(cut)
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    if not all(inside(corner, edge) for corner in corners):
        return False
    for x, y in edge:
        if math.hypot(max(x0 - x, 0.0, x - x1), max(y0 - y, 0.0, y - y1)) < margin_mm:
            return False
    return all(distance_mm(corner, edge) >= margin_mm for corner in corners)


def squares_of(cut: Round | Contour, margin_mm: float) -> Iterator[tuple[int, int]]:
    """The squares that a cut with a margin round it touches: two cuts nearer than the margin share one."""
    box = box_of(cut)
    if max(box[2] - box[0], box[3] - box[1]) > WIDEST_MM:
        # A slip of the keyboard, or a board-wide opening: too many squares to list, so it meets only what is as wide.
        yield (0, 0)
        return
    low, high = ([math.floor((v + m) / SQUARE_MM) for v in side] for side, m in ((box[:2], -margin_mm), (box[2:], margin_mm)))
    yield from product(range(low[0], high[0] + 1), range(low[1], high[1] + 1))


def share_height(one: Feature, other: Feature, thickness_mm: float) -> bool:
    """Whether two cuts lie side by side at some depth: not where they come from opposite faces and do not meet."""
    if one.depth_mm is None or other.depth_mm is None or one.face == other.face:
        return True
    return one.depth_mm + other.depth_mm > thickness_mm


def wall_mm(one: Round | Contour, other: Round | Contour) -> float | None:
    """Wood between two cuts; negative where two round ones run into each other. None where one lies inside the other, or where a
    contour crosses the other: such cuts are meant to join.
    """
    if isinstance(one, Round) and isinstance(other, Round):
        apart = math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)
        if apart + min(one.diameter_mm, other.diameter_mm) / 2.0 <= max(one.diameter_mm, other.diameter_mm) / 2.0 + 1e-6:
            return None
        return apart - (one.diameter_mm + other.diameter_mm) / 2.0
    first, second = _points(one), _points(other)
    if any(inside(p, second) for p in first) or any(inside(p, first) for p in second):
        return None
    if not far_apart(one, other, 0.0) and cross(first, second):
        return None
    return _apart_mm(first, second)


def _apart_mm(one: Sequence[Point], other: Sequence[Point]) -> float:
    """Between the sides of two polygons that do not cross: they are nearest to each other at a corner of one of them."""
    return min(min(distance_mm(p, other) for p in one), min(distance_mm(p, one) for p in other))


def edge_wall_mm(cut: Round | Contour, edge: Sequence[Point]) -> float | None:
    """Wood between a cut and the edge; negative where a round cut breaks through it. None where a contour crosses it: it is meant to."""
    if isinstance(cut, Round):
        centre = (cut.x_mm, cut.y_mm)
        away = distance_mm(centre, edge)
        return (away if inside(centre, edge) else -away) - cut.diameter_mm / 2.0
    points = _points(cut)
    if not all(inside(p, edge) for p in points) or cross(points, edge):
        return None
    return _apart_mm(points, edge)


def _points(cut: Round | Contour) -> Sequence[Point]:
    if isinstance(cut, Contour):
        return cut.points(CHORD_MM)
    count = 48
    r = cut.diameter_mm / 2.0
    turns = [2.0 * math.pi * k / count for k in range(count)]
    return [(cut.x_mm + r * math.cos(t), cut.y_mm + r * math.sin(t)) for t in turns]


def sides(polygon: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Both ends of each side of a closed polygon."""
    return pairwise((*polygon, polygon[0]))


def inside(point: Point, polygon: Sequence[Point]) -> bool:
    """Whether a point lies within a closed polygon, by the crossings of a ray."""
    x, y = point
    found = False
    for (x0, y0), (x1, y1) in sides(polygon):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            found = not found
    return found


def cross(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two closed polygons cross; they may though neither has a corner in the other, as the bars of a cross do."""
    return any(
        _left(a, b, c) != _left(a, b, d) and _left(c, d, a) != _left(c, d, b)
        for a, b in sides(one)
        for c, d in sides(other)
    )


def _left(a: Point, b: Point, p: Point) -> bool:
    return (b[0] - a[0]) * (p[1] - a[1]) > (b[1] - a[1]) * (p[0] - a[0])


def distance_mm(point: Point, polygon: Sequence[Point]) -> float:
    """From a point to the nearest side of a closed polygon."""
    x, y = point
    best = math.inf
    for (x0, y0), (x1, y1) in sides(polygon):
        dx, dy = x1 - x0, y1 - y0
        length = dx * dx + dy * dy
        along = max(0.0, min(1.0, ((x - x0) * dx + (y - y0) * dy) / length)) if length > 0.0 else 0.0
        best = min(best, math.hypot(x - x0 - along * dx, y - y0 - along * dy))
    return best
