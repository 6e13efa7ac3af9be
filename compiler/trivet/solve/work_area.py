"""What a machine's work area leaves of a sheet: the pieces that it is cut into before they are laid on the machine. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Protocol

from trivet.model.design import Design
from trivet.model.shop import Machine
from trivet.record import replace
from trivet.solve.nest_records import Stock
from trivet.solve.part_features import PartFeatures

# What a saw takes between two pieces of a sheet, mm (common practice, no source).
SAW_MM = 4.0
Size = tuple[float, float]


class FromSheet(Protocol):
    """A piece of stock, lying ready or laid."""

    @property
    def width_mm(self) -> float:
        """Along x."""
        ...

    @property
    def height_mm(self) -> float:
        """Along y."""
        ...

    @property
    def off_cut(self) -> bool:
        """Whether it is no part of a whole sheet."""
        ...

    @property
    def per_sheet(self) -> int:
        """How many such pieces a whole sheet gives."""
        ...


def machines_of(design: Design) -> dict[str, Machine]:
    """The machine that cuts each board and gear, by the part's name; only machines whose work area is stated."""
    machines = {item.name.text: item for item in design.machines if item.work_area_width is not None}
    found: dict[str, Machine] = {}
    named = [(board.name.text, board.machine) for board in design.boards]
    named += [(gear.name.text, gear.machine) for gear in design.gears]
    for part, by in named:
        if by is not None and by.text in machines:
            found[part] = machines[by.text]
    return found


def area_of(machine: Machine) -> Size:
    """Its work area along x and y."""
    assert machine.work_area_width is not None and machine.work_area_height is not None
    return machine.work_area_width.mm, machine.work_area_height.mm


def boxes_of(part: PartFeatures, turns_deg: Sequence[float], tip_mm: float | None = None) -> set[Size]:
    """Width and height of a part's box in each way that it may be turned; a gear's is that of its tip circle, `tip_mm` across."""
    x0, y0, x1, y1 = part.outline.bounds if tip_mm is None else (0.0, 0.0, tip_mm, tip_mm)
    box = (x1 - x0, y1 - y0)
    return {box if turn in (0.0, 180.0) else box[::-1] for turn in turns_deg}


def fits(boxes: Iterable[Size], stock: Stock, margin_mm: float) -> bool:
    """Whether one of the boxes goes on a piece of stock, less the margin along its edges."""
    wide, high = stock.width_mm - 2.0 * margin_mm + 1e-6, stock.height_mm - 2.0 * margin_mm + 1e-6
    return any(width <= wide and height <= high for width, height in boxes)


def cut_down(stock: Stock, machine: Machine, boxes: Sequence[set[Size]], margin_mm: float) -> Stock:
    """The pieces that a sheet is cut into so that the machine takes each, or the sheet itself where it fits.

    The area may lie along the sheet or across it: the way that takes more of the parts is chosen, then the one that uses more of the sheet.
    """
    wide, high = area_of(machine)
    ways: list[tuple[tuple[int, float, int], Stock]] = []
    for order, (along, across) in enumerate(((wide, high), (high, wide))):
        width, height = min(stock.width_mm, along), min(stock.height_mm, across)
        count = _pieces(stock.width_mm, width) * _pieces(stock.height_mm, height)
        whole = (stock.width_mm, stock.height_mm) if (width, height) != (stock.width_mm, stock.height_mm) else None
        piece = replace(
            stock,
            width_mm=width,
            height_mm=height,
            count=stock.count * count if stock.count is not None else None,
            per_sheet=count,
            cut_from_mm=whole,
        )
        ways.append(((sum(fits(item, piece, margin_mm) for item in boxes), count * width * height, -order), piece))
    return max(ways, key=lambda way: way[0])[1]


def whole_sheets(stocks: Iterable[FromSheet]) -> int:
    """How many whole sheets give so many pieces; off-cuts are none. Pieces of one size come from the same sheets."""
    counts: dict[tuple[float, float, int], int] = {}
    for stock in stocks:
        if not stock.off_cut:
            key = (stock.width_mm, stock.height_mm, stock.per_sheet)
            counts[key] = counts.get(key, 0) + 1
    return sum(math.ceil(count / per) for (_, _, per), count in counts.items())


def _pieces(sheet_mm: float, piece_mm: float) -> int:
    """How many lengths come out of one, a saw cut between each two."""
    return max(1, math.floor((sheet_mm + SAW_MM) / (piece_mm + SAW_MM) + 1e-9))
