"""Gears and hardware over and in boards that lie below the one they hang under: what room pockets and openings leave them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.model.board import Board
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.board_levels import BoardZ, boards_at, chain_above
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived
from trivet.solve.feature import Feature, Round
from trivet.solve.outline_contour import drawn
from trivet.solve.parts import part_features
from trivet.solve.plan import CHORD_MM, Point, disc_gap_mm, inside, to_edge_mm
from trivet.solve.solid import Solid

# Least gaps of a gear: radial, and axial at every extreme of the sheets, mm (common practice, no source).
RADIAL_MM, AXIAL_MM = 1.0, 0.5
# Hardware must only not touch, mm.
TOUCH_MM = 0.01
_LOOKED_AT = ("gear", "head", "pad", "nut", "bolt_end", "keeper")


@record
class Cutout:
    """A hole or pocket of a lower board in the world frame; `depth_mm` from the topside, None where it goes through."""

    feature: Feature
    shape: Round | Contour
    depth_mm: float | None
    closed: bool

    def gap_mm(self, point: Point, radius_mm: float) -> float:
        """Between a disc and the wall round it, mm; negative where the disc reaches into the wood."""
        if isinstance(self.shape, Round):
            apart = math.hypot(self.shape.x_mm - point[0], self.shape.y_mm - point[1])
            return self.shape.diameter_mm / 2.0 - apart - radius_mm
        edge = self.shape.points(CHORD_MM)
        away = to_edge_mm(point, edge)
        return (away if inside(point, edge) else -away) - radius_mm


@record
class Strike:
    """A solid too near a board below it. `radial_mm`: gap to the wall round it (negative: in the wood; None where no cut lies round its
    axis); `axial_mm`: to the wood under it, where that is what is short.
    """

    solid: Solid
    board: str
    radial_mm: float | None
    axial_mm: float | None
    cutout: Cutout | None


@record
class Closed:
    """A gear that turns in a pocket with no way out for dust."""

    gear: Solid
    board: str
    cutout: Cutout


def strikes(design: Design, derived: Derived) -> tuple[Strike, ...]:
    """One for each solid and board, the worst over the sheets."""
    found: dict[tuple[str, str, str], Strike] = {}
    for board, cutouts, outline, over in _lower_boards(design, derived):
        for solids in derived.solids:
            place = boards_at(design, solids.board).z[board.name.text]
            for solid in solids.solids:
                if solid.kind not in _LOOKED_AT or solid.shaft not in over or not solids.stroke:
                    continue
                strike = _strike(solid, board.name.text, place, solids.travel_mm, cutouts, outline)
                key = (solid.part, solid.kind, board.name.text)
                if strike is not None and (key not in found or _badness(strike) > _badness(found[key])):
                    found[key] = strike
    return tuple(found.values())


def closed_pockets(design: Design, derived: Derived) -> tuple[Closed, ...]:
    """Gears in pockets that have no hole in their floor and are not open at the board's edge."""
    found = []
    for board, cutouts, _, over in _lower_boards(design, derived):
        for solids in derived.solids[:1]:
            place = boards_at(design, 0).z[board.name.text]
            for solid in solids.solids:
                if solid.kind != "gear" or solid.shaft not in over or solid.reach(solids.travel_mm)[0] >= place.top_mm:
                    continue
                round_it = [item for item in cutouts if item.gap_mm((solid.x_mm, solid.y_mm), solid.radius_mm) >= 0.0]
                if round_it and all(item.closed for item in round_it):
                    found.append(Closed(solid, board.name.text, round_it[0]))
    return tuple(found)


def _badness(strike: Strike) -> float:
    short = [value for value in (strike.radial_mm, strike.axial_mm) if value is not None]
    return -min(short) if short else math.inf


def _lower_boards(design: Design, derived: Derived) -> Iterator[tuple[Board, list[Cutout], Contour, frozenset[str]]]:
    """Boards under others, their cuts from the topside, their outline, and the shafts that hang under a board over them."""
    names = {board.name.text for board in design.boards}
    above = {board.name.text: board.under.text for board in design.boards if board.under is not None and board.under.text in names}
    for board in design.boards:
        over = frozenset(chain_above(above, board.name.text)[1:])
        shafts = frozenset(state.shaft or state.id for state in derived.train.gears if state.gear.under.text in over)
        if shafts:
            outline = drawn(board.outline).translated(board.x_mm, board.y_mm)
            yield board, _cutouts(design, derived, board), outline, shafts


def _cutouts(design: Design, derived: Derived, board: Board) -> list[Cutout]:
    parts = [part for part in part_features(design, derived) if (part.belongs_to or part.part) == board.name.text]
    layers = len(parts)
    found: list[Cutout] = []
    through = [[item.shape for item in part.features if item.through] for part in parts]
    for feature in parts[0].features if parts else ():
        shape = feature.shape
        if not isinstance(shape, Round | Contour) or (not feature.through and feature.face != "topside"):
            continue
        depth: float | None = None if feature.through else feature.depth_mm
        if feature.through and layers > 1:
            # Through the first layers only: a pocket that deep and what the next layer leaves of it.
            count = next((index for index, shapes in enumerate(through) if shape not in shapes), layers)
            thick = parts[0].thickness.mean
            inner = [item.depth_mm for part in parts[count : count + 1] for item in part.features if item.shape == shape]
            depth = None if count == layers else count * thick + (inner[0] or 0.0 if inner else 0.0)
        placed = shape.moved(board.x_mm, board.y_mm) if isinstance(shape, Round) else shape.translated(board.x_mm, board.y_mm)
        found.append(Cutout(feature, placed, depth, False))
    outline = drawn(board.outline).translated(board.x_mm, board.y_mm).points(CHORD_MM)
    return [Cutout(item.feature, item.shape, item.depth_mm, _closed(item, found, outline)) for item in found]


def _closed(pocket: Cutout, cutouts: list[Cutout], outline: tuple[Point, ...]) -> bool:
    """A pocket that stays within the board and has no hole through its floor."""
    if pocket.depth_mm is None:
        return False
    for other in cutouts:
        if other.depth_mm is None and pocket.gap_mm(_middle(other.shape), 0.0) > 0.0:
            return False
    if isinstance(pocket.shape, Round):
        middle = _middle(pocket.shape)
        return inside(middle, outline) and to_edge_mm(middle, outline) > pocket.shape.diameter_mm / 2.0
    return all(inside(point, outline) for point in pocket.shape.points(CHORD_MM))


def _middle(shape: Round | Contour) -> Point:
    if isinstance(shape, Round):
        return shape.x_mm, shape.y_mm
    x0, y0, x1, y1 = shape.bounds
    return (x0 + x1) / 2.0, (y0 + y1) / 2.0


def _strike(solid: Solid, board: str, place: BoardZ, travel_mm: float, cutouts: list[Cutout], outline: Contour) -> Strike | None:
    low, high = solid.reach(travel_mm)
    wooden = solid.kind == "gear"
    radial, axial = (RADIAL_MM, AXIAL_MM) if wooden else (TOUCH_MM, TOUCH_MM)
    point = (solid.x_mm, solid.y_mm)
    if low - place.top_mm >= axial - 1e-6 or high <= place.under_mm + 1e-6:
        return None
    if disc_gap_mm(point, solid.radius_mm, outline) >= radial - 1e-6:
        return None
    best: Strike | None = None
    for cutout in cutouts:
        gap = cutout.gap_mm(point, solid.radius_mm)
        if cutout.gap_mm(point, 0.0) <= 0.0:
            continue
        under = math.inf if cutout.depth_mm is None else low - (place.top_mm - cutout.depth_mm)
        if gap >= radial - 1e-6 and under >= axial - 1e-6:
            return None
        strike = Strike(solid, board, gap if gap < radial - 1e-6 else None, under if gap >= radial - 1e-6 else None, cutout)
        if best is None or _badness(strike) < _badness(best):
            best = strike
    return best or Strike(solid, board, None, low - place.top_mm, None)
