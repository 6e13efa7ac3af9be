"""The parts of a design that a gear train looks up by name."""

from __future__ import annotations

from trivet.model.base import Band
from trivet.model.board import Board
from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.model.hardware import TeeNut
from trivet.model.shop import Cutter, Machine, Sheet, Shop
from trivet.model.train import Drive, Gear, Pivot
from trivet.record import record


@record
class TrainParts:
    """Dictionaries by name, filled once: one look-up a gear instead of one search."""

    shop: Shop
    sheets: dict[str, Sheet]
    cutters: dict[str, Cutter]
    machines: dict[str, Machine]
    boards: dict[str, Board]
    drives: dict[str, Drive]
    pivots: dict[str, Pivot]
    feet: dict[str, Foot]

    def face_width(self, gear: Gear) -> Band:
        """A gear's thickness over its sheets."""
        return self.sheets[gear.stock.text].layered(gear.layers)

    def board_thickness(self, name: str) -> Band:
        """A board's thickness over its sheets."""
        board = self.boards[name]
        return self.sheets[board.stock.text].layered(board.layers)

    def cutter_mm(self, gear: Gear) -> float:
        """Diameter of the gear's cutter; 0 for one that has none."""
        diameter = self.cutters[gear.cutter.text].diameter
        return diameter.mm if diameter is not None else 0.0

    def has_tee_nut(self, gear: Gear) -> bool:
        """Whether a drive's tee nut stands in the gear, from above or from below."""
        return gear.turned_by is not None and isinstance(self.drives[gear.turned_by.text].nut.hardware, TeeNut)

    def pivot_outside_mm(self, gear: Gear) -> float:
        """Outside diameter of what an idler turns on: sleeve, shoulder or the thread itself."""
        assert gear.turns_on is not None
        pivot = self.pivots[gear.turns_on.text]
        if pivot.sleeve_outside is not None:
            return pivot.sleeve_outside.mm
        return pivot.shoulder.mm if pivot.shoulder is not None else pivot.thread.major_mm


def train_parts(design: Design) -> TrainParts:
    """The parts of a design by name."""
    return TrainParts(
        shop=design.shop,
        sheets={item.name.text: item for item in design.sheets},
        cutters={item.name.text: item for item in design.cutters},
        machines={item.name.text: item for item in design.machines},
        boards={item.name.text: item for item in design.boards},
        drives={item.name.text: item for item in design.drives},
        pivots={item.name.text: item for item in design.pivots},
        feet={item.name.text: item for item in design.feet},
    )
