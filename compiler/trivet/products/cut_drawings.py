"""The cut drawings: each part and face as SVG and DXF."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products._drawings import drawing_files
from trivet.products.product import Context, Product


def cut_drawings(context: Context) -> Iterator[Product]:
    """One drawing for each part and face that has work; with `plain`, a second without reference layers."""
    from trivet.drawing.parts import part_sheets
    from trivet.tables.file_names import file_names

    drawn = part_sheets(context.design, context.derived)
    names = file_names(sheet.part for sheet in drawn)
    stems = ((f"cut/{context.mark}{names[sheet.part]}.{sheet.face}", sheet) for sheet in drawn)
    yield from drawing_files(context, stems, "cut drawing")
