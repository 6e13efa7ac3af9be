"""Where each board lies in height.

z = 0 is the underside of the board the feet act on (the first foot's; without feet the first gear's, else the first board).
A board above another lies on its topside plus the stated gap. Boards joined to none of these stand at z = 0 of their own.
"""

from __future__ import annotations

import math

from trivet.model.base import Band
from trivet.model.board import Board
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.corner import pick
from trivet.solve.derived import BoardLevel


@record
class BoardZ:
    """A board's underside and topside, mm, at one thickness of all boards."""

    under_mm: float
    top_mm: float


@record
class Boards:
    """All boards at one thickness. `above` names the board that lies on one."""

    z: dict[str, BoardZ]
    above: dict[str, str]

    def uppermost_mm(self, name: str) -> float:
        """Topside of the uppermost board over `name`: the work surface."""
        return self.z[chain_above(self.above, name)[-1]].top_mm

    def chain(self, name: str) -> tuple[str, ...]:
        """`name` and the boards over it, upwards."""
        return chain_above(self.above, name)


def chain_above(above: dict[str, str], name: str) -> tuple[str, ...]:
    """`name` and the boards over it, upwards; a cycle ends where it closes."""
    found = [name]
    while (upper := above.get(found[-1])) is not None and upper not in found:
        found.append(upper)
    return tuple(found)


def board_thickness(design: Design, board: Board) -> Band:
    """Thickness of a board: its sheet's times its layers, glue lines neglected."""
    for sheet in design.sheets:
        if sheet.name.text == board.stock.text:
            return sheet.layered(board.layers)
    return Band(0.0, 0.0, 0.0)


def reference_board(design: Design) -> str | None:
    """The board whose underside is z = 0."""
    carried = {gear.carries.text for gear in design.gears if gear.carries is not None}
    for foot in design.feet:
        if foot.name.text in carried:
            return foot.into.text
    if design.gears:
        return design.gears[0].under.text
    return design.boards[0].name.text if design.boards else None


def boards_at(design: Design, sign: int) -> Boards:
    """Every board's z with all boards at their least (-1), mean (0) or greatest (+1) thickness."""
    by_name = {board.name.text: board for board in design.boards}
    thickness = {name: pick(board_thickness(design, board), sign) for name, board in by_name.items()}
    above = {name: board.under.text for name, board in by_name.items() if board.under is not None and board.under.text in by_name}
    below: dict[str, list[str]] = {}
    for lower, over in above.items():
        below.setdefault(over, []).append(lower)
    gap = {name: board.clear.mm if board.clear is not None else 0.0 for name, board in by_name.items()}
    under: dict[str, float] = {}
    starts = [reference_board(design), *by_name]
    for start in starts:
        if start is None or start in under or start not in by_name:
            continue
        under[start] = 0.0
        waiting = [start]
        while waiting:
            name = waiting.pop()
            upper = above.get(name)
            if upper is not None and upper not in under:
                under[upper] = under[name] + thickness[name] + gap[name]
                waiting.append(upper)
            for lower in below.get(name, ()):
                if lower not in under:
                    under[lower] = under[name] - gap[lower] - thickness[lower]
                    waiting.append(lower)
    return Boards({name: BoardZ(under[name], under[name] + thickness[name]) for name in by_name}, above)


def board_levels(design: Design) -> tuple[BoardLevel, ...]:
    """The boards at mean sheets, in the order of the file."""
    boards = boards_at(design, 0)
    return tuple(BoardLevel(board, boards.z[board.name.text].under_mm, board_thickness(design, board)) for board in design.boards)


def ceiling(design: Design, boards: Boards, name: str, x_mm: float, y_mm: float, major_mm: float) -> tuple[float, str, str]:
    """How high a screw's tip may reach in board `name` at a place: z, and the face and board that end it.

    The topside, where nothing lies on the board. A board that lies on it ends the room at its underside, unless a through hole
    wider than the screw stands over the place; then its own topside counts.
    """
    chain = boards.chain(name)
    last = name
    for upper in chain[1:]:
        if not _open_at(design, upper, x_mm, y_mm, major_mm):
            return boards.z[upper].under_mm, "underside", upper
        last = upper
    return boards.z[last].top_mm, "topside", last


def _open_at(design: Design, board: str, x_mm: float, y_mm: float, major_mm: float) -> bool:
    for hole in design.holes:
        if hole.into.text != board or hole.depth is not None:
            continue
        for place in hole.places:
            if math.hypot(place.x_mm - x_mm, place.y_mm - y_mm) + major_mm / 2 < hole.diameter_mm / 2:
                return True
    return False
