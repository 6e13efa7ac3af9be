"""Gears on one axis, from the top down, and how far each level hangs below its board."""

from __future__ import annotations

from trivet.solve.corner import Corner, pick
from trivet.solve.derived import GearState, Train


def shafts(train: Train) -> dict[str, tuple[GearState, ...]]:
    """For each gear that is not merely fixed to another: itself and all gears fixed to it, by level from the top."""
    by_name = {state.id: state for state in train.gears}
    members: dict[str, list[GearState]] = {}
    root_of: dict[str, str] = {}
    for state in train.gears:
        path = [state.id]
        while path[-1] not in root_of:
            mate = by_name[path[-1]].gear.on_shaft_with
            if mate is None or mate.text not in by_name or mate.text in path:
                break
            path.append(mate.text)
        root = root_of.get(path[-1], path[-1])
        root_of.update(dict.fromkeys(path, root))
        members.setdefault(root, []).append(state)
    return {root: tuple(sorted(found, key=lambda item: item.level)) for root, found in members.items()}


def level_drops(train: Train, stacks: dict[str, tuple[GearState, ...]], corner: Corner) -> dict[int, float]:
    """How far below its board the top of each level hangs, mm, before washers: level 0 not at all.

    A level lies under the thickest gear of the level above that has a mate on its shaft there.
    """
    widths: dict[int, set[float]] = {}
    for stack in stacks.values():
        for state in stack[:-1]:
            widths.setdefault(state.level, set()).add(pick(state.face_width, corner.gear))
    drops = {0: 0.0}
    for level in range(max({0, *(state.level for state in train.gears)})):
        drops[level + 1] = drops[level] + max(widths.get(level, {0.0}))
    return drops
