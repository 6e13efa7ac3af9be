"""Round cuts about the axis of an insert that lay part of it bare."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.model.board import Face
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived, FootState
from trivet.source import Origin

# Places nearer than this are one, mm.
SAME_PLACE_MM = 0.01


@record
class SunkHole:
    """A round cut of the file in a board: its id, world place, diameter, depth from a face (None through) and place in the file."""

    id: str
    into: str
    x_mm: float
    y_mm: float
    diameter_mm: float
    face: Face
    depth_mm: float | None
    origin: Origin | None


@record
class Bare:
    """`bare_mm` of the insert of `foot` stand in `hole`, which is `depth_mm` deep there."""

    foot: FootState
    hole: SunkHole
    bare_mm: float
    depth_mm: float


def bare_inserts(design: Design, derived: Derived) -> Iterator[Bare]:
    """Every insert with a wider cut about its axis that reaches it, at mean sheets. Cost linear in feet and cuts."""
    levels = {level.board.name.text: level for level in derived.boards}
    held: dict[tuple[str, int, int], list[FootState]] = {}
    for state in derived.feet:
        if state.insert_z_mm is not None:
            held.setdefault((state.foot.into.text, round(state.x_mm), round(state.y_mm)), []).append(state)
    for hole in sunk_holes(design):
        squares = {(round(hole.x_mm + dx), round(hole.y_mm + dy)) for dx in (-0.5, 0.5) for dy in (-0.5, 0.5)}
        for square in sorted(squares):
            for state in held.get((hole.into, *square), ()):
                use, zone = state.foot.insert, state.insert_z_mm
                apart = math.hypot(state.x_mm - hole.x_mm, state.y_mm - hole.y_mm)
                if use is None or zone is None or apart > SAME_PLACE_MM or hole.diameter_mm <= use.hardware.hole_mm + SAME_PLACE_MM:
                    continue
                under, thick = levels[hole.into].z_under_mm, levels[hole.into].thickness.mean
                depth = thick if hole.depth_mm is None else hole.depth_mm
                low, high = (under + thick - depth, under + thick) if hole.face == "topside" else (under, under + depth)
                bare = min(zone[1], high) - max(zone[0], low)
                if bare > 0.0:
                    yield Bare(state, hole, bare, depth)


def sunk_holes(design: Design) -> Iterator[SunkHole]:
    """Everything round that the file states: holes, counterbores, magnets' and dowels' holes."""
    for hole in design.holes:
        into, depth = hole.into.text, hole.depth.mm if hole.depth is not None else None
        for at in hole.places:
            yield SunkHole(at.id, into, at.x_mm, at.y_mm, hole.diameter_mm, hole.face, depth, hole.origin)
            sunk = hole.counterbore
            if sunk is not None:
                yield SunkHole(at.id, into, at.x_mm, at.y_mm, sunk.diameter_mm, sunk.face, sunk.depth_mm, sunk.origin)
    for magnet in design.magnets:
        for at in magnet.places:
            wide, deep = magnet.hole_diameter_mm, magnet.hole_depth_mm
            yield SunkHole(at.id, magnet.into.text, at.x_mm, at.y_mm, wide, magnet.face, deep, magnet.origin)
    for dowel in design.dowels:
        for at in dowel.places:
            for board, _ in dowel.into:
                yield SunkHole(at.id, board, at.x_mm, at.y_mm, dowel.diameter_mm, "topside", None, dowel.origin)
