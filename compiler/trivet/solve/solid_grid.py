"""Solids that lie near each other seen from above, found by squares: cost linear in solids."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from trivet.solve.plan import disc_gap_mm, plates_gap_mm
from trivet.solve.solid import Solid

# Squares a disc may lie in before it is kept apart and compared with all, so that one slip of the keyboard does not cost everything.
_MOST_SQUARES = 400


class SolidGrid:
    """Solids by the squares that they touch, with a margin round each."""

    def __init__(self, solids: Sequence[Solid], margin_mm: float) -> None:
        gears = [item.radius_mm for item in solids if item.kind == "gear"]
        self._side = max(20.0, 2.0 * sum(gears) / len(gears) if gears else 100.0)
        self._margin = margin_mm
        self._solids = tuple(solids)
        self._held: dict[tuple[int, int], list[int]] = {}
        self._wide: list[int] = []
        for index, item in enumerate(self._solids):
            squares = self._squares(item, margin_mm)
            if squares is None:
                self._wide.append(index)
                continue
            for square in squares:
                self._held.setdefault(square, []).append(index)

    def near(self, solid: Solid) -> Iterator[Solid]:
        """Solids whose boxes come within the margin of this one, each once, in order."""
        squares = self._squares(solid, 0.0)
        found = set(self._wide) if squares is not None else set(range(len(self._solids)))
        for square in squares or ():
            found.update(self._held.get(square, ()))
        for index in sorted(found):
            other = self._solids[index]
            reach = solid.radius_mm + other.radius_mm + self._margin
            if abs(other.x_mm - solid.x_mm) < reach and abs(other.y_mm - solid.y_mm) < reach:
                yield other

    def _squares(self, item: Solid, margin: float) -> list[tuple[int, int]] | None:
        reach = item.radius_mm + margin
        x0, x1 = (math.floor((item.x_mm + s * reach) / self._side) for s in (-1, 1))
        y0, y1 = (math.floor((item.y_mm + s * reach) / self._side) for s in (-1, 1))
        if (x1 - x0 + 1) * (y1 - y0 + 1) > _MOST_SQUARES:
            return None
        return [(x, y) for x in range(x0, x1 + 1) for y in range(y0, y1 + 1)]


def gap_mm(one: Solid, other: Solid) -> float:
    """Between two solids seen from above, mm; negative where they overlap."""
    if one.plate is None and other.plate is None:
        return math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm) - one.radius_mm - other.radius_mm
    if one.plate is not None and other.plate is not None:
        return plates_gap_mm(one.plate, other.plate)
    plate, disc = (one, other) if one.plate is not None else (other, one)
    assert plate.plate is not None
    return disc_gap_mm((disc.x_mm, disc.y_mm), disc.radius_mm, plate.plate)
