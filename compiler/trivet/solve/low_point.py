"""The lowest point of everything that does not move with the feet.

Idlers and drive gear with play taken downwards and their droop, washers at their thickest, pivot heads, nuts, bolt ends, keepers,
and boards below the one the feet act on. Recess depths are nominal at mean sheets, and at the extremes whichever way lets
the part hang lower.
"""

from __future__ import annotations

from collections.abc import Mapping

from trivet.model.design import Design
from trivet.model.train import Drive, Gear, Pivot
from trivet.record import replace
from trivet.solve.corner import Corner
from trivet.solve.derived import GearState
from trivet.solve.foot_case import LowPoint, World
from trivet.solve.stack_drive import drive_stack
from trivet.solve.stack_pivot import pivot_stack


def depth_against(sheets: Corner) -> Corner:
    """The sheets with recesses at their shallowest, unless all is nominal: heads and nuts stand lowest."""
    return replace(sheets, depth=-1) if sheets.worst else sheets


def pivot_of(design: Design, gear: Gear) -> Pivot | None:
    """The pivot that a gear turns on."""
    return next((item for item in design.pivots if gear.turns_on is not None and item.name.text == gear.turns_on.text), None)


def drive_of(design: Design, gear: Gear) -> Drive | None:
    """The drive that turns a gear."""
    return next((item for item in design.drives if gear.turned_by is not None and item.name.text == gear.turned_by.text), None)


def pivot_low(world: World, stack: tuple[GearState, ...], root: str) -> list[LowPoint]:
    """An idler's low points: its rim and its pivot's head."""
    pivot, drop = pivot_of(world.design, world.states[root].gear), world.drops[stack[0].level]
    if pivot is None:
        return []
    # A shallow recess lets the head hang lowest; with a sleeve or a shoulder a deep one gives the gear more play, and lets it hang lowest.
    deep = replace(world.corner, depth=1) if world.corner.worst else world.corner
    stands = [
        pivot_stack(pivot, stack, world.boards, world.design.shop, drop, depth, 1) for depth in (depth_against(world.corner), deep)
    ]
    return [
        LowPoint(min(stand.gear_low_mm for stand in stands), f"the idler `{stack[-1].id}`", "bench_idler"),
        LowPoint(min(stand.head_low_mm for stand in stands), f"the pivot head under `{stack[-1].id}`", "bench_pivot_head"),
    ]


def drive_low(world: World, stack: tuple[GearState, ...], root: str, length_mm: float | None) -> list[LowPoint]:
    """The drive's low points: its gear, its lowest nut and the end of its bolt."""
    drive, drop = drive_of(world.design, world.states[root].gear), world.drops[stack[0].level]
    if drive is None:
        return []
    shallow = depth_against(world.corner)
    deep = replace(shallow, depth=1) if shallow.worst else shallow
    # A shallow recess lets a nut stand out most; a deep one of the head leaves the bolt less wood, and lets the gear lean most.
    stands = [drive_stack(drive, stack, world.boards, world.design.shop, drop, depth, 1) for depth in (shallow, deep)]
    found = [
        LowPoint(min(stand.gear_low_mm for stand in stands), f"the drive gear `{stack[-1].id}`", "bench_drive"),
        LowPoint(min(stand.nut_low_mm for stand in stands), f"the nut under `{stack[-1].id}`", "bench_nut"),
    ]
    if length_mm is not None:
        # A bolt's end is lowest when its own head's recess is deepest.
        low = drive_stack(drive, stack, world.boards, world.design.shop, drop, deep, -1).head_z_mm - length_mm
        found.append(LowPoint(low, f"the end of the bolt of `{drive.name.text}`", "bench_bolt"))
    return found


def lowest(world: World, stacks: Mapping[str, tuple[GearState, ...]], lengths: Mapping[str, float]) -> LowPoint | None:
    """The lowest of all; of equals the first by name. None where nothing hangs under the board."""
    found: list[LowPoint] = []
    for root, stack in stacks.items():
        gear = world.states[root].gear
        if gear.turns_on is not None:
            found += pivot_low(world, stack, root)
        elif gear.turned_by is not None:
            found += drive_low(world, stack, root, lengths.get(root))
        elif root in world.keepers:
            found.append(LowPoint(world.keepers[root], f"the keeper under `{root}`", "bench_keeper"))
    feet_boards = {foot.into.text for foot in world.design.feet}
    found += [
        LowPoint(place.under_mm, f"the board `{name}`", "bench_board")
        for name, place in world.boards.z.items()
        if name not in feet_boards
    ]
    return min(found, key=lambda item: (item.z_mm, item.part), default=None)
