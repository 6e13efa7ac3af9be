"""The arc a round cutter leaves in the corner between two pieces of a contour."""

from __future__ import annotations

import math

from trivet.record import record
from trivet.solve.segment import Segment

Point = tuple[float, float]


@record
class Fillet:
    """Clockwise arc from one piece to the next. `along_...`: how far along each piece (0 to 1) it touches."""

    from_point: Point
    to_point: Point
    bulge: float
    along_before: float
    along_after: float


def turn_rad(before: Segment, after: Segment) -> float:
    """Change of direction at the join, positive to the left, −pi to pi."""
    (ux, uy), (vx, vy) = before.direction(at_end=True), after.direction(at_end=False)
    return math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)


def corner_fillet(before: Segment, after: Segment, radius_mm: float) -> Fillet | None:
    """The cutter on the right of both pieces, touching each within its length; None when there is no such place.

    The cutter's centre runs at its radius from a line, and on a circle larger or smaller by its radius round an arc;
    the place is where those two paths cross, the crossing nearest the corner if there are two.
    """
    best: tuple[float, Fillet] | None = None
    for centre in _crossings(_offset(before, radius_mm), _offset(after, radius_mm)):
        touch = [_touch(piece, centre) for piece in (before, after)]
        if any(not -1e-8 <= along <= 1.0 + 1e-8 for _, along in touch):
            continue
        (p, along_before), (q, along_after) = touch
        start = math.atan2(p[1] - centre[1], p[0] - centre[0])
        end = math.atan2(q[1] - centre[1], q[0] - centre[0])
        sweep = (start - end) % (2.0 * math.pi)
        fillet = Fillet(p, q, -math.tan(sweep / 4.0), along_before, along_after)
        away = math.dist(centre, (before.x1, before.y1)) + math.dist(centre, (after.x0, after.y0))
        if best is None or away < best[0]:
            best = (away, fillet)
    return best[1] if best else None


# A path of the cutter's centre: a point and a direction (line), or a centre and a radius (circle).
_Path = tuple[Point, Point | None, float]


def _offset(piece: Segment, r: float) -> _Path:
    if piece.is_arc:
        return piece.centre, None, piece.radius_mm + (r if piece.bulge > 0.0 else -r)
    ux, uy = piece.direction(at_end=False)
    return (piece.x0 + r * uy, piece.y0 - r * ux), (ux, uy), 0.0


def _crossings(first: _Path, second: _Path) -> list[Point]:
    if first[1] is None and second[1] is not None:
        first, second = second, first
    (px, py), along, _ = first
    (qx, qy), other, radius = second
    if along is None:
        return _circle_crossings((px, py), first[2], (qx, qy), radius)
    ux, uy = along
    if other is not None:
        cross = ux * other[1] - uy * other[0]
        if abs(cross) < 1e-12:
            return []
        t = ((qx - px) * other[1] - (qy - py) * other[0]) / cross
        return [(px + t * ux, py + t * uy)]
    foot = (qx - px) * ux + (qy - py) * uy
    under = radius**2 - ((qx - px) * uy - (qy - py) * ux) ** 2
    if under < 0.0:
        return []
    return [(px + t * ux, py + t * uy) for t in (foot - math.sqrt(under), foot + math.sqrt(under))]


def _circle_crossings(p: Point, r: float, q: Point, s: float) -> list[Point]:
    apart = math.dist(p, q)
    if apart == 0.0:
        return []
    along = (r**2 - s**2 + apart**2) / (2.0 * apart)
    under = r**2 - along**2
    if under < 0.0:
        return []
    ux, uy, h = (q[0] - p[0]) / apart, (q[1] - p[1]) / apart, math.sqrt(under)
    return [(p[0] + along * ux - side * h * uy, p[1] + along * uy + side * h * ux) for side in (1.0, -1.0)]


def _touch(piece: Segment, centre: Point) -> tuple[Point, float]:
    """Nearest point of the piece's line or circle, and how far along the piece it lies (0 to 1)."""
    if not piece.is_arc:
        ux, uy = piece.direction(at_end=False)
        along = (centre[0] - piece.x0) * ux + (centre[1] - piece.y0) * uy
        return (piece.x0 + along * ux, piece.y0 + along * uy), along / piece.chord_mm if piece.chord_mm else 2.0
    (cx, cy), radius = piece.centre, piece.radius_mm
    apart = math.dist(centre, (cx, cy))
    if apart == 0.0:
        return (piece.x0, piece.y0), 0.0
    ux, uy = (centre[0] - cx) / apart, (centre[1] - cy) / apart
    turned = math.atan2(uy, ux) - piece.start_angle_rad
    sweep = piece.sweep_rad
    # Rounding may put a touch at the very start a hair before it: not a whole turn away.
    turned = ((turned if sweep > 0.0 else -turned) + 1e-9) % (2.0 * math.pi) - 1e-9
    return (cx + radius * ux, cy + radius * uy), turned / abs(sweep)
