"""What else stands where a keeper's stand-off could: hardware and gears of other shafts, and what the file cuts into the board."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from trivet.model.design import Design
from trivet.model.outline import Outline, Placed
from trivet.record import record, replace
from trivet.solve.clearances import LEAST_GAP_MM, SHARED_MM
from trivet.solve.derived import Derived
from trivet.solve.keeper_places import WALL_MM, Point
from trivet.solve.outline_contour import drawn, placed
from trivet.solve.plan import disc_gap_mm
from trivet.solve.solid import Solid, share_height
from trivet.solve.solid_grid import SolidGrid, gap_mm

# Wood between a pilot hole and a pocket over it, mm (common practice, no source), as between any two pockets.
FLOOR_MM = 3.0
_WORDS = {"gear": "the teeth of", "keeper": "the keeper of", "pad": "the foot", "insert": "the insert of"}


@record
class _Cut:
    """A cut of the file: round, or an outline at its place. `topside_mm`: how deep it goes from the topside; None from the underside."""

    id: str
    at: Placed
    radius_mm: float
    outline: Outline | None
    topside_mm: float | None


class Obstacles:
    """All solids at each combination of sheets by their squares, and the cuts of each board; made once for all keepers."""

    def __init__(self, design: Design, derived: Derived) -> None:
        self._sets = [(item.travel_mm, SolidGrid(item.solids, LEAST_GAP_MM)) for item in derived.solids if item.stroke]
        self._wood = {level.board.name.text: level.thickness.least for level in derived.boards}
        self._cuts: dict[str, list[_Cut]] = {}
        for board, cut in _cuts(design):
            self._cuts.setdefault(board, []).append(cut)

    def near(self, plate: Solid, body: Solid, board: str, depth_mm: float) -> Callable[[Point], str]:
        """Of one keeper: what is too near a stand-off with its screw, `body`, put at a place; empty where nothing is."""
        around: dict[tuple[str, str, float, float, float], Solid] = {}
        for travel, grid in self._sets:
            for other in grid.near(plate):
                if other.shaft != plate.shaft and share_height(body, other, travel) > SHARED_MM:
                    around.setdefault((other.kind, other.part, other.x_mm, other.y_mm, other.radius_mm), other)
        whole = self._wood[board] - depth_mm - FLOOR_MM
        cuts = [
            item
            for item in self._cuts.get(board, ())
            if math.dist((item.at.x_mm, item.at.y_mm), (plate.x_mm, plate.y_mm)) < plate.radius_mm + WALL_MM + item.radius_mm
            and (item.topside_mm is None or item.topside_mm > whole)
        ]

        def blocked(point: Point) -> str:
            there = replace(body, x_mm=point[0], y_mm=point[1])
            for other in around.values():
                if gap_mm(there, other) < LEAST_GAP_MM - 1e-6:
                    return f"{_WORDS.get(other.kind, 'hardware of')} `{other.part.removesuffix('.keeper')}`"
            for cut in cuts:
                if _gap_mm(cut, point) < body.radius_mm + WALL_MM:
                    return f"the cut `{cut.id}`"
            return ""

        return blocked


def _gap_mm(cut: _Cut, point: Point) -> float:
    if cut.outline is None:
        return math.dist(point, (cut.at.x_mm, cut.at.y_mm)) - cut.radius_mm
    return disc_gap_mm(point, 0.0, placed(drawn(cut.outline), cut.outline, cut.at, 0.0, 0.0))


def _cuts(design: Design) -> Iterator[tuple[str, _Cut]]:
    for hole in design.holes:
        sunk = hole.counterbore
        wide = max(hole.diameter_mm, sunk.diameter_mm) if sunk is not None else hole.diameter_mm
        deep = hole.depth.mm if hole.depth is not None and sunk is None and hole.face == "topside" else None
        for at in hole.places:
            yield hole.into.text, _Cut(at.id, at, wide / 2.0, None, deep)
    for magnet in design.magnets:
        deep = magnet.hole_depth_mm if magnet.face == "topside" else None
        for at in magnet.places:
            yield magnet.into.text, _Cut(at.id, at, magnet.hole_diameter_mm / 2.0, None, deep)
    for dowel in design.dowels:
        for board, _ in dowel.into:
            for at in dowel.places:
                yield board, _Cut(at.id, at, dowel.diameter_mm / 2.0, None, None)
    for pocket in design.pockets:
        wide = math.hypot(pocket.outline.width_mm, pocket.outline.height_mm) / 2.0
        deep = pocket.depth.mm if pocket.depth is not None and pocket.face == "topside" else None
        for at in pocket.places:
            yield pocket.into.text, _Cut(at.id, at, wide, pocket.outline, deep)
