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
        return abs(self.bulge) > STRAIGHT_BULGE and (self.x0 != self.x1 or self.y0 != self.y1)

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

    def _round(self) -> tuple[float, float, float, float, float]:
        """Centre (x, y), radius, start angle and sweep of an arc at once: asked one by one they cost five times as much."""
        bulge = self.bulge
        dx, dy = self.x1 - self.x0, self.y1 - self.y0
        offset = (1.0 - bulge**2) / (4.0 * bulge)
        cx, cy = (self.x0 + self.x1) / 2.0 - dy * offset, (self.y0 + self.y1) / 2.0 + dx * offset
        radius = math.hypot(dx, dy) * (1.0 + bulge**2) / (4.0 * abs(bulge))
        return cx, cy, radius, math.atan2(self.y0 - cy, self.x0 - cx), 4.0 * math.atan(bulge)

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
        cx, cy, radius, start, sweep = self._round()
        chords = abs(sweep) / (2.0 * math.acos(1.0 - min(tolerance_mm / radius, 1.0)))
        count = max(math.ceil(chords - 1e-9), math.ceil(abs(sweep) / 1.6))
        step = sweep / count
        found += [(cx + radius * math.cos(start + k * step), cy + radius * math.sin(start + k * step)) for k in range(1, count)]
        return found

    def extremes(self) -> list[tuple[float, float]]:
        """The ends, and the points of the arc where it runs level or upright: enough for exact bounds."""
        found = [(self.x0, self.y0), (self.x1, self.y1)]
        if not self.is_arc:
            return found
        cx, cy, radius, start, sweep = self._round()
        for dx, dy, angle in ((1, 0, 0.0), (0, 1, math.pi / 2), (-1, 0, math.pi), (0, -1, -math.pi / 2)):
            turn = (angle - start) if sweep > 0 else (start - angle)
            if turn % (2.0 * math.pi) < abs(sweep):
                found.append((cx + dx * radius, cy + dy * radius))
        return found

    def nearest(self, x: float, y: float) -> tuple[float, float]:
        """The point of the piece that is nearest to a point."""
        if not self.is_arc:
            dx, dy = self.x1 - self.x0, self.y1 - self.y0
            length = dx * dx + dy * dy
            along = max(0.0, min(1.0, ((x - self.x0) * dx + (y - self.y0) * dy) / length)) if length > 0.0 else 0.0
            return self.x0 + along * dx, self.y0 + along * dy
        cx, cy, radius, start, sweep = self._round()
        angle = math.atan2(y - cy, x - cx)
        if ((angle - start) if sweep > 0 else (start - angle)) % (2.0 * math.pi) <= abs(sweep):
            return cx + radius * math.cos(angle), cy + radius * math.sin(angle)
        return min(((self.x0, self.y0), (self.x1, self.y1)), key=lambda end: math.hypot(end[0] - x, end[1] - y))
