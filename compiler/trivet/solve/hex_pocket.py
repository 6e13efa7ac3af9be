"""A hexagonal pocket that a hexagon head or nut fits, though a round cutter leaves its corners round."""

from __future__ import annotations

import math

from trivet.record import record
from trivet.solve.as_cut import as_cut_inner
from trivet.solve.contour import Contour
from trivet.solve.contour_shapes import hexagon
from trivet.source import LibraryRow, Origin
from trivet.units import length_text

# Across flats over the head, diametral: glued in, and free to slide (trade practice, no source: +0.1 to +0.3 mm, and the
# slide fit of +0.15 to +0.3 mm in plywood).
GLUED_ROOM_MM = 0.1
SLIDING_ROOM_MM = 0.2


@record
class HexSize:
    """Across flats of the pocket as cut, mm, and how it follows from the head."""

    across_flats_mm: float
    because: str


def hex_across_flats_mm(across_flats_mm: float, across_corners_mm: float, cutter_radius_mm: float) -> float:
    """Least across flats S of a pocket whose corners have the cutter's radius, for a head of s across flats, e across corners.

    S = max(s, sqrt 3 [(e/2) cos psi + 2r/sqrt 3 - sqrt(r² - (e/2)² sin² psi)]), psi = 30° - acos(s/e): the head's chamfered corner
    ends on the cutter's arc. A sharp head (e = 2 s/sqrt 3) gives s + 0.268 r. Plane geometry. Lengths mm.
    """
    s, r = across_flats_mm, cutter_radius_mm
    e = min(max(across_corners_mm, s), 2.0 * s / math.sqrt(3.0))
    psi = math.pi / 6.0 - math.acos(s / e)
    under = r**2 - (e / 2.0 * math.sin(psi)) ** 2
    if under < 0.0:
        return s
    reach = e / 2.0 * math.cos(psi) + 2.0 * r / math.sqrt(3.0) - math.sqrt(under)
    return max(s, math.sqrt(3.0) * reach)


def hex_size(
    across_flats_mm: float,
    across_corners_mm: float | None,
    origin: Origin | None,
    cutter_mm: float,
    room_mm: float,
    unit: str = "mm",
) -> HexSize:
    """The pocket of a head or nut. Across corners counts only where it was measured: tables give its least value, so it is taken sharp."""
    sharp = 2.0 * across_flats_mm / math.sqrt(3.0)
    measured = isinstance(origin, LibraryRow) and origin.status == "measured" and across_corners_mm is not None
    corners = across_corners_mm if measured and across_corners_mm is not None else sharp
    least = hex_across_flats_mm(across_flats_mm, corners, cutter_mm / 2.0)
    words = "as measured" if measured else "taken sharp"
    because = (
        f"{length_text(across_flats_mm, unit)} across flats, plus {length_text(least - across_flats_mm, unit)} for the corners that"
        f" a {length_text(cutter_mm, unit)} cutter leaves round ({length_text(corners, unit)} across corners, {words}), plus"
        f" {length_text(room_mm, unit)} of room"
    )
    return HexSize(least + room_mm, because)


def hex_contour(size: HexSize, cutter_mm: float) -> Contour:
    """The pocket as cut, centred on (0, 0), one corner towards +x."""
    return as_cut_inner(hexagon(0.0, 0.0, size.across_flats_mm), cutter_mm / 2.0).contour
