"""What holds a gear's axis where it stands, and how far that may be off."""

from __future__ import annotations

import math

from trivet.model.base import Band
from trivet.model.foot import Foot, InsertUse
from trivet.model.hardware import Insert
from trivet.model.train import Gear
from trivet.solve.backlash_budget import Carrying, Cutting
from trivet.solve.train_parts import TrainParts


def gear_cutting(gear: Gear, parts: TrainParts) -> Cutting:
    """What cuts a gear; its machine's errors stand before the shop's."""
    machine = parts.machines[gear.machine.text] if gear.machine is not None else None
    offset, run_out = parts.shop.profile_offset_mm, parts.shop.run_out_mm
    if machine is not None and machine.profile_offset is not None:
        offset = machine.profile_offset.mm
    if machine is not None and machine.run_out is not None:
        run_out = machine.run_out.mm
    return Cutting(gear.cutter.text, machine.name.text if machine is not None else "", offset, run_out)


def gear_carrying(gear: Gear, parts: TrainParts, hole_mm: float, depth_mm: float) -> Carrying:
    """Position of the hole in the board, then the play of what stands in it. `gear` is the one that holds the shaft.

    A diametral clearance shifts an axis by half of it either way. `depth_mm`: from the board's underside down to the
    far end of the overlap, taken at the gears' lower faces with no extension: a neighbour held axially ends there
    whatever the height.
    """
    shifts = [("hole position", _hole_position_mm(gear, parts))]
    if gear.turned_by is not None:
        drive = parts.drives[gear.turned_by.text]
        shifts.append(("clearance of the bolt's hole", (drive.hole_mm - drive.thread.major_mm) / 2.0))
        # A tee nut is driven in tight; on any other nut the gear can be clamped off centre by its own clearance.
        if not parts.has_tee_nut(gear):
            shifts.append(("bore clearance", (hole_mm - drive.thread.major_mm) / 2.0))
    elif gear.turns_on is not None:
        shifts.append(("bore clearance", (hole_mm - parts.pivot_outside_mm(gear)) / 2.0))
    elif gear.carries is not None:
        foot = parts.feet[gear.carries.text]
        if foot.kind == "captured_nut":
            shifts.append(("bore clearance", (hole_mm - foot.thread.major_mm) / 2.0))
        elif foot.kind == "sliding_hex":
            shifts.append(("clearance of the socket", parts.shop.bore_clearance_mm / 2.0))
        if foot.insert is not None:
            return Carrying(_loose(shifts), _tilt_rad(foot, parts), depth_mm + _insert_middle_mm(foot, parts))
    return Carrying(_loose(shifts))


def _loose(shifts: list[tuple[str, float]]) -> tuple[tuple[str, float], ...]:
    """Without the fits that leave no play: a bore that is too tight is a fault, not a help."""
    return tuple((what, shift) for what, shift in shifts if shift > 0.0)


def _hole_position_mm(gear: Gear, parts: TrainParts) -> float:
    board = parts.boards[gear.under.text]
    machine = parts.machines[board.machine.text] if board.machine is not None else None
    if machine is not None and machine.hole_position is not None:
        return machine.hole_position.mm
    return parts.shop.hole_position_mm


def _tilt_rad(foot: Foot, parts: TrainParts) -> float:
    """The insert's tilt; a guide lets a straight screw tilt by its clearance over its length at most."""
    tilt = math.radians(parts.shop.insert_tilt_deg)
    if foot.guide is not None:
        tilt = min(tilt, math.atan(foot.guide.clearance.mm / foot.guide.length.mm))
    return tilt


def _insert_middle_mm(foot: Foot, parts: TrainParts) -> float:
    """Height of the insert's mid-length above the board's underside."""
    use = foot.insert
    assert use is not None
    length, proud = _insert_length_mm(use), use.proud.mm if use.proud is not None else 0.0
    thickness: Band = parts.board_thickness(foot.into.text)
    return length / 2.0 - proud if use.flush == "underside" else thickness.mean + proud - length / 2.0


def _insert_length_mm(use: InsertUse) -> float:
    return use.hardware.length_mm if isinstance(use.hardware, Insert) else use.hardware.barrel_length_mm
