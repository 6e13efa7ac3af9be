"""The mark on a drawing that was made in spite of errors."""

from __future__ import annotations

from typing import TypeVar

from trivet.drawing.bounds import Bounds
from trivet.drawing.figure import Figure, FigureLayer
from trivet.drawing.part_sheet import PartSheet
from trivet.drawing.shapes import Face, Text
from trivet.drawing.sheet import Layer, Sheet
from trivet.record import replace

WORDS = "DRAFT, not for cutting"
HEIGHT_MM = 8.0
GAP_MM = 4.0


AnySheet = TypeVar("AnySheet", bound=Sheet)


def as_draft(sheet: AnySheet) -> AnySheet:
    """The sheet with the mark above it, on a reference layer of its own, and in its title."""
    box = sheet.bounds
    text = Text(box.x_min + GAP_MM, box.y_max + GAP_MM, HEIGHT_MM, WORDS, "start", WORDS, "errors stood when it was made")
    face: Face = sheet.face if isinstance(sheet, PartSheet) else "topside"
    part = sheet.part if isinstance(sheet, PartSheet) else ""
    layer = Layer("reference draft", "reference", face, None, part, (text,), "a draft, never cut")
    higher = Bounds(box.x_min, box.y_min, max(box.x_max, box.x_min + 150.0), box.y_max + HEIGHT_MM + 2 * GAP_MM)
    return replace(sheet, title=f"{WORDS}: {sheet.title}", bounds=higher, layers=(*sheet.layers, layer))


def draft_figure(figure: Figure) -> Figure:
    """The figure with the mark above it and in its title."""
    box = figure.bounds
    text = Text(box.x_min + GAP_MM, box.y_max + GAP_MM, HEIGHT_MM / 2.0, WORDS, "start", WORDS, "errors stood when it was made")
    return replace(figure, title=f"{WORDS}: {figure.title}", layers=(*figure.layers, FigureLayer("note", (text,))))
