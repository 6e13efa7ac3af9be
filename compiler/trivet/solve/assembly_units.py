"""What is put to the board in one go: an idler with its pivot, a riding gear with its screw, the drive, a keeper, another board.

Each unit's solids come straight from above or below. Preparations (inserts, glue, nuts pressed in) are done on loose parts first.
"""

from __future__ import annotations

import math

from trivet.model.board import Board
from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.model.train import Pivot
from trivet.record import record, replace
from trivet.solve.assembly_step import Side, StepKind
from trivet.solve.derived import BoardLevel, Derived
from trivet.solve.solid import Solid, SolidSet
from trivet.solve.spanner import SHARP_CORNERS, socket_mm

# What the id of a foot's pad ends in, among units; steps name the foot.
PAD = ".pad"


@record
class Unit:
    """`ways`: each solid with the side it comes from; `tools`: the same of what only has to reach it. A board has no solids.

    `after`: the unit that must be there first because it is held by this one. `last`: put on after all else where it can be.
    """

    kind: StepKind
    id: str
    shaft: str
    gears: tuple[str, ...]
    ways: tuple[tuple[Solid, Side], ...]
    tools: tuple[tuple[Solid, Side], ...] = ()
    after: str = ""
    board: BoardLevel | None = None
    last: bool = False
    side: Side = "below"


def fixed_board(design: Design, derived: Derived) -> BoardLevel | None:
    """The uppermost board that gears hang under: all else is put to it. The first board where there are no gears."""
    carrying = {gear.under.text for gear in design.gears}
    held = [level for level in derived.boards if level.board.name.text in carrying]
    return max(held or list(derived.boards[:1]), key=lambda level: level.z_under_mm, default=None)


def units_of(design: Design, derived: Derived, solids: SolidSet, fixed: BoardLevel | None) -> tuple[Unit, ...]:
    """All units in the order of the file; boards that are joined to the fixed one first."""
    found = [
        Unit(
            "lay_board",
            level.board.name.text,
            "",
            (),
            (),
            board=level,
            side="above" if fixed is not None and level.z_under_mm > fixed.z_under_mm else "below",
        )
        for level in derived.boards
        if fixed is not None and level is not fixed and _joined(design, level.board, fixed.board)
    ]
    by_shaft: dict[str, list[Solid]] = {}
    for item in solids.solids:
        by_shaft.setdefault(item.shaft, []).append(item)
    feet = {foot.gear: foot for foot in derived.feet}
    pivots = {item.gear: item for item in derived.pivots}
    drives = {item.gear: item for item in derived.drives}
    for shaft, held in by_shaft.items():
        gears = tuple(item.part for item in held if item.kind == "gear")
        if shaft in drives:
            found.append(_drive_unit(drives[shaft].id, shaft, gears, held))
        elif shaft in pivots:
            found.append(Unit("hang_idler", pivots[shaft].id, shaft, gears, _pivot_ways(pivots[shaft].pivot, held)))
        elif shaft in feet:
            found += _foot_units(feet[shaft].foot, feet[shaft].id, shaft, gears, held)
    return tuple(found)


def _joined(design: Design, one: Board, other: Board) -> bool:
    """Whether two boards belong to one stack."""
    over = {board.name.text: board.under.text for board in design.boards if board.under is not None}

    def top(name: str) -> str:
        seen = {name}
        while name in over and over[name] not in seen:
            name = over[name]
            seen.add(name)
        return name

    return top(one.name.text) == top(other.name.text)


def _pivot_ways(pivot: Pivot, held: list[Solid]) -> tuple[tuple[Solid, Side], ...]:
    """A nut comes from above, but one that its recess holds, and a tee nut, lie in the board before anything hangs under it."""
    held_by_recess = pivot.nut is not None and pivot.nut.recessed is not None and pivot.nut.round is None
    waiting = ("flange", "barrel", *(("nut",) if held_by_recess else ()))
    return tuple((item, "above" if item.kind == "nut" else "below") for item in held if item.kind not in waiting)


def _drive_unit(name: str, shaft: str, gears: tuple[str, ...], held: list[Solid]) -> Unit:
    """Head, shank and the head's washer come from above; gear, nuts and other washers from below, with a spanner for the last nut."""
    head = next((item.low_mm for item in held if item.kind == "head"), math.inf)
    ways: list[tuple[Solid, Side]] = []
    for item in held:
        under_head = item.kind == "washer" and abs(item.high_mm - head) < 1e-6
        ways.append((item, "above" if under_head or item.kind in ("head", "shank", "bolt_end") else "below"))
    nuts = sorted((item for item in held if item.kind == "nut"), key=lambda item: item.low_mm)[:1]
    flats = [(item, 2.0 * item.radius_mm / SHARP_CORNERS) for item in nuts]
    tools: tuple[tuple[Solid, Side], ...] = tuple(
        (replace(item, radius_mm=socket_mm(across) / 2.0), "below") for item, across in flats
    )
    return Unit("fit_drive", name, shaft, gears, tuple(ways), tools, side="above")


def _foot_units(foot: Foot, name: str, shaft: str, gears: tuple[str, ...], held: list[Solid]) -> list[Unit]:
    """A pad of its own can be put on last; a mere head belongs to its screw."""

    def below(*kinds: str) -> tuple[tuple[Solid, Side], ...]:
        return tuple((item, "below") for item in held if item.kind in kinds)

    own = foot.pad.kind != "head"
    stands = () if own else ("pad",)
    found: list[Unit] = []
    if foot.kind == "riding":
        found.append(Unit("thread_feet", name, shaft, gears, below("gear", "head", "shank", *stands)))
    else:
        found.append(Unit("place_gear", shaft, shaft, gears, below("gear")))
        for keeper in (item for item in held if item.kind == "keeper"):
            found.append(Unit("fit_keeper", keeper.part, shaft, gears, below("keeper", "stand_off", "keeper_screw"), after=shaft))
        if foot.kind == "captured_nut":
            rods: tuple[tuple[Solid, Side], ...] = tuple((item, "above") for item in held if item.kind == "rod")
            found.append(Unit("thread_rod", name, shaft, gears, rods + below(*stands), after=found[-1].id, side="above"))
        else:
            found.append(Unit("turn_in_screw", name, shaft, gears, below("head", "shank", *stands), after=found[-1].id))
    if own:
        found.append(Unit("fit_pad", name + PAD, shaft, gears, below("pad"), after=name, last=foot.kind != "captured_nut"))
    return found
