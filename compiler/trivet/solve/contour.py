"""A closed outline made of straight lines and circular arcs."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.record import record
from trivet.solve.segment import Segment


@record
class Vertex:
    """A corner, mm. `bulge` = tan(included angle / 4) of the segment that starts here, positive anticlockwise."""

    x: float
    y: float
    bulge: float = 0.0


@record
class Contour:
    """Closed: the last vertex joins the first, which is not repeated. Anticlockwise when its area is positive."""

    vertices: tuple[Vertex, ...]

    def segments(self) -> Iterator[Segment]:
        """The pieces in order, one for each vertex."""
        count = len(self.vertices)
        for index, v in enumerate(self.vertices):
            w = self.vertices[(index + 1) % count]
            yield Segment(v.x, v.y, w.x, w.y, v.bulge)

    @property
    def area_mm2(self) -> float:
        """Signed area, arcs included exactly: shoelace plus circular segments R²(θ − sin θ)/2."""
        twice = 0.0
        for s in self.segments():
            twice += s.x0 * s.y1 - s.x1 * s.y0
            if s.is_arc:
                sweep = s.sweep_rad
                twice += s.radius_mm**2 * (sweep - math.sin(sweep))
        return twice / 2.0

    @property
    def length_mm(self) -> float:
        """Length all the way round, arcs included exactly."""
        return math.fsum(s.length_mm for s in self.segments())

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """(least x, least y, most x, most y) in mm, arcs included exactly."""
        found = [(v.x, v.y) for v in self.vertices]
        for s in self.segments():
            if s.is_arc:
                found += s.extremes()
        xs, ys = [p[0] for p in found], [p[1] for p in found]
        return min(xs), min(ys), max(xs), max(ys)

    def translated(self, dx_mm: float, dy_mm: float) -> Contour:
        return Contour(tuple(Vertex(v.x + dx_mm, v.y + dy_mm, v.bulge) for v in self.vertices))

    def rotated(self, angle_rad: float, about: tuple[float, float] = (0.0, 0.0)) -> Contour:
        """Turned anticlockwise about a point."""
        c, s = math.cos(angle_rad), math.sin(angle_rad)
        ax, ay = about
        return Contour(
            tuple(
                Vertex(ax + (v.x - ax) * c - (v.y - ay) * s, ay + (v.x - ax) * s + (v.y - ay) * c, v.bulge) for v in self.vertices
            )
        )

    def reversed(self) -> Contour:
        """The same outline run the other way, from the same first vertex."""
        vs = self.vertices
        count = len(vs)
        return Contour(tuple(Vertex(vs[-i % count].x, vs[-i % count].y, -vs[(-i - 1) % count].bulge) for i in range(count)))

    def mirrored_x(self, axis_x_mm: float = 0.0) -> Contour:
        """Left and right exchanged about the line x = axis; order reversed too, so the sign of the area stays."""
        return Contour(tuple(Vertex(2.0 * axis_x_mm - v.x, v.y, -v.bulge) for v in self.vertices)).reversed()

    def mirrored_y(self, axis_y_mm: float = 0.0) -> Contour:
        """Top and bottom exchanged about the line y = axis; order reversed too, so the sign of the area stays."""
        return Contour(tuple(Vertex(v.x, 2.0 * axis_y_mm - v.y, -v.bulge) for v in self.vertices)).reversed()

    def anticlockwise(self) -> Contour:
        return self if self.area_mm2 >= 0.0 else self.reversed()

    def points(self, tolerance_mm: float) -> tuple[tuple[float, float], ...]:
        """Corners of a polygon whose chords stay within `tolerance_mm` of the arcs, ends on the arcs; not closed."""
        return tuple(p for s in self.segments() for p in s.points(tolerance_mm))

    def chord_count(self, tolerance_mm: float) -> int:
        """Least vertices a polygon with corners on the outline needs to stay within `tolerance_mm` of it.

        Neighbouring arcs share chords and lines count one each: a lower bound, so a fair measure of what arcs save.
        """
        lines = sum(1 for s in self.segments() if not s.is_arc)
        return lines + math.ceil(math.fsum(s.chord_count(tolerance_mm) for s in self.segments()) - 1e-9)

    def as_circle(self, tolerance_mm: float = 1e-6) -> tuple[float, float, float] | None:
        """(x, y, radius) when every piece is an arc of one circle, all of one sense; otherwise None."""
        pieces = tuple(self.segments())
        if not pieces or not all(s.is_arc for s in pieces):
            return None
        first = pieces[0]
        (cx, cy), radius, left = first.centre, first.radius_mm, first.bulge > 0.0
        for s in pieces:
            x, y = s.centre
            if (
                math.hypot(x - cx, y - cy) > tolerance_mm
                or abs(s.radius_mm - radius) > tolerance_mm
                or (s.bulge > 0.0) != left
            ):
                return None
        turned = abs(math.fsum(s.sweep_rad for s in pieces))
        return (cx, cy, radius) if abs(turned - 2.0 * math.pi) < 1e-6 else None
