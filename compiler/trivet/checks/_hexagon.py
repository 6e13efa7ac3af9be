"""The hexagon that a foot's gear holds: a head or a nut."""

from __future__ import annotations

from trivet.model.foot import Foot
from trivet.record import record
from trivet.solve.hex_pocket import GLUED_ROOM_MM, SLIDING_ROOM_MM
from trivet.source import Origin


@record
class Hexagon:
    """Across flats and corners (least), the room that its pocket has over it, mm, and what it is."""

    flats_mm: float
    corners_mm: float
    origin: Origin | None
    room_mm: float
    words: str


def hexagon_of(foot: Foot) -> Hexagon | None:
    """None where no measure across corners is known, or the screw has no hexagon head."""
    if foot.nut is not None and foot.nut.across_corners_mm is not None:
        return Hexagon(foot.nut.across_flats_mm, foot.nut.across_corners_mm, foot.nut.origin, GLUED_ROOM_MM, "its nut")
    head = foot.screw.head if foot.screw is not None else None
    if head is None or head.across_flats_mm is None or head.across_corners_mm is None:
        return None
    room = SLIDING_ROOM_MM if foot.kind == "sliding_hex" else GLUED_ROOM_MM
    return Hexagon(head.across_flats_mm, head.across_corners_mm, head.origin, room, "its head")
