"""TabPlace: one bridge between a part and its sheet."""

from __future__ import annotations

from trivet.record import record
from trivet.solve.feature import turned_point
from trivet.solve.segment import Segment


@record
class TabPlace:
    """The run of the outline that the tab adjoins, the part on its left, and the height of wood that is left there from the far face, mm."""

    run: Segment
    height_mm: float

    def moved(self, dx_mm: float, dy_mm: float) -> TabPlace:
        """Shifted."""
        r = self.run
        return TabPlace(Segment(r.x0 + dx_mm, r.y0 + dy_mm, r.x1 + dx_mm, r.y1 + dy_mm, r.bulge), self.height_mm)

    def turned(self, angle_rad: float) -> TabPlace:
        """Turned anticlockwise about (0, 0)."""
        r = self.run
        ends = (*turned_point(r.x0, r.y0, angle_rad), *turned_point(r.x1, r.y1, angle_rad))
        return TabPlace(Segment(*ends, r.bulge), self.height_mm)

    def mirrored_x(self, axis_x_mm: float) -> TabPlace:
        """Left and right exchanged about x = axis; run the other way, so that the wood stays on its left."""
        r = self.run
        return TabPlace(Segment(2.0 * axis_x_mm - r.x1, r.y1, 2.0 * axis_x_mm - r.x0, r.y0, r.bulge), self.height_mm)
