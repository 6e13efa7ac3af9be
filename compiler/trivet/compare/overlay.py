"""Old and new outlines of the parts to cut again, over one another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trivet.compare.change import Comparison
from trivet.compare.parts import drawn_parts
from trivet.compare.version import Version
from trivet.drawing.feature_shapes import shapes_of
from trivet.drawing.part_reference import reference_layer
from trivet.drawing.parts import part_sheet
from trivet.drawing.sheet import Sheet, sheet_of

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Derived

MARGIN_MM = 5.0


def overlays(found: Comparison, old: tuple[Design, Derived], new: tuple[Design, Derived]) -> tuple[Sheet, ...]:
    """One sheet for each face of each part to cut again: the new cuts in their layers, the old ones dashed on a layer to be read only."""
    before, after = drawn_parts(*old), drawn_parts(*new)
    sheets = []
    for change in found.parts:
        if change.kind != "cut again":
            continue
        first, second = before[change.part], after[change.part]
        for face in second.faces:
            drawn = part_sheet(new[0], second, face)
            flip = second.flip_x_mm if face == "underside" else None
            shapes = tuple(shape for item in first.on(face) for shape in shapes_of(item, flip))
            cuts = tuple(layer for layer in drawn.layers if not layer.reference or layer.name == "reference outline")
            was = reference_layer("as it was", face, change.part, shapes, f"the cuts of {found.old}")
            title = f"{change.part}, {face}: {found.old} dashed, {found.new} over it"
            layers = (*cuts, was) if shapes else cuts
            sheets.append(
                sheet_of(f"{change.part}.{face}", title, layers, new[0].units, ("for comparing, not for cutting",), MARGIN_MM)
            )
    return tuple(sheets)


def overlay_files(found: Comparison, old: Version, new: Version) -> dict[str, bytes]:
    """The overlays as SVG by name, with a manifest; empty where no part is to be cut again."""
    from trivet import __version__
    from trivet.emit.json import json
    from trivet.emit.svg import svg
    from trivet.tables.file_names import file_names
    from trivet.tables.manifest import MANIFEST_NAME, manifest

    first, second = old.pair, new.pair
    if first is None or second is None:
        return {}
    sheets = overlays(found, first, second)
    names = file_names(sheet.id for sheet in sheets)
    files = {f"{names[sheet.id]}.svg": svg(sheet) for sheet in sheets}
    if files:
        inputs = {f"{side} {document.file.name}": document.file.text for side, version in (("old", old), ("new", new))
                  for document in version.compilation.documents}  # fmt: skip
        files[MANIFEST_NAME] = json(manifest(files, inputs=inputs, parameters={}, version=__version__))
    return files
