"""Wood in the section: a board cut along the line of centres, a gear through its axis, each with what is cut into it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from trivet.record import record
from trivet.solve.contour import Contour
from trivet.solve.feature import Cut, Feature, Round
from trivet.solve.part_features import PartFeatures

Interval = tuple[float, float]
Point = tuple[float, float]
# Chords of curved outlines stay this near, mm.
CHORD_MM = 0.02
SAME_MM = 1e-6


@record
class Taken:
    """A cut: from `left_mm` to `right_mm` along the section, from `low_mm` to `high_mm` in height."""

    left_mm: float
    right_mm: float
    low_mm: float
    high_mm: float


@record
class Wood:
    """What is left: rectangles (left, low, right, high) that touch, and the lines round them (x1, z1, x2, z2), mm."""

    rectangles: tuple[tuple[float, float, float, float], ...]
    edges: tuple[tuple[float, float, float, float], ...]


def depth_ranges(layers: Sequence[PartFeatures], top_mm: float) -> Iterator[tuple[Feature, float, float]]:
    """Each cut of a part, given from its top layer down, with the z it reaches from and to; `top_mm`: z of its upper face."""
    for part in layers:
        low = top_mm - part.thickness.mean
        for item in part.features:
            if item.depth_mm is None:
                yield item, low, top_mm
            elif item.operation != "engrave" and item.face == "topside":
                yield item, top_mm - item.depth_mm, top_mm
            elif item.operation != "engrave":
                yield item, low, low + item.depth_mm
        top_mm = low


def crossed(shape: Cut, start: Point, end: Point) -> list[Interval]:
    """Where the line from `start` to `end` runs inside a shape, as distances from the start, mm."""
    length = math.dist(start, end)
    if length == 0.0:
        return []
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    if isinstance(shape, Round):
        along = (shape.x_mm - start[0]) * ux + (shape.y_mm - start[1]) * uy
        off = (shape.y_mm - start[1]) * ux - (shape.x_mm - start[0]) * uy
        half = (shape.diameter_mm / 2.0) ** 2 - off**2
        return _within([(along - math.sqrt(half), along + math.sqrt(half))], length) if half > 0.0 else []
    if not isinstance(shape, Contour):
        return []
    points = shape.points(CHORD_MM)
    sides = [(y - start[1]) * ux - (x - start[0]) * uy for x, y in points]
    found = []
    for index, here in enumerate(sides):
        there = sides[index - 1]
        # A point on the line counts as above it, so that each passage counts once.
        if (here >= 0.0) != (there >= 0.0):
            (x1, y1), (x2, y2) = points[index - 1], points[index]
            share = there / (there - here)
            x, y = x1 + share * (x2 - x1), y1 + share * (y2 - y1)
            found.append((x - start[0]) * ux + (y - start[1]) * uy)
    found.sort()
    return _within(list(zip(found[::2], found[1::2], strict=True)), length)


def _within(intervals: list[Interval], length: float) -> list[Interval]:
    clipped = [(max(0.0, low), min(length, high)) for low, high in intervals]
    return [(low, high) for low, high in clipped if high - low > SAME_MM]


def half_width_mm(shape: Cut) -> float:
    """Half of what a cut round a gear's axis takes: a circle's radius, a hexagon's half across flats; 0 where it is elsewhere."""
    if isinstance(shape, Round):
        return shape.diameter_mm / 2.0 if math.hypot(shape.x_mm, shape.y_mm) < SAME_MM else 0.0
    if not isinstance(shape, Contour):
        return 0.0
    low_x, low_y, high_x, high_y = shape.bounds
    if max(abs(low_x + high_x), abs(low_y + high_y)) > 0.5:
        return 0.0
    points = shape.points(CHORD_MM)
    return min(_distance(points[index - 1], points[index]) for index in range(len(points)))


def _distance(one: Point, other: Point) -> float:
    """From (0, 0) to a side."""
    dx, dy = other[0] - one[0], other[1] - one[1]
    length = dx * dx + dy * dy
    share = 0.0 if length == 0.0 else min(1.0, max(0.0, -(one[0] * dx + one[1] * dy) / length))
    return math.hypot(one[0] + share * dx, one[1] + share * dy)


def wood(spans: Sequence[Interval], low_mm: float, high_mm: float, cuts: Sequence[Taken], open_ends: Sequence[float] = ()) -> Wood:
    """A plate over `spans` less its cuts. No line is drawn at `open_ends`, where the drawing stops but the plate goes on."""
    marks = sorted({mark for span in spans for mark in span} | {mark for cut in cuts for mark in (cut.left_mm, cut.right_mm)})
    strips: list[tuple[float, float, list[Interval]]] = []
    for left, right in pairwise(marks):
        middle = (left + right) / 2.0
        if right - left <= SAME_MM or not any(low <= middle <= high for low, high in spans):
            continue
        taken = [(cut.low_mm, cut.high_mm) for cut in cuts if cut.left_mm <= middle <= cut.right_mm]
        kept = _without((low_mm, high_mm), taken)
        if strips and strips[-1][1] == left and strips[-1][2] == kept:
            strips[-1] = (strips[-1][0], right, kept)
        else:
            strips.append((left, right, kept))
    rectangles = tuple((left, low, right, high) for left, right, kept in strips for low, high in kept)
    edges = [(left, z, right, z) for left, right, kept in strips for span in kept for z in span]
    for index, (left, right, kept) in enumerate(strips):
        before = strips[index - 1][2] if index and abs(strips[index - 1][1] - left) <= SAME_MM else []
        if not any(abs(left - end) <= SAME_MM for end in open_ends):
            edges += [(left, low, left, high) for low, high in _differing(before, kept)]
        joined = index + 1 < len(strips) and abs(strips[index + 1][0] - right) <= SAME_MM
        if not joined and not any(abs(right - end) <= SAME_MM for end in open_ends):
            edges += [(right, low, right, high) for low, high in kept]
    return Wood(rectangles, tuple(edges))


def _without(whole: Interval, taken: Sequence[Interval]) -> list[Interval]:
    kept, at = [], whole[0]
    for low, high in sorted(taken):
        if low - at > SAME_MM:
            kept.append((at, low))
        at = max(at, high)
    if whole[1] - at > SAME_MM:
        kept.append((at, whole[1]))
    return kept


def _differing(one: Sequence[Interval], other: Sequence[Interval]) -> list[Interval]:
    """Heights that are wood on one side of an upright only."""
    marks = sorted({mark for span in (*one, *other) for mark in span})
    found = []
    for low, high in pairwise(marks):
        middle = (low + high) / 2.0
        if any(a < middle < b for a, b in one) != any(a < middle < b for a, b in other):
            found.append((low, high))
    return found
