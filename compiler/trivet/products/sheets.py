"""The sheet drawings: all parts nested on the sheets that are declared, each face as SVG and DXF."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products._drawings import drawing_files
from trivet.products.product import Context, Product


def sheets(context: Context) -> Iterator[Product]:
    """One drawing for each sheet and face that has work; with `plain`, a second without reference layers."""
    from trivet.drawing.nested_sheets import nested_sheets
    from trivet.tables.file_names import file_names

    drawn = nested_sheets(context.design, context.nest)
    names = file_names(sheet.name for sheet in context.nest.sheets)
    stems = ((f"sheets/{context.mark}{names[sheet.id.rpartition('.')[0]]}.{sheet.face}", sheet) for sheet in drawn)
    yield from drawing_files(context, stems, "sheet drawing")
