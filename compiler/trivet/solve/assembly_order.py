"""The order in which units are put to the board, found by taking them off again.

A unit can be taken off when nothing left lies between it and the side that it came from. Taking off never gets in the way of taking
off something else, so the order is found without a search, and where it stops what is left cannot be put together at all.
"""

from __future__ import annotations

import heapq
from collections.abc import Mapping, Sequence

from trivet.solve.assembly_units import Unit
from trivet.solve.board_holes import BoardPlan
from trivet.solve.solid import Solid
from trivet.solve.solid_grid import SolidGrid, gap_mm

# What is put on late is taken off early: the drive last of all, feet before the idlers that would keep them from turning.
_TAKEN_OFF = (
    "fit_drive", "hang_idler", "fit_pad", "thread_feet", "thread_rod", "turn_in_screw", "fit_keeper", "place_gear", "lay_board",
)  # fmt: skip
# Solids that touch do not lie in each other's way, mm.
TOUCH_MM = 0.01
# Height that parts one under the other may share: spacers take up washers and play (common practice, no source).
BETWEEN_MM = 3.0
Blockers = dict[str, dict[str, str]]


def blockers_of(
    units: Sequence[Unit], meshes: frozenset[frozenset[str]], travel_mm: float, plans: Mapping[str, BoardPlan]
) -> Blockers:
    """For each unit those that must come later, each with the words for what would be in the way."""
    owner = {id(solid): unit for unit in units for solid, _ in unit.ways}
    grid = SolidGrid([solid for unit in units for solid, _ in unit.ways], 0.0)
    boards = [unit for unit in units if unit.board is not None]
    found: Blockers = {unit.id: {} for unit in units}
    for unit in units:
        if unit.after:
            found[unit.after][unit.id] = ""
        for solid, side in (*unit.ways, *unit.tools):
            for other in grid.near(solid):
                holder = owner[id(other)]
                if holder.shaft == unit.shaft or holder.id in found[unit.id] or frozenset((solid.part, other.part)) in meshes:
                    continue
                if in_the_way(solid, side, other, travel_mm) and gap_mm(solid, other) < -TOUCH_MM:
                    found[unit.id][holder.id] = _words(solid, other)
            for board in boards:
                plan = plans[board.id]
                if board.id not in found[unit.id] and _beyond(solid, side, plan, travel_mm) and plan.stops(solid):
                    found[unit.id][board.id] = f"{_named(solid)} would have to pass the board"
                if unit.id not in found[board.id] and _board_meets(board, plan, solid, travel_mm) and plan.stops(solid):
                    found[board.id][unit.id] = f"the board would have to pass {_named(solid)}"
    for board in boards:
        for other_board in boards:
            if board.side == other_board.side and _further(other_board, board):
                found[board.id][other_board.id] = "one board would have to pass the other"
    return found


def in_the_way(solid: Solid, side: str, other: Solid, travel_mm: float) -> bool:
    """Whether `other` lies on the side that `solid` comes from. A foot that moves is judged where it is least in the way.

    A little height that both share is left to spacers, as between levels of gears; parts that share more strike each other.
    """
    if side == "below":
        low, high = solid.low_mm - (travel_mm if solid.moves and not other.moves else 0.0), solid.high_mm
        return _under((other.low_mm, other.high_mm), (low, max(high, low)))
    low = other.low_mm - (travel_mm if other.moves and not solid.moves else 0.0)
    return _under((solid.low_mm, solid.high_mm), (low, max(other.high_mm, low)))


def _under(one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Whether the first height lies under the second."""
    shared = min(one[1], other[1]) - max(one[0], other[0])
    thinner = min(one[1] - one[0], other[1] - other[0])
    return sum(one) < sum(other) and shared <= max(TOUCH_MM, min(BETWEEN_MM, thinner / 2.0))


def take_off(units: Sequence[Unit], blockers: Blockers) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """(ids in the order that they are put on, ids that cannot be taken off). Ties: the kind, then the order of the file."""
    rank = {unit.id: (-1 if unit.last else _TAKEN_OFF.index(unit.kind), -index) for index, unit in enumerate(units)}
    left = {name: set(held) for name, held in blockers.items()}
    frees: dict[str, list[str]] = {}
    for name, held in left.items():
        for other in held:
            frees.setdefault(other, []).append(name)
    ready = [(*rank[name], name) for name, held in left.items() if not held]
    heapq.heapify(ready)
    off: list[str] = []
    while ready:
        name = heapq.heappop(ready)[2]
        off.append(name)
        for other in frees.get(name, ()):
            left[other].discard(name)
            if not left[other]:
                heapq.heappush(ready, (*rank[other], other))
    gone = set(off)
    return tuple(reversed(off)), tuple(unit.id for unit in units if unit.id not in gone)


def in_rings(names: Sequence[str], blockers: Blockers) -> tuple[str, ...]:
    """Of what cannot be taken off, what is held by something that it holds itself, directly or round a ring."""
    held = {name: {other for other in blockers[name] if other in names} for name in names}
    while idle := {name for name in held if not any(name in others for others in held.values())}:
        held = {name: others for name, others in held.items() if name not in idle}
    return tuple(name for name in names if name in held)


def _beyond(solid: Solid, side: str, plan: BoardPlan, travel_mm: float) -> bool:
    if side == "below":
        return plan.top_mm <= solid.low_mm - (travel_mm if solid.moves else 0.0) + TOUCH_MM
    return plan.under_mm >= solid.high_mm - TOUCH_MM


def _board_meets(board: Unit, plan: BoardPlan, solid: Solid, travel_mm: float) -> bool:
    if board.side == "below":
        return solid.high_mm <= plan.under_mm + TOUCH_MM
    low = solid.low_mm - (travel_mm if solid.moves else 0.0)
    return low >= plan.top_mm - TOUCH_MM


def _further(one: Unit, other: Unit) -> bool:
    assert one.board is not None and other.board is not None
    further = one.board.z_under_mm - other.board.z_under_mm
    return further > TOUCH_MM if one.side == "above" else further < -TOUCH_MM


def _named(solid: Solid) -> str:
    if solid.kind == "gear":
        return f"`{solid.part}`"
    if solid.kind == "keeper":
        return f"the keeper `{solid.part}`"
    return f"the {solid.kind.replace('_', ' ')} of `{solid.part}`"


def _words(solid: Solid, other: Solid) -> str:
    return f"{_named(solid)} would have to pass {_named(other)}"
