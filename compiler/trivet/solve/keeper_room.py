"""Where a keeper's stand-offs can stand: on its plate, outside its gear's teeth, under the board."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived
from trivet.solve.outline_contour import drawn
from trivet.solve.plan import inside, to_edge_mm

# Plate that a stand-off and its screw want outside the teeth, mm: 8 mm and 1 mm either side (common practice, no source).
STAND_OFF_MM = 10.0
# Directions that are tried, how finely along each, mm, and at how many places at most.
_DIRECTIONS, _STEP_MM, _MOST_STEPS = 72, 1.0, 200


@record
class StandOffs:
    """`room_mm`: the most that the plate reaches past the teeth in any direction; `opposite`: whether two stand-offs find room at
    a right angle or more from each other, seen from the axis.
    """

    foot: str
    gear: str
    board: str
    room_mm: float
    tip_diameter_mm: float
    opposite: bool


def stand_offs(design: Design, derived: Derived) -> Iterator[StandOffs]:
    """Every keeper's room, at its place; other gears may still be in the way of a stand-off, which is the maker's to see."""
    boards = {board.name.text: drawn(board.outline).translated(board.x_mm, board.y_mm).points(0.05) for board in design.boards}
    for state in derived.feet:
        keeper = state.foot.keeper
        if keeper is None:
            continue
        gear = derived.train.gear(state.gear)
        tip = max(item.tip_radius_mm for item in derived.train.gears if (item.shaft or item.id) == state.gear)
        outline = keeper.outline
        dx, dy = state.x_mm - outline.width_mm / 2.0, state.y_mm - outline.height_mm / 2.0
        plate = drawn(outline).translated(dx, dy).points(0.05)
        board = boards[gear.gear.under.text]
        room, found = 0.0, []
        half = STAND_OFF_MM / 2.0
        for index in range(_DIRECTIONS):
            angle = 2.0 * math.pi * index / _DIRECTIONS
            c, s = math.cos(angle), math.sin(angle)
            far = reach_mm((state.x_mm, state.y_mm), (c, s), plate) - tip
            room = max(room, far)
            # From the nearest middle of a stand-off outwards, and the farthest.
            step = max(_STEP_MM, far / _MOST_STEPS)
            count = math.ceil((far - STAND_OFF_MM) / step - 1e-9) + 1 if far >= STAND_OFF_MM - 1e-6 else 0
            middles = [min(tip + half + k * step, tip + far - half) for k in range(count)]
            if any(_fits((state.x_mm + r * c, state.y_mm + r * s), plate, board) for r in middles):
                found.append(angle)
        opposite = any(math.cos(one - other) < 1e-6 for one in found for other in found)
        yield StandOffs(state.id, state.gear, gear.gear.under.text, room, 2.0 * tip, opposite)


def _fits(point: tuple[float, float], plate: tuple[tuple[float, float], ...], board: tuple[tuple[float, float], ...]) -> bool:
    half = STAND_OFF_MM / 2.0
    on_plate = inside(point, plate) and to_edge_mm(point, plate) >= half / 2.0
    return on_plate and inside(point, board) and to_edge_mm(point, board) >= half - 1e-6


def reach_mm(centre: tuple[float, float], way: tuple[float, float], edge: tuple[tuple[float, float], ...]) -> float:
    """How far a ray from the centre runs to the farthest crossing of the edge, mm; 0 where it meets none."""
    best = 0.0
    for (x0, y0), (x1, y1) in zip(edge, (*edge[1:], edge[0]), strict=True):
        dx, dy = x1 - x0, y1 - y0
        across = way[0] * dy - way[1] * dx
        if abs(across) < 1e-12:
            continue
        px, py = x0 - centre[0], y0 - centre[1]
        along = (px * dy - py * dx) / across
        part = (px * way[1] - py * way[0]) / across
        if -1e-9 <= part <= 1.0 + 1e-9:
            best = max(best, along)
    return best
