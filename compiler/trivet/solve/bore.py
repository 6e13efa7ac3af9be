"""The hole in the middle of a gear, as cut."""

from __future__ import annotations

from trivet.model.hardware import TeeNut
from trivet.model.train import Gear
from trivet.solve.train_parts import TrainParts
from trivet.units import length_text

# Room round a screw's shank that its head holds in a pocket: enough to enter, too little to matter (common practice, no
# source).
SHANK_ROOM_MM = 0.2


def gear_bore(gear: Gear, holder: Gear, parts: TrainParts, unit: str = "mm") -> tuple[float, str]:
    """(diameter in mm, why). `holder` is the gear of the shaft that has the drive, pivot or foot: the same gear, or its mate.

    A stated `bore` wins. Drive: the tee nut's hole where one is let into this gear, else the bolt's hole in the board.
    Idler: sleeve, shoulder or thread, plus the shop's bore clearance. Riding foot: the screw's shank. Captured nut: its
    rod passes with the bore clearance. Sliding hex: the thread passes above the socket with the bore clearance.
    """
    if gear.bore is not None:
        return gear.bore.mm, "stated as `bore`"
    clearance = parts.shop.bore_clearance_mm
    room = f"{length_text(clearance, unit)} bore clearance"
    if holder.turned_by is not None:
        drive = parts.drives[holder.turned_by.text]
        if gear is holder and isinstance(drive.nut.hardware, TeeNut):
            return drive.nut.hardware.hole_mm, f"hole for the tee nut's {drive.thread.designation} barrel"
        return drive.hole_mm, f"the {drive.thread.designation} bolt passes with the fit of its hole in the board ({drive.fit})"
    if holder.turns_on is not None:
        pivot = parts.pivots[holder.turns_on.text]
        outside = parts.pivot_outside_mm(holder)
        what = (
            "sleeve outside"
            if pivot.sleeve_outside is not None
            else "shoulder"
            if pivot.shoulder is not None
            else f"{pivot.thread.designation} thread"
        )
        return outside + clearance, f"{what} {length_text(outside, unit)} plus {room}"
    if holder.carries is not None:
        foot = parts.feet[holder.carries.text]
        thread = f"{foot.thread.designation} {length_text(foot.thread.major_mm, unit)}"
        if foot.kind == "riding":
            return foot.thread.major_mm + SHANK_ROOM_MM, f"shank of the screw, {thread}, plus {length_text(SHANK_ROOM_MM, unit)}"
        what = "rod" if foot.kind == "captured_nut" else "thread above the socket"
        return foot.thread.major_mm + clearance, f"{what}, {thread}, plus {room}"
    return 0.0, "nothing holds the gear: no bore"
