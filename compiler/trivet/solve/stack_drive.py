"""The drive's stack: bolt head in the uppermost board, boards, play, nut above the gear, gear, jam nut below.

The bolt turns with its gear. It hangs by its head, so at rest the play lies between the board and whatever is uppermost on the gear.
"""

from __future__ import annotations

from collections.abc import Sequence

from trivet.model.hardware import TeeNut
from trivet.model.shop import Shop
from trivet.model.train import Drive, DriveNut
from trivet.record import record
from trivet.solve.board_levels import Boards
from trivet.solve.corner import Corner, washer_mm
from trivet.solve.derived import GearState
from trivet.solve.fixed_gear import FixedGear, droop_mm, stack_width_mm, stacked_gears

# Common practice, no source: enough to turn freely, little enough to be covered by the mesh.
DEFAULT_PLAY_MM = 0.2


@record
class DriveStack:
    """At one combination. `items`: (what, mm) from under the head downwards; their sum fills the last nut.

    `held_mm`: that sum. `face_mm`: length under the head at which the end lies flush with the outer face of the gear or nut.
    `thread_from_mm`: distance under the head at which the first nut begins. `head_z_mm`: where the length counts from: the face under
    the head, or the top of a countersunk one. `underside_mm`: how far under the head the gear's lower face lies. z in mm.
    """

    items: tuple[tuple[str, float], ...]
    held_mm: float
    face_mm: float
    face_of: str
    thread_from_mm: float
    head_z_mm: float
    nut_low_mm: float
    gears: dict[str, FixedGear]
    gear_low_mm: float
    droop_mm: float
    play_mm: float
    remaining_mm: float
    underside_mm: float


def drive_stack(
    drive: Drive, stack: Sequence[GearState], boards: Boards, shop: Shop, drop_mm: float, corner: Corner, washer_sign: int
) -> DriveStack:
    """The stack at one combination of sheets and recess depths; washers at `washer_sign`. `drop_mm`: how far the gear's level hangs."""
    gear = stack[0]
    board = gear.gear.under.text
    depth = corner.depth * shop.depth_mm
    recess = drive.head_recessed.mm + depth if drive.head_recessed is not None else 0.0
    top, under = boards.uppermost_mm(board), boards.z[board].under_mm
    play = drive.play.mm if drive.play is not None else DEFAULT_PLAY_MM
    washer = washer_mm(drive.washer, washer_sign) if drive.washer is not None else 0.0
    nuts = [drive.nut, *([drive.jam_nut] if drive.jam_nut is not None else [])]
    above, below = [nut for nut in nuts if nut.side == "above"], [nut for nut in nuts if nut.side == "below"]
    proud, sunk = _outside_mm(above, depth), _recess_mm(below, depth)
    width = stack_width_mm(stack, corner)

    # The length of a countersunk screw counts from the top of its head (ISO 225, from memory), which stands this far over the recess.
    sunk_head = drive.bolt.head.height_mm if drive.bolt.head.form == "countersunk" else 0.0
    items = [("head within the length", sunk_head)] if sunk_head else []
    items += [("washer under the head", washer)] if "head" in drive.washer_places else []
    items.append(("boards under the head", top - recess - under))
    items += [("play", play), ("gears of higher levels", drop_mm)]
    items += [("washer above the gear", washer)] if "above" in drive.washer_places else []
    to_nut = sum(value for _, value in items)
    if below:
        items += [("nut above the gear", proud), ("gear between its nuts", width - sunk)]
        items += [("washer below the gear", washer)] if "below" in drive.washer_places else []
        thread_from = to_nut if above else sum(value for _, value in items)
        items.append(("nut below the gear", sum(_height_mm(nut) for nut in below)))
    else:
        thread_from = to_nut
        items.append(("nut above the gear", sum(_height_mm(nut) for nut in above)))
    held = sum(value for _, value in items)
    underside = to_nut + proud + width
    head_z = top - recess + (washer if "head" in drive.washer_places else 0.0) + sunk_head
    rest = under - drop_mm - play - proud - (washer if "above" in drive.washer_places else 0.0)
    gears = stacked_gears(stack, corner, rest, rest + play, rest)
    clearance = max(drive.hole_mm - drive.thread.major_mm, 0.0)
    flange = max((_bearing_mm(nut) for nut in above), default=0.0)
    droop = droop_mm(max(item.geometry.tip_radius_mm for item in stack), clearance, top - recess - under, play, flange)
    return DriveStack(
        items=tuple((name, value) for name, value in items if value != 0.0),
        held_mm=held,
        face_mm=max(held, underside),
        face_of=f"the underside of `{stack[-1].id}`" if underside >= held else "the outer face of the nut",
        thread_from_mm=thread_from,
        head_z_mm=head_z,
        nut_low_mm=head_z - held,
        gears=gears,
        gear_low_mm=gears[stack[-1].id].bottom_mm - droop,
        droop_mm=droop,
        play_mm=play,
        remaining_mm=boards.z[boards.chain(board)[-1]].top_mm - boards.z[boards.chain(board)[-1]].under_mm - recess,
        underside_mm=underside,
    )


def _height_mm(nut: DriveNut) -> float:
    return nut.hardware.height_mm


def _bearing_mm(nut: DriveNut) -> float:
    hardware = nut.hardware
    return hardware.flange_diameter_mm if isinstance(hardware, TeeNut) else hardware.across_flats_mm


def _recess_mm(nuts: list[DriveNut], depth: float) -> float:
    """How far the first nut's bearing face lies inside the gear."""
    recess = nuts[0].recessed if nuts else None
    return recess.mm + depth if recess is not None else 0.0


def _outside_mm(nuts: list[DriveNut], depth: float) -> float:
    """How far nuts stand out of the gear's upper face: a tee nut by its flange, a hexagon nut by its height, less the recess."""
    total = 0.0
    for nut in nuts:
        hardware = nut.hardware
        total += hardware.flange_thickness_mm if isinstance(hardware, TeeNut) else hardware.height_mm
    return max(0.0, total - _recess_mm(nuts, depth))
