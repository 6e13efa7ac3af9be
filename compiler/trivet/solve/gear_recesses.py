"""What is let into a gear: heads, nuts, flanges and hexagon sockets."""

from __future__ import annotations

from trivet.model.board import Face
from trivet.model.foot import Foot
from trivet.model.train import Drive, Pivot
from trivet.solve.derived import FootState, GearState
from trivet.solve.feature import Feature
from trivet.solve.hex_pocket import GLUED_ROOM_MM, SLIDING_ROOM_MM
from trivet.solve.part_context import PartContext
from trivet.solve.sunk import Seat, head_diameter_mm, head_recess, hex_recess, nut_recess, round_recess


def gear_recesses(context: PartContext, state: GearState) -> tuple[Feature, ...]:
    """Recesses of one gear at phase 0. On a shared shaft nuts above lie in the uppermost gear; heads and nuts below in the lowest."""
    stack = context.stacks[state.shaft or state.id]
    holder = next(item for item in stack if item.id == (state.shaft or state.id)).gear
    top, low = state.id == stack[0].id, state.id == stack[-1].id
    owner = owner_of(context, state)
    if holder.turned_by is not None:
        return _drive(context, context.parts.drives[holder.turned_by.text], state, owner, top, low)
    if holder.turns_on is not None:
        return _pivot(context, context.parts.pivots[holder.turns_on.text], state, owner) if low else ()
    if holder.carries is not None:
        foot = context.parts.feet[holder.carries.text]
        held = low if foot.kind == "riding" else state.gear is holder
        return _foot(context, foot, context.feet.get(holder.name.text), state, owner) if held else ()
    return ()


def owner_of(context: PartContext, state: GearState) -> str:
    """The drive, pivot or foot of a gear's shaft, with the gear that holds it: `crank.hub`, `pin.west`, `corner.nw`."""
    root = state.shaft or state.id
    holder = next(item for item in context.stacks[root] if item.id == root)
    gear = holder.gear
    name = gear.turned_by or gear.turns_on or gear.carries
    return holder.foot_id or (f"{name.text}.{root}" if name is not None else root)


def _seat(state: GearState, face: Face) -> Seat:
    return Seat(face, 0.0, 0.0, state.face_width.mean, state.cutter_diameter_mm)


def _drive(context: PartContext, drive: Drive, state: GearState, owner: str, top: bool, low: bool) -> tuple[Feature, ...]:
    found: list[Feature] = []
    for nut in (drive.nut, drive.jam_nut):
        if nut is None or not (top if nut.side == "above" else low):
            continue
        # Of two nuts one over the other the first, which bears on the gear, has the recess.
        if nut is drive.jam_nut and drive.nut.side == nut.side and drive.nut.recessed is not None:
            continue
        face: Face = "topside" if nut.side == "above" else "underside"
        washer = drive.washer if nut.side in drive.washer_places else None
        found += nut_recess(context, nut, _seat(state, face), washer, owner)
    return tuple(found)


def _pivot(context: PartContext, pivot: Pivot, state: GearState, owner: str) -> tuple[Feature, ...]:
    if pivot.head_recessed is None:
        return ()
    washer = pivot.washer if "below" in pivot.washer_places else None
    return head_recess(context, pivot.screw, pivot.head_recessed.mm, _seat(state, "underside"), washer, owner, pivot.origin)


def _foot(context: PartContext, foot: Foot, held: FootState | None, state: GearState, owner: str) -> tuple[Feature, ...]:
    pocket = (
        held.pocket_mm if held is not None and held.pocket_mm is not None else foot.pocket.mm if foot.pocket is not None else 0.0
    )
    if foot.kind == "captured_nut":
        nut = foot.nut
        if nut is None:
            return ()
        seat = _seat(state, foot.nut_pocket or "underside")
        across = (nut.across_flats_mm, nut.across_corners_mm, nut.origin)
        return hex_recess(context, seat, across, pocket or nut.height_mm, f"hex pocket for the nut of {owner}", foot.origin)
    head = foot.screw.head if foot.screw is not None else None
    if head is None:
        return ()
    seat = _seat(state, "underside")
    if foot.kind == "riding":
        depth, what, room = pocket, f"pocket for the head of {owner}", GLUED_ROOM_MM
    else:
        depth, what, room = (foot.socket_depth.mm if foot.socket_depth else 0.0), f"socket for the head of {owner}", SLIDING_ROOM_MM
    if head.across_flats_mm is not None:
        across = (head.across_flats_mm, head.across_corners_mm, head.origin)
        return hex_recess(context, seat, across, depth, f"hex {what}", foot.origin, room)
    because = f"largest diameter of the head plus {context.length(room)} of room (common practice, no source)"
    return round_recess(context, seat, head_diameter_mm(head) + room, depth, what, because, foot.origin)
