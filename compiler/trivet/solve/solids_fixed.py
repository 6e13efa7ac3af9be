"""Solids of drives and pivots: heads, washers, nuts, shanks and bolt ends, at one combination of sheets."""

from __future__ import annotations

from trivet.model.hardware import TeeNut
from trivet.model.train import Drive, DriveNut, Pivot
from trivet.solve.corner import head_height_mm, washer_mm
from trivet.solve.derived import GearState
from trivet.solve.foot_case import World
from trivet.solve.low_point import depth_against
from trivet.solve.solid import Solid, SolidKind
from trivet.solve.spanner import SHARP_CORNERS
from trivet.solve.stack_drive import drive_stack
from trivet.solve.stack_pivot import pivot_stack
from trivet.solve.sunk import head_diameter_mm
from trivet.source import Origin

Stack = tuple[GearState, ...]


class _Axis:
    """Makes the solids of one axis."""

    def __init__(self, part: str, state: GearState) -> None:
        self.part, self.state = part, state
        self.found: list[Solid] = []

    def add(self, kind: SolidKind, diameter_mm: float, low_mm: float, high_mm: float, origin: Origin | None) -> None:
        if high_mm - low_mm > 1e-9:
            state = self.state
            place = (state.x_mm, state.y_mm, diameter_mm / 2.0)
            self.found.append(Solid(kind, self.part, state.id, *place, low_mm, high_mm, False, None, origin))


def gear_solids(world: World, stack: Stack, root: str) -> list[Solid]:
    """Gears that do not ride: at rest at mean sheets, over all play at extremes. Disc at the tip circle."""
    found = []
    for state in stack:
        fixed = world.fixed.get(state.id)
        if fixed is None:
            continue
        low, high = fixed.bottom_mm, fixed.top_mm
        if world.corner.worst:
            width = high - low
            low, high = min(low, fixed.lowest_top_mm - width), max(high, fixed.highest_bottom_mm + width)
        place = (state.x_mm, state.y_mm, state.tip_radius_mm)
        found.append(Solid("gear", state.id, root, *place, low, high, False, None, state.gear.name.origin))
    return found


def pivot_solids(world: World, stack: Stack, state: GearState, pivot: Pivot, length_mm: float | None) -> list[Solid]:
    """Head, washers, sleeve or shank, and what stands over the board, of one idler's pivot; heads at their lowest at extremes."""
    corner, drop = depth_against(world.corner), world.drops[stack[0].level]
    sign = 1 if world.corner.worst else 0
    stand = pivot_stack(pivot, stack, world.boards, world.design.shop, drop, corner, sign)
    axis = _Axis(f"{pivot.name.text}.{state.id}", state)
    board = world.boards.z[stack[0].gear.under.text]
    axis.add("head", head_diameter_mm(pivot.screw.head), stand.head_low_mm, stand.head_z_mm, pivot.origin)
    if pivot.washer is not None:
        thick = washer_mm(pivot.washer, sign)
        if "below" in pivot.washer_places:
            axis.add("washer", pivot.washer.outside_mm, stand.head_z_mm, stand.head_z_mm + thick, pivot.origin)
        if "above" in pivot.washer_places:
            high = board.under_mm - drop
            axis.add("washer", pivot.washer.outside_mm, high - thick, high, pivot.origin)
    sleeve = pivot.sleeve_outside or pivot.shoulder
    if sleeve is not None:
        axis.add("sleeve", sleeve.mm, stand.head_z_mm, board.under_mm, pivot.origin)
    reach = stand.head_z_mm + length_mm if length_mm is not None else board.under_mm
    axis.add("shank", pivot.thread.major_mm, stand.head_z_mm, max(reach, board.under_mm), pivot.origin)
    if pivot.nut is not None:
        recess = pivot.nut.recessed.mm if pivot.nut.recessed is not None else 0.0
        _nut(axis, pivot.nut, board.top_mm - recess, pivot.origin)
    return axis.found


def drive_solids(world: World, stack: Stack, state: GearState, drive: Drive, length_mm: float | None) -> list[Solid]:
    """Head, washers, shank, nuts and bolt end of the drive; nuts at their lowest at extremes."""
    corner, drop = depth_against(world.corner), world.drops[stack[0].level]
    sign = 1 if world.corner.worst else 0
    stand = drive_stack(drive, stack, world.boards, world.design.shop, drop, corner, sign)
    axis = _Axis(f"{drive.name.text}.{state.id}", state)
    board = world.boards.z[stack[0].gear.under.text]
    head = drive.bolt.head
    sunk = head_height_mm(head, sign)
    low = stand.head_z_mm if head.form != "countersunk" else stand.head_z_mm - sunk
    axis.add("head", head_diameter_mm(head), low, low + sunk, drive.origin)
    top = stand.gears[stack[0].id].top_mm
    if drive.washer is not None:
        thick, wide = washer_mm(drive.washer, sign), drive.washer.outside_mm
        if "head" in drive.washer_places:
            axis.add("washer", wide, stand.head_z_mm - thick, stand.head_z_mm, drive.origin)
        if "above" in drive.washer_places:
            high = board.under_mm - drop
            axis.add("washer", wide, high - thick, high, drive.origin)
    nuts = [drive.nut, *([drive.jam_nut] if drive.jam_nut is not None else [])]
    level = top
    for nut in (item for item in nuts if item.side == "above"):
        recess = nut.recessed.mm if nut.recessed is not None and level == top else 0.0
        level = _nut(axis, nut, level - recess, drive.origin)
    below = [item for item in nuts if item.side == "below"]
    level = stand.nut_low_mm
    for nut in reversed(below):
        level = _nut(axis, nut, level, drive.origin)
    if below and drive.washer is not None and "below" in drive.washer_places:
        axis.add("washer", drive.washer.outside_mm, level, level + washer_mm(drive.washer, sign), drive.origin)
    end = stand.head_z_mm - length_mm if length_mm is not None else stand.nut_low_mm
    axis.add("shank", drive.thread.major_mm, min(stand.nut_low_mm, stand.gear_low_mm), stand.head_z_mm, drive.origin)
    axis.add("bolt_end", drive.thread.major_mm, end, min(stand.nut_low_mm, stand.gear_low_mm), drive.origin)
    return axis.found


def _nut(axis: _Axis, nut: DriveNut, seat_mm: float, origin: Origin | None) -> float:
    """A nut that bears at `seat_mm` and stands up from it; returns its other end. A tee nut's barrel hangs below its flange."""
    hardware = nut.hardware
    if isinstance(hardware, TeeNut):
        high = seat_mm + hardware.flange_thickness_mm
        axis.add("flange", hardware.flange_diameter_mm, seat_mm, high, origin)
        axis.add("barrel", hardware.barrel_diameter_mm, seat_mm - hardware.barrel_length_mm, seat_mm, origin)
        return high
    axis.add("nut", hardware.across_flats_mm * SHARP_CORNERS, seat_mm, seat_mm + hardware.height_mm, origin)
    return seat_mm + hardware.height_mm
