"""What would make a cutting service refuse a contour: repeated points, crossings, no area, duplicates."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

from trivet.record import record
from trivet.solve.contour import Contour

if TYPE_CHECKING:
    from shapely import LinearRing

# Programs that read drawings commonly join or drop points nearer than this (common practice, no source).
CLOSEST_POINTS_MM = 0.001
# Chords used to look for crossings; a crossing shallower than this can stay unseen.
CROSSING_TOLERANCE_MM = 0.001
LEAST_AREA_MM2 = 1e-6

FaultKind = Literal["not-finite", "too-few-points", "points-too-close", "no-area", "crosses-itself", "duplicate"]


@record
class ContourFault:
    """What is wrong, where (mm), in words; `x_mm`, `y_mm` are 0 where no one place can be named."""

    kind: FaultKind
    x_mm: float
    y_mm: float
    words: str


def contour_faults(contour: Contour) -> tuple[ContourFault, ...]:
    """All faults of one contour, in order along it; empty when none is known."""
    vertices = contour.vertices
    if not all(math.isfinite(n) for v in vertices for n in (v.x, v.y, v.bulge)):
        return (ContourFault("not-finite", 0.0, 0.0, "a coordinate is not a number"),)
    if len(vertices) < 2 or (len(vertices) == 2 and not any(v.bulge for v in vertices)):
        return (ContourFault("too-few-points", 0.0, 0.0, "fewer points than a closed outline needs"),)
    found = [
        ContourFault("points-too-close", s.x0, s.y0, f"two neighbouring points are {s.chord_mm:.4f} mm apart")
        for s in contour.segments()
        if s.chord_mm < CLOSEST_POINTS_MM
    ]
    if abs(contour.area_mm2) < LEAST_AREA_MM2:
        found.append(ContourFault("no-area", vertices[0].x, vertices[0].y, "the outline encloses no area"))
        return tuple(found)
    return tuple(found + _crossing(contour))


def duplicate_contours(contours: Sequence[Contour]) -> tuple[tuple[int, int], ...]:
    """Index pairs of contours that lie on one another, whatever their first point and sense."""
    from shapely import hausdorff_distance

    order = sorted(range(len(contours)), key=lambda k: (contours[k].bounds, k))
    bounds = {k: contours[k].bounds for k in order}
    rings: dict[int, LinearRing] = {}
    found: list[tuple[int, int]] = []
    for place, first in enumerate(order):
        for second in order[place + 1 :]:
            if bounds[second][0] - bounds[first][0] > CLOSEST_POINTS_MM:
                break
            if any(abs(a - b) > CLOSEST_POINTS_MM for a, b in zip(bounds[first], bounds[second], strict=True)):
                continue
            for k in (first, second):
                rings.setdefault(k, _ring(contours[k]))
            # Chords of the two may fall differently: their sagittas come on top of the closeness asked.
            if hausdorff_distance(rings[first], rings[second]) < CLOSEST_POINTS_MM + 2.0 * CROSSING_TOLERANCE_MM:
                found.append((min(first, second), max(first, second)))
    return tuple(sorted(found))


def _ring(contour: Contour) -> LinearRing:
    from shapely import LinearRing

    return LinearRing(contour.points(CROSSING_TOLERANCE_MM))


def _crossing(contour: Contour) -> list[ContourFault]:
    from shapely import Polygon, is_valid_reason

    points = contour.points(CROSSING_TOLERANCE_MM)
    if len(points) < 3:
        return []
    reason = is_valid_reason(Polygon(points))
    if reason == "Valid Geometry":
        return []
    place = reason.partition("[")[2].rstrip("]").split()
    x, y = (float(place[0]), float(place[1])) if len(place) >= 2 else (0.0, 0.0)
    return [ContourFault("crosses-itself", x, y, f"the outline crosses or touches itself near ({round(x, 2):g}, {round(y, 2):g}) mm")]
