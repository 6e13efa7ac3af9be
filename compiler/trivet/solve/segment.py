"""One piece of a contour: a straight line or a circular arc between two points."""

from __future__ import annotations

import math

from trivet.record import record

# Below this bulge a segment is a line: at 1 m of chord the sagitta would be 5e-10 mm.
STRAIGHT_BULGE = 1e-12


@record
class Segment:
    """From (x0, y0) to (x1, y1), mm; `bulge` = tan(included angle / 4), positive anticlockwise, 0 for a line."""

    x0: float
    y0: float
    x1: float
    y1: float
    bulge: float

    @property
    def is_arc(self) -> bool:
        return abs(self.bulge) > STRAIGHT_BULGE and self.chord_mm > 0.0

    @property
    def chord_mm(self) -> float:
        return math.hypot(self.x1 - self.x0, self.y1 - self.y0)

    @property
    def sweep_rad(self) -> float:
        """Included angle, signed: positive anticlockwise; 0 for a line."""
        return 4.0 * math.atan(self.bulge) if self.is_arc else 0.0

    @property
    def radius_mm(self) -> float:
        """Radius of the arc; infinite for a line."""
        if not self.is_arc:
            return math.inf
        return self.chord_mm * (1.0 + self.bulge**2) / (4.0 * abs(self.bulge))

    @property
    def centre(self) -> tuple[float, float]:
        """Centre of the arc. Only for arcs."""
        assert self.is_arc
        offset = (1.0 - self.bulge**2) / (4.0 * self.bulge)
        dx, dy = self.x1 - self.x0, self.y1 - self.y0
        return (self.x0 + self.x1) / 2.0 - dy * offset, (self.y0 + self.y1) / 2.0 + dx * offset

    @property
    def length_mm(self) -> float:
        return self.radius_mm * abs(self.sweep_rad) if self.is_arc else self.chord_mm

    @property
    def start_angle_rad(self) -> float:
        """Direction from the arc's centre to its start. Only for arcs."""
        cx, cy = self.centre
        return math.atan2(self.y0 - cy, self.x0 - cx)

    def direction(self, at_end: bool) -> tuple[float, float]:
        """Unit tangent in the sense of travel at the start or the end; (0, 0) for a segment without length."""
        length = self.chord_mm
        if length == 0.0:
            return 0.0, 0.0
        ux, uy = (self.x1 - self.x0) / length, (self.y1 - self.y0) / length
        half = self.sweep_rad / 2.0 if at_end else -self.sweep_rad / 2.0
        c, s = math.cos(half), math.sin(half)
        return ux * c - uy * s, ux * s + uy * c

    def chord_count(self, tolerance_mm: float) -> float:
        """How many equal chords, not rounded, keep the sagitta within `tolerance_mm`; 0 for a line."""
        if not self.is_arc:
            return 0.0
        ratio = min(tolerance_mm / self.radius_mm, 1.0)
        return abs(self.sweep_rad) / (2.0 * math.acos(1.0 - ratio))

    def points(self, tolerance_mm: float) -> list[tuple[float, float]]:
        """The start and the points between, on the arc, without the end."""
        found = [(self.x0, self.y0)]
        if not self.is_arc:
            return found
        # Two chords at least in a half turn and more: one would fold the arc onto its own chord.
        count = max(math.ceil(self.chord_count(tolerance_mm) - 1e-9), math.ceil(abs(self.sweep_rad) / 1.6), 1)
        (cx, cy), radius, start = self.centre, self.radius_mm, self.start_angle_rad
        step = self.sweep_rad / count
        found += [(cx + radius * math.cos(start + k * step), cy + radius * math.sin(start + k * step)) for k in range(1, count)]
        return found

    def extremes(self) -> list[tuple[float, float]]:
        """The ends, and the points of the arc where it runs level or upright: enough for exact bounds."""
        found = [(self.x0, self.y0), (self.x1, self.y1)]
        if not self.is_arc:
            return found
        (cx, cy), radius, start, sweep = self.centre, self.radius_mm, self.start_angle_rad, self.sweep_rad
        for dx, dy, angle in ((1, 0, 0.0), (0, 1, math.pi / 2), (-1, 0, math.pi), (0, -1, -math.pi / 2)):
            turn = (angle - start) if sweep > 0 else (start - angle)
            if turn % (2.0 * math.pi) < abs(sweep):
                found.append((cx + dx * radius, cy + dy * radius))
        return found
