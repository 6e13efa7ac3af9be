"""Records of the drive and the pivots: play, lowest points, droop, sleeves."""

from __future__ import annotations

from trivet.model.base import Band
from trivet.solve.bolts import Stack, Worlds, drive_stands, pivot_stands
from trivet.solve.derived import Because, DriveState, PivotState
from trivet.solve.low_point import drive_low, drive_of, pivot_low, pivot_of
from trivet.solve.stack_pivot import swelling_mm
from trivet.units import length_text


def drive_state(worlds: Worlds, stack: Stack, root: str, length_mm: float | None, unit: str) -> DriveState | None:
    """The drive's record; `length_mm` the fitted bolt's."""
    mean_world = worlds[0, 0]
    drive = drive_of(mean_world.design, mean_world.states[root].gear)
    if drive is None:
        return None
    mean, long, short = drive_stands(worlds, stack, drive)
    lows = {key: min(item.z_mm for item in drive_low(world, stack, root, length_mm)) for key, world in worlds.items()}
    remaining = min(item.remaining_mm for item in (*long, *short))
    because = Because(
        quantity=f"lowest point of {drive.name.text}",
        value=length_text(lows[0, 0], unit),
        formula="least of gear with play and droop, nut, bolt end",
        inputs=(
            ("play", length_text(mean.play_mm, unit), drive.play.origin if drive.play is not None else drive.origin),
            ("droop", length_text(mean.droop_mm, unit), drive.origin),
        ),
        source="derived; a play not stated is 0.2 mm, common practice, no source",
    )
    return DriveState(
        id=f"{drive.name.text}.{root}",
        drive=drive,
        gear=root,
        play_mm=mean.play_mm,
        z_low_mm=lows[0, 0],
        z_low_worst_mm=min(lows.values()),
        remaining_under_head_mm=remaining,
        because=(because,),
        droop_mm=mean.droop_mm,
    )


def pivot_state(worlds: Worlds, stack: Stack, root: str, unit: str) -> PivotState | None:
    """The record of one idler's pivot."""
    mean_world = worlds[0, 0]
    pivot = pivot_of(mean_world.design, mean_world.states[root].gear)
    if pivot is None:
        return None
    mean, long, short = pivot_stands(worlds, stack, pivot)
    plays = [item.play_mm for item in (*long, *short)]
    lows = {key: min(item.z_mm for item in pivot_low(world, stack, root)) for key, world in worlds.items()}
    swelling = swelling_mm(stack, mean_world.design.shop)
    formula = "set at assembly" if mean.sleeve_mm is None else "sleeve length − gear between its washers"
    because = Because(
        quantity=f"play of {pivot.name.text} under {root}",
        value=length_text(mean.play_mm, unit),
        formula=formula,
        inputs=(
            ("play", length_text(mean.play_mm, unit), pivot.play.origin if pivot.play is not None else pivot.origin),
            ("swelling over the moisture range", length_text(swelling, unit), None),
        ),
        source="derived; a play not stated is 0.3 mm, common practice, no source; swelling from memory",
    )
    return PivotState(
        id=f"{pivot.name.text}.{root}",
        pivot=pivot,
        gear=root,
        play=Band(mean.play_mm, min(plays), max(plays)),
        sleeve_length_mm=mean.sleeve_mm,
        z_low_mm=lows[0, 0],
        z_low_worst_mm=min(lows.values()),
        droop_mm=mean.droop_mm,
        swelling_mm=swelling,
        because=(because,),
    )
