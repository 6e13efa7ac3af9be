"""Every blind cut that the file or the mechanism asks for: how deep it is and how thick the wood is at its thinnest."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.model.base import Band
from trivet.model.design import Design
from trivet.model.train import Drive, DriveNut, Pivot
from trivet.record import record
from trivet.solve.board_levels import board_thickness
from trivet.solve.derived import Derived, FootState, GearState
from trivet.source import Origin


@record
class Depth:
    """`words` say what is cut, `into` into what; `names` are ids for acceptances, `origins` places, the most exact first.

    `advice` has a place for what may be stated, which is `added_mm` less than what is cut.
    """

    words: str
    into: str
    depth_mm: float
    wood: Band
    names: tuple[str, ...]
    origins: tuple[Origin | None, ...]
    advice: str = "a depth of {} or less"
    added_mm: float = 0.0


def depths_of(design: Design, derived: Derived) -> Iterator[Depth]:
    """Boards first, then gears. The drive's head and pilot holes of pivots have rules of their own."""
    wood = {board.name.text: board_thickness(design, board) for board in design.boards}
    for pocket in design.pockets:
        if pocket.depth is not None:
            yield Depth(
                f"pocket `{pocket.name}`",
                pocket.into.text,
                pocket.depth.mm,
                wood[pocket.into.text],
                (pocket.name.text,),
                (pocket.depth.origin, pocket.name.origin),
            )
    for hole in design.holes:
        names, into = (hole.name.text,), hole.into.text
        if hole.depth is not None:
            yield Depth(f"hole `{hole.name}`", into, hole.depth.mm, wood[into], names, (hole.depth.origin, hole.name.origin))
        if hole.counterbore is not None:
            yield Depth(
                f"counterbore of `{hole.name}`",
                into,
                hole.counterbore.depth_mm,
                wood[into],
                names,
                (hole.counterbore.origin, hole.name.origin),
            )
    for magnet in design.magnets:
        yield Depth(
            f"hole of the magnet `{magnet.name}`",
            magnet.into.text,
            magnet.hole_depth_mm,
            wood[magnet.into.text],
            (magnet.name.text,),
            (magnet.name.origin,),
            "a magnet no thicker than {}",
            magnet.hole_depth_mm - magnet.disc.thickness_mm,
        )
    drives = {drive.name.text: drive for drive in design.drives}
    pivots = {pivot.name.text: pivot for pivot in design.pivots}
    feet = {foot.gear: foot for foot in (*derived.feet, *derived.climbers)}
    for state in derived.train.gears:
        gear = state.gear
        if gear.turned_by is not None:
            yield from _drive(drives[gear.turned_by.text], state)
        elif gear.turns_on is not None:
            yield from _pivot(pivots[gear.turns_on.text], state)
            yield from _pivot_nut(pivots[gear.turns_on.text], state, wood[gear.under.text])
        elif state.id in feet:
            yield from _foot(feet[state.id], state)


def _drive(drive: Drive, state: GearState) -> Iterator[Depth]:
    let_in = [nut for nut in (drive.nut, drive.jam_nut) if nut is not None and nut.recessed is not None]
    if let_in:
        deep = sum(nut.recessed.mm for nut in let_in if nut.recessed is not None)
        words = f"recess for {' and '.join(map(_nut_words, let_in))} of `{drive.name}`"
        origins = (let_in[0].origin, drive.name.origin)
        yield Depth(words, state.id, deep, state.face_width, (drive.name.text, state.id), origins)


def _pivot(pivot: Pivot, state: GearState) -> Iterator[Depth]:
    if pivot.head_recessed is not None:
        origins = (pivot.head_recessed.origin, pivot.name.origin)
        names = (f"{pivot.name.text}.{state.id}", state.id)
        yield Depth(f"recess for the head of `{pivot.name}`", state.id, pivot.head_recessed.mm, state.face_width, names, origins)


def _pivot_nut(pivot: Pivot, state: GearState, wood: Band) -> Iterator[Depth]:
    nut = pivot.nut
    if nut is not None and nut.recessed is not None:
        origins = (nut.recessed.origin, nut.origin, pivot.name.origin)
        names = (f"{pivot.name.text}.{state.id}", state.gear.under.text)
        yield Depth(f"recess for the nut of `{pivot.name}`", state.gear.under.text, nut.recessed.mm, wood, names, origins)


def _foot(foot_state: FootState, state: GearState) -> Iterator[Depth]:
    foot, names = foot_state.foot, (foot_state.id, state.id)
    if foot.kind == "sliding_hex" and foot.socket_depth is not None:
        origins = (foot.socket_depth.origin, foot.name.origin)
        yield Depth(f"socket of `{foot.name}`", state.id, foot.socket_depth.mm, state.face_width, names, origins)
    elif foot_state.pocket_mm:
        what = "nut" if foot.kind == "captured_nut" else "head"
        origins = (foot.pocket.origin if foot.pocket is not None else None, foot.name.origin)
        yield Depth(f"pocket for the {what} of `{foot.name}`", state.id, foot_state.pocket_mm, state.face_width, names, origins)


def _nut_words(nut: DriveNut) -> str:
    return "the nut above" if nut.side == "above" else "the nut below"
