"""A stop on the drive: a nut that is kept from turning travels along the end of the bolt and jams at both ends of the travel. Lengths mm.

From the drive's last nut down: room in which the travelling nut moves by the bolt's lead a turn, the nut with its washer, and an end nut
locked on the bolt. A longer bolt stands lower and may take travel from the feet, so both are found together.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from trivet.model.train import Drive
from trivet.record import record
from trivet.solve.beyond import first_beyond
from trivet.solve.bolts import STOP_ITEM, Worlds, drive_stands
from trivet.solve.derived import Derived, DriveState, GearState
from trivet.solve.foot_case import FootSpec, World
from trivet.solve.low_point import drive_of
from trivet.solve.rise import rise_per_turn_mm
from trivet.solve.stroke import mean_stroke
from trivet.solve.world import with_low_point

# Turns past each end of the travel at which the stop meets, at most; half of what is left to the first thing that jams or parts.
SPARE_TURNS = 0.25
# Threads that stand out of the end nut (common practice, no source).
OUT_PITCHES = 1.0
SAME_TURNS = 1e-4


@record
class StopPlan:
    """`turns` that the stop allows, `window_mm` in which the nut moves, `end_nut_mm`: where the end nut's upper face is locked, from where the
    bolt's length counts. At each end: what the nut meets, turns past the end of the travel, and turns still left to what goes wrong next.
    """

    drive: str
    turns: float
    window_mm: float
    nut_mm: float
    washer_mm: float
    needed_mm: float
    end_nut_mm: float
    least_meets: Literal["jam nut", "end nut"]
    most_meets: Literal["jam nut", "end nut"]
    past_least_turns: float
    past_most_turns: float
    left_least_turns: float | None
    left_most_turns: float | None


def stop_parts_mm(drive: Drive) -> float:
    """The travelling nut with its washer, the end nut with the nut that may lock it, and what stands out."""
    nut = drive.stop_nut.height_mm if drive.stop_nut is not None else 0.0
    washer = drive.stop_washer.thickness_max_mm if drive.stop_washer is not None else 0.0
    nuts = 3.0 if drive.stop_locked_by == "jam_nut" else 2.0
    return nuts * nut + washer + OUT_PITCHES * drive.thread.pitch_mm


def stop_mm(drive: Drive, turns: float) -> float:
    """Length of bolt that a stop of so many turns takes below the drive's last nut."""
    return turns * drive.thread.lead_mm + stop_parts_mm(drive)


def stop_turns(
    drive: Drive, specs: Sequence[FootSpec], world: World, stacks: Mapping[str, tuple[GearState, ...]], root: str, held_mm: float
) -> float:
    """Turns for the travel that is left once the bolt is long enough for them, at mean sheets: their crossing, by halving. 0 without any."""
    rises = [rise_per_turn_mm(spec.foot, spec.gear) for spec in specs]
    if not rises or not rises[0]:
        return 0.0
    per_turn = abs(float(rises[0]))

    def left(turns: float) -> float:
        length = held_mm + stop_mm(drive, turns + 2.0 * SPARE_TURNS)
        stroke = mean_stroke(specs, with_low_point(world, dict(stacks), {root: length}))
        return max(0.0, stroke.travel_mm) / per_turn if stroke is not None else 0.0

    low, high = 0.0, left(0.0)
    while high - low > SAME_TURNS:
        middle = (low + high) / 2.0
        if left(middle) >= middle:
            low = middle
        else:
            high = middle
    return high


def drive_stop_mm(worlds: Worlds, specs: Sequence[FootSpec], stacks: Mapping[str, tuple[GearState, ...]], root: str) -> float:
    """Length of bolt that the stop of a drive takes; 0 where it has none."""
    drive = drive_of(worlds[0, 0].design, worlds[0, 0].states[root].gear)
    if drive is None or not drive.stop:
        return 0.0
    _, long, _ = drive_stands(worlds, stacks[root], drive)
    turns = stop_turns(drive, specs, worlds[0, 0], stacks, root, max(item.held_mm for item in long))
    return stop_mm(drive, turns + 2.0 * SPARE_TURNS)


def stop_plan(derived: Derived, state: DriveState) -> StopPlan | None:
    """The stop as it is set; None without one, or where nothing is lifted."""
    drive, lift = state.drive, derived.lift
    bolt = next((item for item in derived.bolts if item.part == state.id), None)
    if not drive.stop or drive.stop_nut is None or lift is None or lift.travel_mm <= 0.0 or bolt is None:
        return None
    ends = [first_beyond(derived, "least"), first_beyond(derived, "most")]
    past = [min(SPARE_TURNS, end.turns / 2.0) if end is not None else SPARE_TURNS for end in ends]
    left = [end.turns - spare if end is not None else None for end, spare in zip(ends, past, strict=True)]
    turns = lift.turns_for_travel + past[0] + past[1]
    window = turns * drive.thread.lead_mm
    washer = drive.stop_washer.thickness_max_mm if drive.stop_washer is not None else 0.0
    nut = drive.stop_nut.height_mm
    held = sum(band.mean for name, band in bolt.stack if name != STOP_ITEM)
    # A right-hand bolt turned clockwise draws a nut that cannot turn up towards its head.
    raising_up = (lift.raises_when == "clockwise") == (drive.thread.hand > 0)
    return StopPlan(
        drive=state.id,
        turns=turns,
        window_mm=window,
        nut_mm=nut,
        washer_mm=washer,
        needed_mm=bolt.least_mm,
        end_nut_mm=held + window + nut + washer,
        least_meets="end nut" if raising_up else "jam nut",
        most_meets="jam nut" if raising_up else "end nut",
        past_least_turns=past[0],
        past_most_turns=past[1],
        left_least_turns=left[0],
        left_most_turns=left[1],
    )
