"""Openings between a gear's rim and its hub: sectors between spokes, or round holes."""

from __future__ import annotations

import math

from trivet.model.train import Web
from trivet.record import record
from trivet.solve.as_cut import as_cut_inner
from trivet.solve.contour import Contour, Vertex
from trivet.solve.feature import Round, turned_point

# Rim under the root: at least 6 mm and 2 modules; hub ring at least 1.5 bores (common practice, no source).
LEAST_RIM_MM = 6.0
RIM_MODULES = 2.0
HUB_BORES = 1.5
# Wood left round whatever is let into the hub, and between neighbouring holes, mm (common practice, no source).
HUB_WALL_MM = 6.0
# Rounding of sines: six holes on a circle of 20 come out 4e-15 mm too near.
_HAIR_MM = 1e-9


@record
class WebRoom:
    """Where openings may lie: from the hub ring outwards to the rim, radii in mm."""

    hub_mm: float
    rim_mm: float

    @property
    def width_mm(self) -> float:
        """Radial room, mm; negative where hub and rim overlap."""
        return self.rim_mm - self.hub_mm


def web_room(bottom_radius_mm: float, module_mm: float, bore_mm: float, recess_radius_mm: float) -> WebRoom:
    """`bottom_radius_mm`: where the root ends up; `recess_radius_mm`: reach of the widest pocket or counterbore round the axis."""
    rim = bottom_radius_mm - max(LEAST_RIM_MM, RIM_MODULES * module_mm)
    return WebRoom(max(HUB_BORES * bore_mm, max(bore_mm / 2.0, recess_radius_mm) + HUB_WALL_MM), rim)


def web_openings(web: Web, room: WebRoom, cutter_mm: float) -> tuple[Contour | Round, ...]:
    """The openings at phase 0, the first spoke (or hole) towards +x; empty where they find no room."""
    count, size = int(web.count.number), web.size.mm
    return _holes(count, size, room) if web.form == "holes" else _sectors(count, size, room, cutter_mm / 2.0)


def _holes(count: int, diameter: float, room: WebRoom) -> tuple[Round, ...]:
    middle = (room.hub_mm + room.rim_mm) / 2.0
    apart = 2.0 * middle * math.sin(math.pi / count) if count > 1 else math.inf
    if diameter > room.width_mm or apart < diameter + HUB_WALL_MM - _HAIR_MM:
        return ()
    angles = [2.0 * math.pi * k / count for k in range(count)]
    return tuple(Round(middle * math.cos(a), middle * math.sin(a), diameter) for a in angles)


def _sectors(count: int, width: float, room: WebRoom, r: float) -> tuple[Contour, ...]:
    """A sector that the cutter reaches into every corner of, turned round to each place."""
    if count < 2 or room.rim_mm <= width / 2.0:
        return ()
    half = width / 2.0
    # Where two spokes' sides meet; the cutter's round in that corner ends further out.
    meet = half / math.sin(math.pi / count)
    rounded = meet + r * (1.0 / math.sin(math.pi / count) - 1.0)
    start = meet if rounded >= room.hub_mm else room.hub_mm
    if room.rim_mm - start < 2.0 * r:
        return ()
    left = as_cut_inner(_sharp_sector(count, half, start, room.rim_mm), r)
    return () if left.unreached else tuple(left.contour.rotated(2.0 * math.pi * k / count) for k in range(count))


def _sharp_sector(count: int, half: float, start: float, rim: float) -> Contour:
    """Between the near sides of two neighbouring spokes, parallel to their centre lines at `half` from them, from `start` to `rim`.

    Where the sides meet at `start` the sector has a corner there instead of an inner arc.
    """
    step = 2.0 * math.pi / count
    outer_along, inner_along = math.sqrt(rim**2 - half**2), math.sqrt(start**2 - half**2)
    # The spokes' own sides take an angle off either end of both arcs.
    outer_sweep = step - 2.0 * math.asin(half / rim)
    inner_sweep = step - 2.0 * math.asin(min(1.0, half / start))
    corners = [
        (inner_along, half, 0.0),
        (outer_along, half, math.tan(outer_sweep / 4.0)),
        (*turned_point(outer_along, -half, step), 0.0),
    ]
    if inner_sweep > 1e-6:
        corners.append((*turned_point(inner_along, -half, step), -math.tan(inner_sweep / 4.0)))
    return Contour(tuple(Vertex(*corner) for corner in corners))
