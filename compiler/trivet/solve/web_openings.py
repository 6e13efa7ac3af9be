"""Openings between a gear's rim and its hub: sectors between spokes, or round holes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from trivet.model.train import Web
from trivet.solve.as_cut import as_cut_inner
from trivet.solve.contour import Contour, Vertex
from trivet.solve.feature import Round, turned_point

# Rim under the root: at least 6 mm and 2 modules; hub ring at least 1.5 bores (common practice, no source).
LEAST_RIM_MM = 6.0
RIM_MODULES = 2.0
HUB_BORES = 1.5
# Wood left round whatever is let into the hub, and between neighbouring holes, mm (common practice, no source).
HUB_WALL_MM = 6.0


@dataclass(frozen=True, slots=True)
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
    if diameter > room.width_mm or apart < diameter + HUB_WALL_MM:
        return ()
    angles = [2.0 * math.pi * k / count for k in range(count)]
    return tuple(Round(middle * math.cos(a), middle * math.sin(a), diameter) for a in angles)


def _sectors(count: int, width: float, room: WebRoom, r: float) -> tuple[Contour, ...]:
    """Between the near sides of two neighbouring spokes, which are parallel to their centre lines at half their width.

    Where spokes meet outside the hub ring the sector has a corner there instead of an inner arc.
    """
    half, step = width / 2.0, 2.0 * math.pi / count
    meet = half / math.sin(math.pi / count) if count > 1 else math.inf
    inner = max(room.hub_mm, half)
    pointed = meet >= inner
    start = meet if pointed else inner
    if room.rim_mm - start < 2.0 * r or room.rim_mm <= half:
        return ()
    outer_along, inner_along = math.sqrt(room.rim_mm**2 - half**2), math.sqrt(start**2 - half**2)
    # The spokes' own sides take an angle off either end of both arcs.
    outer_sweep = step - 2.0 * math.asin(half / room.rim_mm)
    inner_sweep = step - 2.0 * math.asin(half / start)
    first = [(inner_along, half, 0.0), (outer_along, half, math.tan(outer_sweep / 4.0))]
    second = [(*turned_point(outer_along, -half, step), 0.0)]
    if not pointed:
        second.append((*turned_point(inner_along, -half, step), -math.tan(inner_sweep / 4.0)))
    sharp = Contour(tuple(Vertex(*corner) for corner in first + second))
    left = as_cut_inner(sharp, r)
    if left.unreached:
        return ()
    return tuple(left.contour.rotated(step * k) for k in range(count))
