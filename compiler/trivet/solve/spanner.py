"""Room that spanners need round heads and nuts that are let in. No table of tools is kept: stated figures, common practice, no source."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.model.hardware import Nut, Screw, Washer
from trivet.model.train import Drive, DriveNut, Pivot
from trivet.record import record
from trivet.solve.derived import Derived
from trivet.solve.part_context import HEAD_ROOM_MM
from trivet.source import Origin

# Outside diameter of a socket spanner: 1.35 times the width across flats and 1.5 mm (common practice, no source; some 19 mm for
# flats of 13 mm). Thin-walled ones are a little narrower.
SOCKET_FACTOR, SOCKET_WALL_MM = 1.35, 1.5
# An open spanner holds a nut or head by this much of its height at least (common practice, no source).
OPEN_SPANNER_MM = 3.0
# Across sharp corners of a hexagon over its flats: 2 / sqrt(3).
SHARP_CORNERS = 1.1547


@record
class Sunk:
    """A hexagon that a spanner turns. `recess_mm`: diameter of its recess, None where the recess is itself a hexagon.

    `out_mm`: how much of its height stands out of the recess, `socket_mm`: outside of the socket spanner that fits its flats.
    """

    part: str
    what: str
    flats_mm: float
    height_mm: float
    depth_mm: float
    recess_mm: float | None
    origin: Origin | None

    @property
    def out_mm(self) -> float:
        return max(self.height_mm - self.depth_mm, 0.0)

    @property
    def socket_mm(self) -> float:
        return socket_mm(self.flats_mm)

    @property
    def free(self) -> bool:
        """Whether an open spanner or a socket reaches it."""
        return self.out_mm >= OPEN_SPANNER_MM - 1e-9 or (self.recess_mm is not None and self.recess_mm >= self.socket_mm - 1e-9)


def socket_mm(across_flats_mm: float) -> float:
    """Outside diameter of the socket spanner for a width across flats, mm."""
    return SOCKET_FACTOR * across_flats_mm + SOCKET_WALL_MM


def sunk_hexagons(derived: Derived) -> Iterator[Sunk]:
    """Hexagons let in that have to be turned: heads of drives and pivots, jam nuts, and nuts of pivots in round recesses.

    A nut that its recess keeps from turning is meant to be so, unless it is the jam nut.
    """
    for state in derived.drives:
        drive: Drive = state.drive
        washer = drive.washer if "head" in drive.washer_places else None
        yield from _head(state.id, drive.bolt, drive.head_recessed.mm if drive.head_recessed else 0.0, washer, drive.origin)
        jam = drive.jam_nut
        if jam is not None and not (drive.nut.side == jam.side and drive.nut.recessed is not None):
            yield from _nut(state.id, "jam nut", jam, drive.washer if jam.side in drive.washer_places else None, drive.origin)
    for item in derived.pivots:
        pivot: Pivot = item.pivot
        washer = pivot.washer if "below" in pivot.washer_places else None
        yield from _head(item.id, pivot.screw, pivot.head_recessed.mm if pivot.head_recessed else 0.0, washer, pivot.origin)
        if pivot.nut is not None and pivot.nut.round is not None:
            yield from _nut(item.id, "nut", pivot.nut, None, pivot.origin)


def _head(part: str, screw: Screw, depth_mm: float, washer: Washer | None, origin: Origin | None) -> Iterator[Sunk]:
    head = screw.head
    if depth_mm <= 0.0 or head.form != "hexagon" or head.across_flats_mm is None:
        return
    wide = head.across_flats_mm * SHARP_CORNERS
    if washer is not None and washer.outside_mm > wide:
        recess = washer.outside_mm + HEAD_ROOM_MM
    elif screw.counterbore_mm is not None and screw.counterbore_mm > wide:
        recess = screw.counterbore_mm
    else:
        recess = wide + HEAD_ROOM_MM
    yield Sunk(part, "hexagon head", head.across_flats_mm, head.height_mm, depth_mm, recess, origin)


def _nut(part: str, what: str, nut: DriveNut, washer: Washer | None, origin: Origin | None) -> Iterator[Sunk]:
    hardware = nut.hardware
    if nut.recessed is None or nut.recessed.mm <= 0.0 or not isinstance(hardware, Nut):
        return
    recess = nut.round.mm if nut.round is not None else washer.outside_mm + HEAD_ROOM_MM if washer is not None else None
    yield Sunk(part, what, hardware.across_flats_mm, hardware.height_mm, nut.recessed.mm, recess, nut.origin or origin)
