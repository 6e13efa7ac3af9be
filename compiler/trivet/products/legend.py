"""The legend of the drawings: each kind of layer's line and colour, and words."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products.product import Context, Product


def legend(context: Context) -> Iterator[Product]:
    """One drawing to look at; it is not for cutting, so there is no file for machines."""
    from trivet.drawing.draft import as_draft
    from trivet.drawing.legend import legend_sheet
    from trivet.drawing.sheet import layer_name
    from trivet.emit.svg import svg

    design = context.design
    names = {
        layer_name(item.operation, face, item.depth_mm, unit=design.units)
        for part in context.nest.parts
        for face in part.faces
        for item in part.on(face)
    }
    sheet = legend_sheet(design.title or design.name, names, design.units)
    sheet = as_draft(sheet) if context.wanted.draft else sheet
    yield Product(f"{context.mark}legend.svg", "legend", svg(sheet), None, None, [layer.name for layer in sheet.layers])
