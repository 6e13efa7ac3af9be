"""Which recess would let a length of screw do that is sold, or one that can be cut, as a fact to write down."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trivet.model.hardware import Screw, TeeNut
from trivet.model.train import Drive, Pivot
from trivet.record import record
from trivet.solve.bolt_length import SAME_MM, choose_length, fits, step_mm, stock_text
from trivet.units import decimal_beside, made_text

# Wood that a recess leaves, mm: under a head in the board, and in a gear (common practice, no source; as the checks ask).
UNDER_HEAD_MM = 6.0
IN_GEAR_MM = 3.0
# Steps of a recess that is offered: a tenth of a millimetre; a 64th of an inch, or a hundredth where no 64th would do.
STEPS_MM = (0.1,)
STEPS_INCH_MM = (25.4 / 64, 0.254)


@record
class Recess:
    """The head's recess: as stated (0 where none is), and how shallow and how deep it may be, mm."""

    stated_mm: float
    shallowest_mm: float
    deepest_mm: float


def drive_recess(drive: Drive, remaining_mm: float, depth_mm: float) -> Recess:
    """Of a drive: the head below the topside, enough wood under it. `remaining_mm`: the least left under the head now."""
    stated = drive.head_recessed.mm if drive.head_recessed is not None else 0.0
    left = min(UNDER_HEAD_MM, (remaining_mm + stated + depth_mm) / 2.0)
    sunk = 0.0 if drive.bolt.head.form == "countersunk" else drive.bolt.head.height_max_mm
    return Recess(stated, sunk + depth_mm, stated + remaining_mm - left)


def pivot_recess(pivot: Pivot, width_mm: float, depth_mm: float) -> Recess:
    """Of a pivot: enough wood left in the gear, `width_mm` at its thinnest."""
    stated = pivot.head_recessed.mm if pivot.head_recessed is not None else 0.0
    return Recess(stated, 0.0, width_mm - depth_mm - IN_GEAR_MM)


def recess_for_stock(screw: Screw, least_mm: float, most_mm: float, thread_from_mm: float, recess: Recess, unit: str) -> str:
    """`head recessed …` with which a stock length does as bought, the smallest change; empty where none would.

    All three lengths move with the recess, millimetre for millimetre.
    """
    for step in STEPS_INCH_MM if unit in ("in", "thou") else STEPS_MM:
        found: list[tuple[float, float, float]] = []
        for length in screw.stock_mm:
            if length < least_mm:
                depth = math.ceil((recess.stated_mm + least_mm - length) / step - 1e-6) * step
            else:
                depth = math.floor((recess.stated_mm + most_mm - length) / step + 1e-6) * step
            by = depth - recess.stated_mm
            good = recess.shallowest_mm - SAME_MM <= depth <= recess.deepest_mm + SAME_MM
            if good and fits(screw, length, least_mm - by, most_mm - by, thread_from_mm - by):
                found.append((abs(by), depth, length))
        if found:
            _, depth, length = min(found)
            text = made_text(depth, unit)
            return f"`head recessed {text}`{decimal_beside(text)} lets a screw of {stock_text(screw, length)} do as bought"
    return ""


def nut_recess_that_fits(
    drive: Drive, least_mm: float, undersides_mm: Sequence[float], width_mm: float, depth_mm: float, unit: str
) -> str:
    """`recessed …` for the nut below the gear with which a length can be cut; empty where the gear would become too thin.

    `undersides_mm`: how far below the head the gear's lower face lies; `width_mm`: the gear at its thinnest.
    """
    word, nut = ("jam_nut", drive.jam_nut) if drive.jam_nut is not None else ("nut", drive.nut)
    if nut is None or nut.side != "below":
        return ""
    stated = nut.recessed.mm if nut.recessed is not None else 0.0
    asked = stated + least_mm - min(undersides_mm) + step_mm(unit)
    # A nut let into the gear's other face takes wood too.
    others = (item.recessed.mm for item in (drive.nut, drive.jam_nut) if item is not None and item.side == "above" and item.recessed)
    deepest = width_mm - depth_mm - IN_GEAR_MM - max(others, default=0.0)
    longest = max(drive.bolt.stock_mm, default=0.0)
    for step in STEPS_INCH_MM if unit in ("in", "thou") else STEPS_MM:
        depth = math.ceil(asked / step - 1e-6) * step
        if stated < depth <= deepest + SAME_MM and longest >= least_mm - (depth - stated):
            text = made_text(depth, unit)
            return f"`recessed {text}`{decimal_beside(text)} in the `{word}` leaves a length that can be cut"
    return ""


def pivot_nut_recess(pivot: Pivot, least_mm: float, most_mm: float, thread_from_mm: float, wood_mm: float, unit: str) -> str:
    """`recessed …` for the hexagon nut of a pivot's bolt with which a length fits; empty where the board would become too thin.

    `wood_mm`: the board at its thinnest, less the error of a depth. The bolt ends at the topside, so that a deeper nut only takes stack.
    """
    if pivot.nut is None or isinstance(pivot.nut.hardware, TeeNut):
        return ""
    stated = pivot.nut.recessed.mm if pivot.nut.recessed is not None else 0.0
    # A nut that stands out makes room for its bolt; let in, the topside is the end.
    room_mm = most_mm - max(0.0, pivot.nut.hardware.height_mm - stated)
    for step in STEPS_INCH_MM if unit in ("in", "thou") else STEPS_MM:
        first = math.ceil(max(stated + least_mm - room_mm, pivot.nut.hardware.height_mm) / step - 1e-6)
        for count in range(first, int((wood_mm - UNDER_HEAD_MM) / step + 1e-6) + 1):
            depth = count * step
            if depth > stated and choose_length(pivot.screw, least_mm - (depth - stated), room_mm, thread_from_mm, unit).buy_mm is not None:
                text = made_text(depth, unit)
                return f"`recessed {text}`{decimal_beside(text)} in the `nut` leaves room for a length that is sold"
    return ""
