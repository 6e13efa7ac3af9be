"""Recesses for heads, nuts and flanges: a pocket or counterbore of some depth, or a hole where the part is no thicker."""

from __future__ import annotations

from trivet.model.board import Face
from trivet.model.hardware import Head, Nut, Screw, TeeNut, Washer
from trivet.model.train import DriveNut
from trivet.record import record
from trivet.solve.feature import Feature, Operation, Round
from trivet.solve.hex_pocket import GLUED_ROOM_MM, hex_contour, hex_size
from trivet.solve.part_context import HEAD_ROOM_MM, PartContext
from trivet.source import LibraryRow, Origin

# Depths within this of a sheet's thickness go through, mm.
_THROUGH_MM = 0.01


@record
class Seat:
    """Where a recess lies and how thick the wood is: the face, the centre, the part's thickness and its cutter, mm."""

    face: Face
    x_mm: float
    y_mm: float
    thickness_mm: float
    cutter_mm: float


def round_recess(
    context: PartContext, seat: Seat, diameter_mm: float, depth_mm: float, what: str, because: str, origin: Origin | None
) -> tuple[Feature, ...]:
    """A counterbore; empty for no depth."""
    title = f"{what}, {context.size(diameter_mm)}"
    return _recess("counterbore", seat, Round(seat.x_mm, seat.y_mm, diameter_mm), depth_mm, title, because, origin)


def hex_recess(
    context: PartContext,
    seat: Seat,
    across: tuple[float, float | None, Origin | None],
    depth_mm: float,
    what: str,
    origin: Origin | None,
    room_mm: float = GLUED_ROOM_MM,
) -> tuple[Feature, ...]:
    """A hexagonal pocket for something `across` flats and corners (with where those come from); empty for no depth."""
    flats, corners, source = across
    size = hex_size(flats, corners, source, seat.cutter_mm, room_mm, context.design.units)
    contour = hex_contour(size, seat.cutter_mm).translated(seat.x_mm, seat.y_mm)
    title = f"{what}, {context.size(size.across_flats_mm)} across flats"
    return _recess("pocket", seat, contour, depth_mm, title, size.because, origin)


def nut_recess(context: PartContext, nut: DriveNut, seat: Seat, washer: Washer | None, owner: str) -> tuple[Feature, ...]:
    """The recess of a nut: `round` as stated, a tee nut's flange, room for a washer under the nut, or a hexagon; empty where none is stated."""
    if nut.recessed is None:
        return ()
    depth, hardware, origin = nut.recessed.mm, nut.hardware, nut.origin
    if nut.round is not None:
        what, because = f"round recess for the nut of {owner}", "stated as `round`"
        return round_recess(context, seat, nut.round.mm, depth, what, because, origin)
    if isinstance(hardware, TeeNut):
        what = f"recess for the tee nut's flange of {owner}"
        return round_recess(
            context, seat, hardware.flange_diameter_mm + HEAD_ROOM_MM, depth, what, _room(context, "flange"), origin
        )
    if washer is not None:
        what = f"recess for washer and nut of {owner}"
        return round_recess(context, seat, washer.outside_mm + HEAD_ROOM_MM, depth, what, _room(context, "washer"), origin)
    return hex_recess(context, seat, _across(hardware), depth, f"hex recess for the nut of {owner}", origin)


def head_recess(
    context: PartContext, screw: Screw, depth_mm: float, seat: Seat, washer: Washer | None, owner: str, origin: Origin | None
) -> tuple[Feature, ...]:
    """A counterbore for a head, by its table where there is one, and for the washer that lies in it."""
    wide = head_diameter_mm(screw.head)
    if screw.head.form == "countersunk":
        # The recess is stated to the foot of the cone: only what lets the head down below the face has straight walls.
        depth_mm -= screw.head.height_max_mm
        what = f"counterbore over the countersunk head of {owner}, then a cone of {cone_words(context, screw.head)}"
        return round_recess(context, seat, wide + HEAD_ROOM_MM, depth_mm, what, _room(context, "head"), origin)
    what = f"counterbore for the head of {owner}"
    if washer is not None and washer.outside_mm > wide:
        what = f"counterbore for head and washer of {owner}"
        return round_recess(context, seat, washer.outside_mm + HEAD_ROOM_MM, depth_mm, what, _room(context, "washer"), origin)
    if screw.counterbore_mm is not None and screw.counterbore_mm > wide:
        row = screw.counterbore_origin
        because = (
            f"counterbore of the table `{row.table}`, row {row.key}" if isinstance(row, LibraryRow) else _room(context, "head")
        )
        return round_recess(context, seat, screw.counterbore_mm, depth_mm, what, because, origin)
    return round_recess(context, seat, wide + HEAD_ROOM_MM, depth_mm, what, _room(context, "head"), origin)


def cone_words(context: PartContext, head: Head) -> str:
    """Such as `90 deg to 17.92 mm across`; without the angle where no table has it."""
    angle = f"{head.angle_deg:g} deg " if head.angle_deg is not None else ""
    return f"{angle}to {context.size(head.diameter_mm)} across"


def head_diameter_mm(head: Head) -> float:
    """Largest diameter of a head; a hexagon's over sharp corners, since tables give the least across corners."""
    return head.diameter_mm if head.across_flats_mm is None else max(head.diameter_mm, head.across_flats_mm * 1.1547)


def _across(nut: Nut) -> tuple[float, float | None, Origin | None]:
    return nut.across_flats_mm, nut.across_corners_mm, nut.origin


def _room(context: PartContext, what: str) -> str:
    return f"largest diameter of the {what} plus {context.length(HEAD_ROOM_MM)} of room (common practice, no source)"


def _recess(
    operation: Operation, seat: Seat, shape: object, depth_mm: float, title: str, because: str, origin: Origin | None
) -> tuple[Feature, ...]:
    if depth_mm <= 0.0:
        return ()
    depth: float | None = depth_mm
    if depth_mm >= seat.thickness_mm - _THROUGH_MM:
        depth, operation = None, "bore" if isinstance(shape, Round) else "opening"
    return (Feature(operation, seat.face, depth, shape, title, because, seat.cutter_mm, origin),)  # type: ignore[arg-type]  # the operation is one of the two that sink
