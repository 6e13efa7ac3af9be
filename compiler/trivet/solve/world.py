"""Everything that does not move with the feet, at one combination of thin and thick sheets."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from trivet.model.design import Design
from trivet.record import replace
from trivet.solve.board_levels import boards_at
from trivet.solve.corner import Corner
from trivet.solve.derived import GearState, Train
from trivet.solve.fixed_gear import FixedGear
from trivet.solve.foot_case import World
from trivet.solve.keeper import keeper_low_mm, kept_gears
from trivet.solve.low_point import lowest
from trivet.solve.shaft import level_drops
from trivet.solve.stack_drive import drive_stack
from trivet.solve.stack_pivot import pivot_stack


def build_world(design: Design, train: Train, stacks: dict[str, tuple[GearState, ...]], sheets: Corner) -> World:
    """The fixed gears and keepers; without the low point, which needs the bolts' lengths (see `with_low_point`)."""
    boards = boards_at(design, sheets.board)
    drops = level_drops(train, stacks, sheets)
    drives, pivots = {item.name.text: item for item in design.drives}, {item.name.text: item for item in design.pivots}
    feet = {item.name.text: item for item in design.feet}
    fixed: dict[str, FixedGear] = {}
    keepers: dict[str, float] = {}
    for root, stack in stacks.items():
        gear, drop = _state(stack, root).gear, drops[stack[0].level]
        if gear.turned_by is not None:
            fixed |= _over_plays(
                drive_stack(drives[gear.turned_by.text], stack, boards, design.shop, drop, corner, sign).gears
                for corner, sign in _plays(sheets)
            )
        elif gear.turns_on is not None:
            fixed |= _over_plays(
                pivot_stack(pivots[gear.turns_on.text], stack, boards, design.shop, drop, corner, sign).gears
                for corner, sign in _plays(sheets)
            )
        elif gear.carries is not None and feet[gear.carries.text].kind != "riding":
            foot = feet[gear.carries.text]
            top = boards.z[foot.into.text].under_mm - drop
            fixed |= kept_gears(foot, stack, top, sheets)
            keepers[root] = keeper_low_mm(design, foot, stack, top, sheets)
    neighbours: dict[str, list[tuple[str, str]]] = {}
    for mesh in train.meshes:
        neighbours.setdefault(mesh.a, []).append((mesh.id, mesh.b))
        neighbours.setdefault(mesh.b, []).append((mesh.id, mesh.a))
    return World(
        design=design,
        corner=sheets,
        boards=boards,
        drops=drops,
        fixed=fixed,
        neighbours={name: tuple(found) for name, found in neighbours.items()},
        states={state.id: state for state in train.gears},
        keepers=keepers,
    )


def with_low_point(world: World, stacks: dict[str, tuple[GearState, ...]], lengths: Mapping[str, float]) -> World:
    """The same world with its lowest point, given the fitted length of each bolt by the gear it carries."""
    return replace(world, low=lowest(world, stacks, lengths))


def _state(stack: Sequence[GearState], name: str) -> GearState:
    return next(item for item in stack if item.id == name)


def _plays(sheets: Corner) -> tuple[tuple[Corner, int], ...]:
    """Nominal washers and recesses first; then the thickest and the thinnest, and at extremes of the sheets either error of a recess.

    On a sleeve or shoulder a deeper recess gives the gear more play.
    """
    depths = (-1, 1) if sheets.worst else (0,)
    return (sheets, 0), *((replace(sheets, depth=depth), sign) for depth in depths for sign in (1, -1))


def _over_plays(found: Iterable[dict[str, FixedGear]]) -> dict[str, FixedGear]:
    """The first at rest; the farthest of all for the extremes."""
    nominal, *others = list(found)
    return {
        name: FixedGear(
            bottom_mm=item.bottom_mm,
            top_mm=item.top_mm,
            highest_bottom_mm=max(item.highest_bottom_mm, *(other[name].highest_bottom_mm for other in others)),
            lowest_top_mm=min(item.lowest_top_mm, *(other[name].lowest_top_mm for other in others)),
        )
        for name, item in nominal.items()
    }
