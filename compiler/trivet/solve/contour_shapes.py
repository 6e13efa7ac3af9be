"""Usual outlines: circle, rectangle, slot, regular hexagon, and relieved corners."""

from __future__ import annotations

import math
from collections.abc import Iterable

from trivet.solve.contour import Contour, Vertex

Point = tuple[float, float]


def polygon(corners: Iterable[Point | tuple[float, float, float]]) -> Contour:
    """Corners (x, y) in mm, or (x, y, bulge) where an arc starts; turned anticlockwise."""
    return Contour(tuple(Vertex(*corner) for corner in corners)).anticlockwise()


def circle(x_mm: float, y_mm: float, radius_mm: float) -> Contour:
    """Two half circles, anticlockwise, starting at +x."""
    return Contour((Vertex(x_mm + radius_mm, y_mm, 1.0), Vertex(x_mm - radius_mm, y_mm, 1.0)))


def rectangle(x_mm: float, y_mm: float, width_mm: float, height_mm: float, corner_radius_mm: float = 0.0) -> Contour:
    """From its least corner (x, y). The corner radius is held to half the shorter side; full ones merge into arcs."""
    r = max(0.0, min(corner_radius_mm, width_mm / 2.0, height_mm / 2.0))
    x1, y1 = x_mm + width_mm, y_mm + height_mm
    if r == 0.0:
        return Contour((Vertex(x_mm, y_mm), Vertex(x1, y_mm), Vertex(x1, y1), Vertex(x_mm, y1)))
    quarter = math.tan(math.pi / 8.0)
    corners = (
        Vertex(x_mm + r, y_mm),
        Vertex(x1 - r, y_mm, quarter),
        Vertex(x1, y_mm + r),
        Vertex(x1, y1 - r, quarter),
        Vertex(x1 - r, y1),
        Vertex(x_mm + r, y1, quarter),
        Vertex(x_mm, y1 - r),
        Vertex(x_mm, y_mm + r, quarter),
    )
    return Contour(tuple(v for v, w in zip(corners, corners[1:] + corners[:1], strict=True) if (v.x, v.y) != (w.x, w.y)))


def slot(x_mm: float, y_mm: float, length_mm: float, width_mm: float, angle_rad: float = 0.0) -> Contour:
    """Centred on (x, y), round ends, `length_mm` overall along `angle_rad`; a circle when no longer than wide."""
    r, half = width_mm / 2.0, (length_mm - width_mm) / 2.0
    if half <= 0.0:
        return circle(x_mm, y_mm, r)
    flat = Contour((Vertex(-half, -r), Vertex(half, -r, 1.0), Vertex(half, r), Vertex(-half, r, 1.0)))
    return flat.rotated(angle_rad).translated(x_mm, y_mm)


def hexagon(
    x_mm: float, y_mm: float, across_flats_mm: float, corner_rad: float = 0.0, relief_cutter_radius_mm: float = 0.0
) -> Contour:
    """Regular, one corner in direction `corner_rad`; with a relief radius each corner is relieved (see `relieved`)."""
    reach = across_flats_mm / math.sqrt(3.0)
    sharp = polygon(
        (x_mm + reach * math.cos(corner_rad + k * math.pi / 3.0), y_mm + reach * math.sin(corner_rad + k * math.pi / 3.0))
        for k in range(6)
    )
    return relieved(sharp, relief_cutter_radius_mm) if relief_cutter_radius_mm > 0.0 else sharp


def relieved(contour: Contour, cutter_radius_mm: float) -> Contour:
    """Each outward corner between two lines cut out by a cutter passing through it, along the bisector.

    The cutter's centre stands its own radius from the corner; for an interior angle f it bites 2 r cos(f/2) along
    each wall in an arc of 2(pi − f) (plane geometry). Anticlockwise contours only. A corner whose walls are too short
    for the bite of both their corners is left sharp.
    """
    pieces = tuple(contour.segments())
    count = len(pieces)
    bites: list[tuple[float, float]] = []
    for index, piece in enumerate(pieces):
        before = pieces[index - 1]
        (ux, uy), (vx, vy) = before.direction(at_end=True), piece.direction(at_end=False)
        turn = math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)
        plain = before.is_arc or piece.is_arc or turn <= 1e-6
        bites.append((0.0, 0.0) if plain else (2.0 * cutter_radius_mm * math.sin(turn / 2.0), turn))
    short = {k for k, piece in enumerate(pieces) if bites[k][0] + bites[(k + 1) % count][0] >= piece.chord_mm}
    found: list[Vertex] = []
    for index, piece in enumerate(pieces):
        bite, turn = bites[index]
        if bite == 0.0 or index in short or (index - 1) % count in short:
            found.append(Vertex(piece.x0, piece.y0, piece.bulge))
            continue
        (ux, uy), (vx, vy) = pieces[index - 1].direction(at_end=True), piece.direction(at_end=False)
        found.append(Vertex(piece.x0 - bite * ux, piece.y0 - bite * uy, math.tan(turn / 2.0)))
        found.append(Vertex(piece.x0 + bite * vx, piece.y0 + bite * vy))
    return Contour(tuple(found))
