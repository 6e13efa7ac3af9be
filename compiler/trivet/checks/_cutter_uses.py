"""Which cutter cuts what, and how deep."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.model.base import Ref
from trivet.model.board import Hole, Pocket
from trivet.model.design import Design
from trivet.record import record


@record
class CutterUse:
    """Something that a cutter cuts, and how deep at the thickest of its sheet, mm."""

    name: Ref
    cutter: str
    depth_mm: float


def cutter_uses(design: Design) -> Iterator[CutterUse]:
    """Every part's edge, and what names a cutter of its own. Layers are cut one by one, so nothing is deeper than its sheet."""
    thickest = {sheet.name.text: sheet.thickness.most for sheet in design.sheets}
    keepers = {foot.name.text: foot.keeper for foot in design.feet if foot.keeper is not None}
    for board in design.boards:
        yield CutterUse(board.name, board.cutter.text, thickest[board.stock.text])
    for gear in design.gears:
        yield CutterUse(gear.name, gear.cutter.text, thickest[gear.stock.text])
        if gear.carries is not None and gear.carries.text in keepers:
            yield CutterUse(gear.carries, gear.cutter.text, thickest[keepers[gear.carries.text].stock.text])
    for spacer in design.spacers:
        yield CutterUse(spacer.name, spacer.cutter.text, thickest[spacer.stock.text])
    most = {board.name.text: thickest[board.stock.text] for board in design.boards}
    cuts: list[Pocket | Hole] = [*design.pockets, *(hole for hole in design.holes if hole.drill_mm is None)]
    for item in cuts:
        if item.cutter is not None:
            deep = item.depth.mm if item.depth is not None else most[item.into.text]
            yield CutterUse(item.name, item.cutter.text, min(deep, most[item.into.text]))
    for label in design.engravings:
        yield CutterUse(label.name, label.cutter.text, label.depth.mm)
