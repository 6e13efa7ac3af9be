"""The sheet drawings: all parts nested on the sheets that are declared, each face as SVG and DXF."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products.product import Context, Product


def sheets(context: Context) -> Iterator[Product]:
    """One drawing for each sheet and face that has work; with `plain`, a second without reference layers."""
    from trivet.drawing.chords import without_arcs
    from trivet.drawing.draft import as_draft
    from trivet.drawing.nested_sheets import nested_sheets
    from trivet.emit.dxf import dxf
    from trivet.emit.svg import svg
    from trivet.tables.file_names import file_names

    wanted = context.wanted
    drawings = nested_sheets(context.design, context.nest)
    names = file_names(sheet.name for sheet in context.nest.sheets)
    for drawn in drawings:
        found = without_arcs(drawn) if wanted.polyline else drawn
        sheet = as_draft(found) if wanted.draft else found
        stem = f"sheets/{context.mark}{names[drawn.id.rpartition('.')[0]]}.{sheet.face}"
        for form, write in (("svg", svg), ("dxf", dxf)):
            for variant in (False, True) if wanted.plain else (False,):
                path = f"{stem}.plain.{form}" if variant else f"{stem}.{form}"
                layers = list(dict.fromkeys(layer.name for layer in sheet.layers if not (variant and layer.reference)))
                yield Product(path, "sheet drawing", write(sheet, plain=variant), None, sheet.face, layers)
