"""Where a keeper's screws and stand-offs stand: near the plate's corners, clear of the teeth, the plate's edge, the board's edge and all else."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from trivet.model.outline import Outline
from trivet.record import record
from trivet.solve.keeper_room import STAND_OFF_MM
from trivet.solve.plan import inside, to_edge_mm

Point = tuple[float, float]
# Between a stand-off and its own gear's tip circle, mm (common practice, no source), as between gears and hardware.
GAP_MM = 1.0
# Wood round a hole, mm (common practice, no source), as between any two cuts.
WALL_MM = 2.0
# More room than this to edge and teeth is no better, mm.
ENOUGH_MM = 4.0
# Insets from a rectangle's corner, and directions with places along each, that are tried.
_INSETS, _INSET_MM, _DIRECTIONS, _ALONG = 17, 0.5, 72, 6


@record
class Plate:
    """A keeper in the world frame: its axis, its outline, the radius over its gears' teeth, the edge of the board over it; mm.

    `half_mm`: radius of a stand-off; `hole_mm`: of the widest hole for a screw in the keeper.
    """

    x_mm: float
    y_mm: float
    outline: Outline
    board: Sequence[Point]
    tip_mm: float
    half_mm: float
    hole_mm: float

    @property
    def inset_mm(self) -> float:
        """Least distance from a screw's axis to the plate's edge."""
        return self.hole_mm + WALL_MM

    @property
    def apart_mm(self) -> float:
        """Least distance between two screws."""
        return max(2.0 * self.half_mm + GAP_MM, 2.0 * self.hole_mm + WALL_MM)

    def to_edge_mm(self, point: Point) -> float:
        """From a place to the plate's edge, negative outside it. Plane geometry: rectangles, circles and slots are boxes with round corners."""
        half_x, half_y = self.outline.width_mm / 2.0, self.outline.height_mm / 2.0
        radius = self.outline.corner_radius_mm if self.outline.shape == "rectangle" else min(half_x, half_y)
        x, y = abs(point[0] - self.x_mm) - half_x + radius, abs(point[1] - self.y_mm) - half_y + radius
        return radius - math.hypot(max(x, 0.0), max(y, 0.0)) - min(max(x, y), 0.0)

    def reach_mm(self, way: Point) -> float:
        """How far the plate reaches from its axis in a direction (a unit vector), mm: by halving."""
        low, high = 0.0, math.hypot(self.outline.width_mm, self.outline.height_mm)
        for _ in range(30):
            middle = (low + high) / 2.0
            inner = self.to_edge_mm((self.x_mm + middle * way[0], self.y_mm + middle * way[1])) >= 0.0
            low, high = (middle, high) if inner else (low, middle)
        return low


@record
class _Spot:
    point: Point
    angle: float
    radius: float
    score: float


def find_places(plate: Plate, count: int | None, blocked: Callable[[Point], str]) -> tuple[tuple[Point, ...], str]:
    """As many places as asked for (four, else three, else two), evenly round the axis; else none, and what is in the way.

    `blocked` names what else stands at a place, empty where nothing does.
    """
    reason = ""
    spots: list[_Spot] = []
    for points in (_corners(plate), _rays(plate)):
        found, why = _spots(plate, points, blocked)
        spots = _best_of_each_way([*spots, *found])
        reason = reason or why
        chosen = _round_the_axis(plate, spots, count or 4)
        if chosen:
            return chosen, ""
    for number in (3, 2) if count is None else ():
        chosen = _round_the_axis(plate, spots, number)
        if chosen:
            return chosen, ""
    return (), reason


def _best_of_each_way(spots: Sequence[_Spot]) -> list[_Spot]:
    """One spot for each direction that is tried: the one with most room, the farthest of equals."""
    best: dict[int, _Spot] = {}
    for spot in spots:
        way = round(spot.angle / (2.0 * math.pi) * _DIRECTIONS) % _DIRECTIONS
        if way not in best or (spot.score, round(spot.radius, 3)) > (best[way].score, round(best[way].radius, 3)):
            best[way] = spot
    return list(best.values())


def _spots(plate: Plate, points: Iterator[Point], blocked: Callable[[Point], str]) -> tuple[list[_Spot], str]:
    spots: list[_Spot] = []
    reason = ""
    for point in points:
        why, score = fault_at(plate, point)
        if why:
            continue
        other = blocked(point)
        if other:
            reason = reason or other
            continue
        dx, dy = point[0] - plate.x_mm, point[1] - plate.y_mm
        spots.append(_Spot(point, math.atan2(dy, dx) % (2.0 * math.pi), math.hypot(dx, dy), round(min(score, ENOUGH_MM), 1)))
    return spots, reason


def fault_at(plate: Plate, point: Point) -> tuple[str, float]:
    """What a stand-off at a place lacks on its own plate (`teeth`, `edge`, `board`), by how much, mm; or empty with the room to spare."""
    teeth = math.hypot(point[0] - plate.x_mm, point[1] - plate.y_mm) - plate.tip_mm - plate.half_mm - GAP_MM
    if teeth < -1e-6:
        return "teeth", -teeth
    edge = plate.to_edge_mm(point) - plate.inset_mm
    if edge < -1e-6:
        return "edge", -edge
    over = to_edge_mm(point, plate.board)
    board = (over if inside(point, plate.board) else -over) - max(plate.half_mm, STAND_OFF_MM / 2.0)
    if board < -1e-6:
        return "board", -board
    return "", min(teeth, edge, board)


def _corners(plate: Plate) -> Iterator[Point]:
    """A rectangle's corners, inset evenly."""
    for k in range(_INSETS if plate.outline.shape == "rectangle" else 0):
        inset = plate.inset_mm + k * _INSET_MM
        half_x, half_y = plate.outline.width_mm / 2.0 - inset, plate.outline.height_mm / 2.0 - inset
        if half_x > 0.0 and half_y > 0.0:
            for sx, sy in ((1, 1), (-1, 1), (-1, -1), (1, -1)):
                yield plate.x_mm + sx * half_x, plate.y_mm + sy * half_y


def _rays(plate: Plate) -> Iterator[Point]:
    """Places between teeth and edge, in directions all round."""
    nearest = plate.tip_mm + plate.half_mm + GAP_MM
    for index in range(_DIRECTIONS):
        angle = 2.0 * math.pi * index / _DIRECTIONS
        c, s = math.cos(angle), math.sin(angle)
        farthest = plate.reach_mm((c, s)) - plate.inset_mm
        for k in range(_ALONG if farthest >= nearest else 0):
            r = farthest - (farthest - nearest) * k / (_ALONG - 1)
            yield plate.x_mm + r * c, plate.y_mm + r * s


def _round_the_axis(plate: Plate, spots: Sequence[_Spot], number: int) -> tuple[Point, ...]:
    """The best spot of each of so many equal sectors, for the turn of the sectors whose poorest spot is best; the first of equals.

    Spots keep half their distance from the sectors' borders, so that no two come too near each other.
    """
    width = 2.0 * math.pi / number
    best: tuple[float, float] | None = None
    chosen: tuple[Point, ...] = ()
    for turn in range(max(1, _DIRECTIONS // number)):
        start = 2.0 * math.pi * turn / _DIRECTIONS
        held: dict[int, tuple[tuple[float, float, float], _Spot]] = {}
        for spot in spots:
            into = (spot.angle - start) % (2.0 * math.pi)
            sector = int(into / width + 1e-9) % number
            beside = (into - sector * width + 1e-9) % width
            border = min(beside, width - beside)
            if border < math.pi / 2.0 and spot.radius * math.sin(border) < plate.apart_mm / 2.0 - 1e-6:
                continue
            key = (spot.score, round(spot.radius, 3), -round(abs(beside - width / 2.0), 6))
            if sector not in held or key > held[sector][0]:
                held[sector] = (key, spot)
        if len(held) < number:
            continue
        points = [held[k][1] for k in range(number)]
        turns = [(b.angle - a.angle) % (2.0 * math.pi) for a, b in zip(points, (*points[1:], points[0]), strict=True)]
        if max(turns) > 1.5 * math.pi + 1e-6:
            continue
        rank = (min(held[k][0][0] for k in range(number)), -round(max(turns), 6))
        if best is None or rank > best:
            best, chosen = rank, tuple(spot.point for spot in points)
    return chosen
