"""Laying pieces on sheets in one order: each as far along the sheet's shorter way back as it goes, then as low."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from trivet.record import record
from trivet.solve.nest_records import Job, Stock
from trivet.solve.nest_shapes import Grown, forbidden, grown

# Places are kept to this many decimals, mm; half a step is far below what growing adds.
DECIMALS = 3
_ROOM_MM = 0.001
Spot = tuple[int, int, float, float, float]
"""Sheet index, piece index, x, y, and the piece's turn in degrees beyond its outline's."""


@record
class Laid:
    """What an order came to: the stock of each sheet used, where each piece lies, and pieces without a place.

    `cost` compares orders: pieces left over, sheets, then the length used of the last sheet and of all, mm.
    """

    stocks: tuple[Stock, ...]
    spots: tuple[Spot, ...]
    left_over: tuple[int, ...]
    cost: tuple[float, ...]


class Bench:
    """The grown shapes of a job and where they must not lie beside one another, each worked out once."""

    def __init__(self, job: Job, reserved: float = 0.0) -> None:
        self.job = job
        self.reserved_mm = reserved
        self.keys: list[int] = []
        self.shapes: dict[tuple[int, float], Grown] = {}
        self._apart: dict[tuple[int, float, int, float], Any] = {}
        known: dict[tuple[object, ...], int] = {}
        for piece in job.pieces:
            key = known.setdefault((piece.outline, piece.turns_deg), len(known))
            self.keys.append(key)
            if (key, piece.turns_deg[0]) not in self.shapes:
                seen: set[tuple[tuple[float, float], ...]] = set()
                for turn in piece.turns_deg:
                    shape = grown(piece.outline, job.spacing_mm / 2.0, turn)
                    alike = tuple(sorted((round(x, 1), round(y, 1)) for x, y in shape.points))
                    if alike not in seen:
                        seen.add(alike)
                        self.shapes[key, turn] = shape

    def turns(self, key: int) -> list[float]:
        """The turns of a shape that differ."""
        return [turn for known, turn in self.shapes if known == key]

    def apart(self, first: tuple[int, float], second: tuple[int, float]) -> Any:
        """`forbidden` of two shapes, remembered."""
        name = (*first, *second)
        if name not in self._apart:
            self._apart[name] = forbidden(self.shapes[first], self.shapes[second])
        return self._apart[name]

    def room(self, shape: Grown, stock: Stock) -> Any:
        """Where a shape's (0, 0) may lie on an empty sheet; None where it is too large."""
        from shapely import box, difference

        margin, (x0, y0, x1, y1) = self.job.margin_mm, shape.box
        low_x, low_y = margin - x0, margin - y0
        high_x, high_y = stock.width_mm - margin - x1, stock.height_mm - margin - y1
        if high_x < low_x - _ROOM_MM or high_y < low_y - _ROOM_MM:
            return None
        # A piece that fits exactly needs an area too: a hair is added, and taken away again where it lies.
        free = box(low_x, low_y, max(high_x, low_x + _ROOM_MM), max(high_y, low_y + _ROOM_MM))
        if self.reserved_mm:
            for corner in _corners(self.reserved_mm, stock):
                free = difference(free, forbidden(corner, shape))
        return free


def lay(bench: Bench, order: Sequence[int]) -> Laid:
    """Lay the pieces in that order, each on the first sheet that has room."""
    job = bench.job
    sheets: list[tuple[Stock, dict[tuple[int, float], Any]]] = []
    supply = [[stock, stock.count] for stock in job.stocks]
    spots: list[Spot] = []
    left: list[int] = []
    waiting: dict[int, int] = {}
    for index in order:
        waiting[bench.keys[index]] = waiting.get(bench.keys[index], 0) + 1
    for index in order:
        key = bench.keys[index]
        waiting[key] -= 1
        found = None
        for number, (stock, free) in enumerate(sheets):
            found = _best(bench, key, free, stock, number)
            if found is not None:
                break
        if found is None:
            found = _on_a_new_sheet(bench, key, supply, sheets)
        if found is None:
            left.append(index)
            continue
        number, x, y, turn = found
        spots.append((number, index, x, y, turn))
        _take(bench, sheets[number][1], (key, turn), x, y, waiting)
    return Laid(tuple(stock for stock, _ in sheets), tuple(spots), tuple(left), _cost(bench, sheets, spots, left))


def _on_a_new_sheet(
    bench: Bench, key: int, supply: list[list[Any]], sheets: list[tuple[Stock, dict[tuple[int, float], Any]]]
) -> tuple[int, float, float, float] | None:
    """The piece on the first sheet of the supply that takes it by itself; the sheet is opened."""
    for entry in supply:
        stock, count = entry
        if count == 0:
            continue
        free = {name: bench.room(shape, stock) for name, shape in bench.shapes.items()}
        found = _best(bench, key, free, stock, len(sheets))
        if found is not None:
            entry[1] = None if count is None else count - 1
            sheets.append((stock, free))
            return found
    return None


def _best(
    bench: Bench, key: int, free: dict[tuple[int, float], Any], stock: Stock, number: int
) -> tuple[int, float, float, float] | None:
    import numpy
    import shapely

    along_x = stock.width_mm >= stock.height_mm
    best: tuple[tuple[float, float, float], tuple[float, float]] | None = None
    for turn in bench.turns(key):
        region = free[key, turn]
        if region is None or region.is_empty:
            continue
        at = shapely.get_coordinates(region)
        box = bench.shapes[key, turn].box
        far = at[:, 0] + box[2] if along_x else at[:, 1] + box[3]
        across = at[:, 1] if along_x else at[:, 0]
        first = numpy.lexsort((across, numpy.round(far, 2)))[0]
        rank = (round(float(far[first]), 2), round(float(across[first]), 2), turn)
        if best is None or rank < best[0]:
            margin = bench.job.margin_mm
            x = max(margin - box[0], min(float(at[first][0]), stock.width_mm - margin - box[2]))
            y = max(margin - box[1], min(float(at[first][1]), stock.height_mm - margin - box[3]))
            best = rank, (round(x, DECIMALS), round(y, DECIMALS))
    return None if best is None else (number, *best[1], best[0][2])


def _take(
    bench: Bench, free: dict[tuple[int, float], Any], taken: tuple[int, float], x: float, y: float, waiting: dict[int, int]
) -> None:
    import numpy
    import shapely

    for name, region in free.items():
        if region is None or not waiting.get(name[0]):
            continue
        closed = shapely.transform(bench.apart(taken, name), lambda at: at + numpy.array((x, y)))
        free[name] = shapely.difference(region, closed)


def _cost(bench: Bench, sheets: Sequence[tuple[Stock, Any]], spots: Sequence[Spot], left: Sequence[int]) -> tuple[float, ...]:
    lengths = [0.0] * len(sheets)
    for number, index, x, y, turn in spots:
        stock, box = sheets[number][0], bench.shapes[bench.keys[index], turn].box
        far = x + box[2] if stock.width_mm >= stock.height_mm else y + box[3]
        lengths[number] = max(lengths[number], far)
    whole = sum(1 for stock, _ in sheets if not stock.off_cut)
    last = lengths[-1] if lengths else 0.0
    return (float(len(left)), float(whole), float(len(sheets)), round(last, 1), round(sum(lengths), 1))


def _corners(radius_mm: float, stock: Stock) -> list[Grown]:
    """Round places kept free for index holes, at the lower left, lower right and near the upper right of a sheet."""
    import math

    far = max(stock.width_mm - radius_mm, radius_mm)
    places = ((radius_mm, radius_mm), (far, radius_mm), (far, max(stock.height_mm - 2.0 * radius_mm, radius_mm)))
    return [
        Grown(
            tuple(
                (x + radius_mm * math.cos(k * math.pi / 12.0), y + radius_mm * math.sin(k * math.pi / 12.0)) for k in range(24)
            ),
            True,
            (x - radius_mm, y - radius_mm, x + radius_mm, y + radius_mm),
        )
        for x, y in places
    ]
