"""Drawings as files: each sheet as SVG and DXF, and with `plain` a second of each without reference layers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from trivet.drawing.part_sheet import PartSheet
from trivet.products.product import Context, Product


def drawing_files(context: Context, drawings: Iterable[tuple[str, PartSheet]], kind: str) -> Iterator[Product]:
    """The files of each (path without its ending, drawing). A drawing of no one part has an empty `part`."""
    from trivet.drawing.chords import without_arcs
    from trivet.drawing.draft import as_draft
    from trivet.emit.dxf import dxf
    from trivet.emit.svg import svg

    wanted = context.wanted
    for stem, drawn in drawings:
        found = without_arcs(drawn) if wanted.polyline else drawn
        sheet = as_draft(found) if wanted.draft else found
        for form, write in (("svg", svg), ("dxf", dxf)):
            for variant in (False, True) if wanted.plain else (False,):
                path = f"{stem}.plain.{form}" if variant else f"{stem}.{form}"
                layers = list(dict.fromkeys(layer.name for layer in sheet.layers if not (variant and layer.reference)))
                yield Product(path, kind, write(sheet, plain=variant), sheet.part or None, sheet.face, layers)
