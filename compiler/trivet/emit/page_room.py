"""Room for writing: which places of a drawing are taken already. Cost linear in what is written."""

from __future__ import annotations

from collections.abc import Iterator

Box = tuple[float, float, float, float]


class Room:
    """Boxes (left, top, right, bottom) in squares of a side that fits a line or two, so that each is compared with near ones only."""

    def __init__(self, side_mm: float) -> None:
        self._side = side_mm
        self._held: dict[tuple[int, int], list[Box]] = {}

    def free(self, box: Box) -> bool:
        """Whether nothing lies there yet."""
        return not any(_meet(box, other) for square in self._squares(box) for other in self._held.get(square, ()))

    def take(self, box: Box) -> None:
        """From now on it is taken."""
        for square in self._squares(box):
            self._held.setdefault(square, []).append(box)

    def _squares(self, box: Box) -> Iterator[tuple[int, int]]:
        left, top, right, bottom = (int(value // self._side) for value in box)
        return ((x, y) for x in range(left, right + 1) for y in range(top, bottom + 1))


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
