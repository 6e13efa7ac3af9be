"""Where discs and plates lie seen from above: whether they meet, and how far they are apart."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trivet.solve.contour import Contour

Point = tuple[float, float]
# Arcs of plates are followed by chords this close to them, mm.
CHORD_MM = 0.05
# Plates whose edges cross overlap by this at least, mm.
HAIR_MM = 0.01


def inside(point: Point, edge: Sequence[Point]) -> bool:
    """Whether a point lies in a polygon (even-odd rule)."""
    x, y = point
    found = False
    for (x0, y0), (x1, y1) in zip(edge, (*edge[1:], edge[0]), strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            found = not found
    return found


def to_edge_mm(point: Point, edge: Sequence[Point]) -> float:
    """Distance from a point to the nearest place of a polygon's edge, mm."""
    x, y = point
    best = math.inf
    for (x0, y0), (x1, y1) in zip(edge, (*edge[1:], edge[0]), strict=True):
        dx, dy = x1 - x0, y1 - y0
        along = dx * dx + dy * dy
        t = 0.0 if along == 0.0 else max(0.0, min(1.0, ((x - x0) * dx + (y - y0) * dy) / along))
        best = min(best, math.hypot(x0 + t * dx - x, y0 + t * dy - y))
    return best


def disc_gap_mm(point: Point, radius_mm: float, plate: Contour) -> float:
    """From a disc's rim to a plate's edge, mm; negative by how far it reaches into the plate."""
    edge = plate.points(CHORD_MM)
    away = to_edge_mm(point, edge)
    return (-away if inside(point, edge) else away) - radius_mm


def plates_gap_mm(one: Contour, other: Contour) -> float:
    """Between two plates' edges, mm; negative where they overlap, by how far a corner of one (or the middle of what their boxes share)
    lies inside the other, and by a hair where only edges cross.
    """
    first, second = one.points(CHORD_MM), other.points(CHORD_MM)
    gap = math.inf
    for points, edge in ((first, second), (second, first)):
        for point in points:
            away = to_edge_mm(point, edge)
            gap = min(gap, -away if inside(point, edge) else away)
    (x0, y0, x1, y1), (u0, v0, u1, v1) = one.bounds, other.bounds
    middle = ((max(x0, u0) + min(x1, u1)) / 2.0, (max(y0, v0) + min(y1, v1)) / 2.0)
    if inside(middle, first) and inside(middle, second):
        gap = min(gap, -min(to_edge_mm(middle, first), to_edge_mm(middle, second)))
    return min(gap, -HAIR_MM) if _cross(first, second) else gap


def _cross(first: Sequence[Point], second: Sequence[Point]) -> bool:
    for a, b in zip(first, (*first[1:], first[0]), strict=True):
        for c, d in zip(second, (*second[1:], second[0]), strict=True):
            if _side(a, b, c) * _side(a, b, d) < 0.0 and _side(c, d, a) * _side(c, d, b) < 0.0:
                return True
    return False


def _side(a: Point, b: Point, p: Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
