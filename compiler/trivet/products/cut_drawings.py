"""The cut drawings: each part and face as SVG and DXF."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products.product import Context, Product


def cut_drawings(context: Context) -> Iterator[Product]:
    """One drawing for each part and face that has work; with `plain`, a second without reference layers."""
    from trivet.drawing.chords import without_arcs
    from trivet.drawing.draft import as_draft
    from trivet.drawing.parts import part_sheets
    from trivet.emit.dxf import dxf
    from trivet.emit.svg import svg
    from trivet.tables.file_names import file_names

    wanted = context.wanted
    sheets = part_sheets(context.design, context.derived)
    names = file_names(sheet.part for sheet in sheets)
    for drawn in sheets:
        found = without_arcs(drawn) if wanted.polyline else drawn
        sheet = as_draft(found) if wanted.draft else found
        stem = f"cut/{context.mark}{names[sheet.part]}.{sheet.face}"
        for form, write in (("svg", svg), ("dxf", dxf)):
            for variant in (False, True) if wanted.plain else (False,):
                path = f"{stem}.plain.{form}" if variant else f"{stem}.{form}"
                layers = [layer.name for layer in sheet.layers if not (variant and layer.reference)]
                yield Product(path, "cut drawing", write(sheet, plain=variant), sheet.part, sheet.face, layers)
