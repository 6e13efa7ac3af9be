"""Readings between the holes of two gears in mesh, in the board that has both."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from trivet.model.board import Board
from trivet.solve.feature import Feature, Round
from trivet.solve.inspection_reading import Reading
from trivet.solve.part_context import PartContext
from trivet.solve.part_features import PartFeatures
from trivet.units import length_text

# A hole stands where its axis is: rounding in sums of coordinates stays below this, mm.
SAME_MM = 1e-3


def spacing_readings(context: PartContext, parts: tuple[PartFeatures, ...]) -> Iterator[Reading]:
    """For each mesh whose holes lie in one board: the reading over pins that fill both holes, or over their far edges."""
    shop, boards = context.design.shop, boards_of(context, parts)
    for mesh in context.derived.train.meshes:
        one, two = context.states[mesh.a], context.states[mesh.b]
        for part, board, holes in boards:
            first, second = holes.at(one.x_mm, one.y_mm), holes.at(two.x_mm, two.y_mm)
            if first is None or second is None:
                continue
            machine = context.parts.machines[board.machine.text] if board.machine is not None else None
            position, profile = shop.hole_position_mm, shop.profile_offset_mm
            if machine is not None and machine.hole_position is not None:
                position = machine.hole_position.mm
            if machine is not None and machine.profile_offset is not None:
                profile = machine.profile_offset.mm
            diameters = _diameter_mm(first), _diameter_mm(second)
            reading = math.hypot(two.x_mm - one.x_mm, two.y_mm - one.y_mm) + sum(diameters) / 2.0
            either = 2.0 * position + 2.0 * profile
            sizes = " and ".join(length_text(mm, context.design.units) for mm in diameters)
            yield Reading(
                f"{mesh.id}.centres", part.part,
                f"centres of {mesh.a} and {mesh.b}: over pins that fill their holes ({sizes}), outside to outside", "spacing",
                reading, reading - either, reading + either, "hole_position of two holes and profile_offset round both",
                (mesh.id, first.title, second.title),
            )  # fmt: skip
            break


class BoardHoles:
    """The round holes of a board's part by where they stand in the world, found without looking at all of them."""

    def __init__(self, part: PartFeatures, board: Board) -> None:
        self._cells: dict[tuple[int, int], list[tuple[float, float, Feature]]] = {}
        for item in part.features:
            if item.operation == "bore" and isinstance(item.shape, Round):
                x, y = item.shape.x_mm + board.x_mm, item.shape.y_mm + board.y_mm
                self._cells.setdefault((math.floor(x), math.floor(y)), []).append((x, y, item))

    def at(self, x_mm: float, y_mm: float) -> Feature | None:
        """The narrowest hole about a place: a pin in it stands where the axis does."""
        cells = ((math.floor(x_mm) + i, math.floor(y_mm) + j) for i in (-1, 0, 1) for j in (-1, 0, 1))
        near = [item for cell in cells for x, y, item in self._cells.get(cell, ()) if math.hypot(x - x_mm, y - y_mm) < SAME_MM]
        return min(near, key=_diameter_mm, default=None)


def boards_of(context: PartContext, parts: Sequence[PartFeatures]) -> tuple[tuple[PartFeatures, Board, BoardHoles], ...]:
    """Every board's parts with their holes."""
    found = [(part, context.parts.boards[part.belongs_to or part.part]) for part in parts if part.kind == "board"]
    return tuple((part, board, BoardHoles(part, board)) for part, board in found)


def _diameter_mm(item: Feature) -> float:
    assert isinstance(item.shape, Round)
    return item.shape.diameter_mm
