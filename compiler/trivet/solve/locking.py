"""Which way of turning loosens a drive's nuts or an idler's screw, and what the drive's nuts hold: an estimate. N, mm, N·mm.

The bolt turns the gear through the threads of its nuts and the face of the jam nut. Turned against the gear, the bolt screws through the
first nut and takes the jam nut along: one way that draws the two together, the other way it parts them, and then only their friction holds.
"""

from __future__ import annotations

import math
from typing import Literal

from trivet.model.design import Design
from trivet.model.hardware import TeeNut
from trivet.model.train import Drive
from trivet.record import record
from trivet.solve.derived import Derived, DriveState, PivotState
from trivet.solve.library_figures import METAL_ON_WOOD, THREAD_FRICTION
from trivet.solve.power_screw import pitch_diameter_mm, torque_to_lower, torque_to_raise
from trivet.solve.torque import drive_torque, lowering_nmm

Way = Literal["clockwise", "anticlockwise"]
While = Literal["raising", "lowering"]
# Torque over force times diameter of a dry, zinc-plated nut (common practice, from memory: 0.2).
NUT_FACTOR = 0.2
# Pressure, N/mm², up to which a nut or washer is drawn on plywood before it crushes (assumed, no source).
PRESSURE = 5.0
TIGHTENED_SOURCE = "drawn until plywood bears 5 N/mm2 under nut or washer: assumed, no source; nut factor 0.2, from memory"
# What the nuts should hold over the torque that turns the drive.
SAFETY = 3.0


@record
class NutHold:
    """One drive. `loosens`: the way its nuts part, seen from above; `loosens_while`: whether that raises or lowers (None: no lift).

    `tightened_nmm`, `clamp_n`: assumed. `holds_nmm`: torque at which the bolt slips in its gear that way; None without a jam nut, where
    nothing clamps. `turns_nmm`: the torque at the drive that way under the stated loads, None without any. All at middling friction.
    """

    drive: str
    loosens: Way
    loosens_while: While | None
    tightened_nmm: float
    clamp_n: float
    holds_nmm: float | None
    turns_nmm: float | None

    @property
    def margin(self) -> float | None:
        """What holds over what turns."""
        return self.holds_nmm / self.turns_nmm if self.holds_nmm is not None and self.turns_nmm else None


@record
class PivotTurn:
    """One idler: which of raising and lowering drags its screw loose; None where its gear is not turned or nothing is lifted. `clamped`: a
    sleeve or a shoulder lets the screw be drawn tight, so that the gear does not turn on it with friction against its hold.
    """

    pivot: str
    gear: str
    loosens: Way
    loosens_while: While | None
    clamped: bool


def nut_hold(design: Design, derived: Derived, state: DriveState) -> NutHold:
    """What holds one drive."""
    drive = state.drive
    clamp = PRESSURE * math.pi / 4.0 * (bearing_mm(drive) ** 2 - drive.thread.major_mm**2)
    way = _loosens(drive)
    while_ = _while(derived, way)
    holds = _holds_nmm(drive, clamp)
    return NutHold(state.id, way, while_, NUT_FACTOR * clamp * drive.thread.major_mm, clamp, holds, _turns_nmm(design, derived, while_))


def _turns_nmm(design: Design, derived: Derived, while_: While | None) -> float | None:
    """Mean of low and high friction: what turns the drive that way; None where it is not known."""
    if while_ is None:
        return None
    ends: list[float | None]
    if while_ == "raising":
        found = drive_torque(design, derived)
        ends = [found.low_nmm, found.high_nmm] if found is not None else [None]
    else:
        ends = [lowering_nmm(design, derived, end) for end in (0, 1)]
    known = [nmm for nmm in ends if nmm is not None and math.isfinite(nmm)]
    return math.fsum(known) / len(known) if len(known) == len(ends) and min(known) > 0.0 else None


def bearing_mm(drive: Drive) -> float:
    """Diameter of what the jam nut bears on the gear with: its flats, its flange, or the washer under it."""
    if drive.washer is not None and drive.jam_nut is not None and drive.jam_nut.side in drive.washer_places:
        return drive.washer.outside_mm
    hardware = drive.jam_nut.hardware if drive.jam_nut is not None else drive.nut.hardware
    return hardware.flange_diameter_mm if isinstance(hardware, TeeNut) else hardware.across_flats_mm


def pivot_turn(design: Design, derived: Derived, state: PivotState) -> PivotTurn:
    """Which way an idler drags its screw loose: a right-hand screw with its head below tightens anticlockwise seen from above."""
    pivot = state.pivot
    way: Way = "clockwise" if pivot.thread.hand == 1 else "anticlockwise"
    direction = derived.train.gear(state.gear).direction
    # The drive's way that turns this gear that way.
    drives: Way | None = None if not direction else way if direction == 1 else _other(way)
    return PivotTurn(
        state.id, state.gear, way, _while(derived, drives) if drives is not None else None,
        pivot.sleeve_outside is not None or pivot.shoulder is not None,
    )  # fmt: skip


def _other(way: Way) -> Way:
    return "anticlockwise" if way == "clockwise" else "clockwise"


def _loosens(drive: Drive) -> Way:
    """A right-hand bolt turned clockwise goes down through its first nut: a jam nut below moves off, one above is drawn on.

    Without a jam nut the bolt leaves its nut the other way.
    """
    jam = drive.jam_nut
    off = jam is not None and (jam.side == "below" or drive.nut.side == "above")
    return "clockwise" if off == (drive.thread.hand == 1) else "anticlockwise"


def _holds_nmm(drive: Drive, clamp_n: float) -> float | None:
    """The first nut's thread on its loosening side, and the lesser of the jam nut's face and thread."""
    if drive.jam_nut is None:
        return None
    d2, lead = pitch_diameter_mm(drive.thread), drive.thread.lead_mm
    face = math.sqrt(METAL_ON_WOOD[0] * METAL_ON_WOOD[1]) * clamp_n * (bearing_mm(drive) + drive.thread.major_mm) / 4.0
    friction = math.sqrt(THREAD_FRICTION[0] * THREAD_FRICTION[1])
    thread = torque_to_raise(clamp_n, d2, lead, friction)
    return max(0.0, torque_to_lower(clamp_n, d2, lead, friction)) + min(face, thread)


def _while(derived: Derived, way: Way) -> While | None:
    if derived.lift is None:
        return None
    return "raising" if derived.lift.raises_when == way else "lowering"
