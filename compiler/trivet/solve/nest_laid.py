"""A part where it lies on its sheet, for either face of the sheet; and where its name may stand."""

from __future__ import annotations

import math
from typing import Any

from trivet.model.board import Face
from trivet.record import record, replace
from trivet.solve.contour import Contour
from trivet.solve.feature import Round, Stroke
from trivet.solve.nest_records import Lying, NestedSheet
from trivet.solve.part_features import PartFeatures

_CHORD_MM, _STEP_MM = 0.1, 0.5


@record
class LaidPart:
    """`part` moved so that it lies right once left and right are exchanged about x = `flip_x_mm`, or as it is where that is None."""

    part: PartFeatures
    flip_x_mm: float | None
    turn_rad: float
    dx_mm: float
    dy_mm: float

    def placed(self, spot: Round) -> Round:
        """A place in the part's own frame where it comes to lie on the drawing."""
        there = spot.turned(self.turn_rad).moved(self.dx_mm, self.dy_mm)
        return there if self.flip_x_mm is None else replace(there, x_mm=2.0 * self.flip_x_mm - there.x_mm)


def laid_part(part: PartFeatures, lying: Lying, sheet: NestedSheet, face: Face) -> LaidPart:
    """The part in the frame of the sheet's drawing of `face`. The sheet is turned over about the middle of its width."""
    first = face == sheet.first_face
    turn, x, y = math.radians(lying.turn_deg), lying.x_mm, lying.y_mm
    if part.datum == "underside":
        # Seen from below, x runs the other way: the part is turned back and mirrored.
        turn, x, flip = -turn, -x if first else sheet.width_mm - x, 0.0 if first else None
    else:
        flip = None if first else sheet.width_mm / 2.0
    return LaidPart(_moved(part, turn, x, y), flip, turn, x, y)


def _moved(part: PartFeatures, turn_rad: float, dx_mm: float, dy_mm: float) -> PartFeatures:
    return replace(
        part,
        outline=part.outline.rotated(turn_rad).translated(dx_mm, dy_mm),
        features=tuple(item.turned(turn_rad).moved(dx_mm, dy_mm) for item in part.features),
        tabs=tuple(tab.turned(turn_rad).moved(dx_mm, dy_mm) for tab in part.tabs),
    )


def name_place(part: PartFeatures) -> tuple[float, float, float]:
    """The middle and radius of a large round place in the part that no cut touches, in the part's frame, mm."""
    from shapely import MultiPolygon, Point, Polygon, difference, union_all
    from shapely.ops import polylabel

    cuts: list[Any] = []
    for item in part.features:
        shape = item.shape
        if isinstance(shape, Round):
            cuts.append(Point(shape.x_mm, shape.y_mm).buffer(shape.diameter_mm / 2.0, quad_segs=8))
        elif isinstance(shape, Contour):
            cuts.append(_filled(shape))
        elif isinstance(shape, Stroke):
            cuts.append(Point(shape.x1_mm, shape.y1_mm).buffer(1.0).union(Point(shape.x2_mm, shape.y2_mm).buffer(1.0)).convex_hull)
        else:
            long, high = 0.6 * shape.height_mm * max(1, len(shape.text)), shape.height_mm
            cuts.append(Point(shape.x_mm, shape.y_mm).buffer(math.hypot(long, high)))
    whole = _filled(part.outline)
    free = difference(whole, union_all(cuts)) if cuts else whole
    if isinstance(free, MultiPolygon):
        free = max(free.geoms, key=lambda piece: (round(piece.area, 3), piece.bounds))
    if free.is_empty or not isinstance(free, Polygon):
        x0, y0, x1, y1 = part.outline.bounds
        return (x0 + x1) / 2.0, (y0 + y1) / 2.0, 1.0
    point = polylabel(free, tolerance=_STEP_MM)
    return round(point.x, 2), round(point.y, 2), round(free.boundary.distance(point), 2)


def _filled(contour: Contour) -> Any:
    """As a polygon; one that crosses itself, in a draft, by its hull."""
    from shapely import Polygon

    drawn = Polygon(contour.points(_CHORD_MM))
    return drawn if drawn.is_valid else drawn.convex_hull
