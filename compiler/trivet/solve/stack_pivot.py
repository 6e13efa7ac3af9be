"""An idler's pivot: head, washer, gear, washer, board, from below; and the play that is left.

A wood screw has no stop. Without a sleeve or a shoulder the play is set at assembly and does not vary with the sheet. A sleeve
or shoulder is as long as the thickest gear, with the shallowest recess, plus the play (and the washers it passes through, at
their thickest).
"""

from __future__ import annotations

from collections.abc import Sequence

from trivet.model.hardware import TeeNut
from trivet.model.shop import Shop
from trivet.model.train import Pivot
from trivet.record import record
from trivet.solve.board_levels import Boards
from trivet.solve.corner import Corner, head_height_mm, washer_mm
from trivet.solve.derived import GearState
from trivet.solve.fixed_gear import FixedGear, droop_mm, stack_width_mm, stacked_gears

# Common practice, no source.
DEFAULT_PLAY_MM = 0.3
# Thread in wood, in screw diameters: common practice, no source.
THREAD_IN_WOOD = 1.5
# A blind screw's tip stays this far below the topside, mm (common practice, no source: as a screw in a blind hole).
TIP_BELOW_TOPSIDE_MM = 1.0
# Thickness swelling of plywood: 0.063 mm on 18 mm per 1 % of moisture (from memory).
SWELLING_PER_MM_PERCENT = 0.063 / 18.0


@record
class PivotStack:
    """At one combination. `items`, `held_mm`, `face_mm` as in a drive's stack, from under the head upwards. z in mm."""

    items: tuple[tuple[str, float], ...]
    held_mm: float
    face_mm: float
    face_of: str
    thread_from_mm: float
    play_mm: float
    sleeve_mm: float | None
    gears: dict[str, FixedGear]
    gear_low_mm: float
    head_z_mm: float
    head_low_mm: float
    droop_mm: float


def sleeve_length_mm(pivot: Pivot, stack: Sequence[GearState], shop: Shop) -> float | None:
    """Length of the sleeve or shoulder, mm; None where the pivot has neither."""
    outside = pivot.sleeve_outside or pivot.shoulder
    if outside is None:
        return None
    thickest = stack_width_mm(stack, Corner(1, 1)) - max(_recess_mm(pivot) - _depth_error(pivot, shop), 0.0)
    length = thickest + _play_mm(pivot)
    if pivot.washer is not None and pivot.washer.inside_mm >= outside.mm:
        length += len(set(pivot.washer_places)) * pivot.washer.thickness_max_mm
    return length


def pivot_stack(
    pivot: Pivot, stack: Sequence[GearState], boards: Boards, shop: Shop, drop_mm: float, corner: Corner, washer_sign: int
) -> PivotStack:
    """The stack at one combination of sheets and recess depths; washers at `washer_sign`."""
    board = boards.z[stack[0].gear.under.text]
    recess = max(_recess_mm(pivot) + corner.depth * _depth_error(pivot, shop), 0.0)
    web = max(stack_width_mm(stack, corner) - recess, 0.0)
    washer = washer_mm(pivot.washer, washer_sign) if pivot.washer is not None else 0.0
    over, beneath = (washer if side in pivot.washer_places else 0.0 for side in ("above", "below"))
    sleeve, outside = sleeve_length_mm(pivot, stack, shop), pivot.sleeve_outside or pivot.shoulder
    items: list[tuple[str, float]]
    if sleeve is None or outside is None:
        play = _play_mm(pivot)
        items = [("washer below the gear", beneath), ("gear above the head", web), ("play", play), ("washer above the gear", over)]
    elif pivot.washer is not None and pivot.washer.inside_mm >= outside.mm:
        play = sleeve - web - over - beneath
        items = [("sleeve", sleeve)]
    else:
        play = sleeve - web
        items = [("washer below the gear", beneath), ("sleeve", sleeve), ("washer above the gear", over)]
    items.append(("gears of higher levels", drop_mm))
    head_form = pivot.screw.head.form
    if head_form == "countersunk":
        items.insert(0, ("head within the length", pivot.screw.head.height_mm))
    to_board = sum(value for _, value in items)
    wood = board.top_mm - board.under_mm
    last, face_mm, face_of = _hold(pivot, wood, to_board, stack[0].gear.under.text, corner.depth * shop.depth_mm)
    items += last
    rest = board.under_mm - drop_mm - over - play
    gears = stacked_gears(stack, corner, rest, rest + play, rest)
    across = pivot.washer.outside_mm if pivot.washer is not None else pivot.screw.head.diameter_mm
    droop = droop_mm(max(item.geometry.tip_radius_mm for item in stack), shop.bore_clearance_mm, web, max(play, 0.0), across)
    bearing = board.under_mm - to_board + (pivot.screw.head.height_mm if head_form == "countersunk" else 0.0)
    return PivotStack(
        items=tuple((name, value) for name, value in items if value != 0.0),
        held_mm=sum(value for _, value in items),
        face_mm=face_mm,
        face_of=face_of,
        thread_from_mm=to_board,
        play_mm=play,
        sleeve_mm=sleeve,
        gears=gears,
        gear_low_mm=gears[stack[-1].id].bottom_mm - droop,
        head_z_mm=bearing,
        head_low_mm=bearing - head_height_mm(pivot.screw.head, 1),
        droop_mm=droop,
    )


def _hold(pivot: Pivot, wood: float, to_board: float, board: str, depth_mm: float) -> tuple[list[tuple[str, float]], float, str]:
    """What holds the screw: its items, the length at which its end lies at the outermost place allowed, and what that place is."""
    if pivot.nut is None:
        need = THREAD_IN_WOOD * pivot.thread.major_mm
        return [("thread in the wood", need)], to_board + wood - TIP_BELOW_TOPSIDE_MM, f"just below the topside of `{board}`"
    recess = max(pivot.nut.recessed.mm + depth_mm, 0.0) if pivot.nut.recessed is not None else 0.0
    hardware = pivot.nut.hardware
    if isinstance(hardware, TeeNut):
        # The thread is in the barrel, which hangs in the hole below the flange.
        height, barrel = hardware.flange_thickness_mm, hardware.barrel_length_mm
        need = min(pivot.thread.major_mm, barrel)
        items = [("board under the barrel", max(wood - recess - barrel, 0.0)), ("thread in the tee nut", need)]
    else:
        height = hardware.height_mm
        items = [("board under the nut", wood - recess), ("nut in the board", height)]
    return items, to_board + max(wood, wood - recess + height), f"the topside of `{board}`"


def _play_mm(pivot: Pivot) -> float:
    return pivot.play.mm if pivot.play is not None else DEFAULT_PLAY_MM


def _recess_mm(pivot: Pivot) -> float:
    return pivot.head_recessed.mm if pivot.head_recessed is not None else 0.0


def _depth_error(pivot: Pivot, shop: Shop) -> float:
    return shop.depth_mm if pivot.head_recessed is not None else 0.0


def swelling_mm(stack: Sequence[GearState], shop: Shop) -> float:
    """How much the gears of a shaft thicken from the driest to the wettest of the stated range, mm (plywood, from memory)."""
    width = sum(state.face_width.mean for state in stack)
    return SWELLING_PER_MM_PERCENT * width * (shop.moisture_most - shop.moisture_least)
