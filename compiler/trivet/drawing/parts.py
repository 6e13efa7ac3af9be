"""The part drawings: one sheet for each part and face that has work."""

from __future__ import annotations

from itertools import groupby

from trivet.drawing.bounds import Bounds, bounds_of
from trivet.drawing.feature_shapes import path_of, shapes_of
from trivet.drawing.part_reference import dimensions, grain_arrow, reference_layer, registration
from trivet.drawing.part_sheet import PartSheet
from trivet.drawing.part_words import listed, part_words
from trivet.drawing.reference_text import reference_text
from trivet.drawing.scale_square import scale_square
from trivet.drawing.shapes import Face, Operation, Shape
from trivet.drawing.sheet import Layer, Unit, layer_name, sheet_of, stated_depth
from trivet.drawing.size_labels import size_labels
from trivet.drawing.tab_layer import tab_layer
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.feature import Feature
from trivet.solve.part_features import PartFeatures
from trivet.solve.parts import part_features

# Work that lies inside comes before work that frees: pockets first, the outer edge last.
ORDER: tuple[Operation, ...] = ("engrave", "pocket", "counterbore", "bore", "opening", "outer_edge")
MARGIN_MM = 5.0


def part_sheets(design: Design, derived: Derived) -> tuple[PartSheet, ...]:
    """The drawings of all parts, in the order of `part_features`, the datum face of each part first."""
    return sheets_of(design, part_features(design, derived))


def sheets_of(design: Design, parts: tuple[PartFeatures, ...]) -> tuple[PartSheet, ...]:
    """The drawings of parts already worked out."""
    return tuple(part_sheet(design, part, face) for part in parts for face in part.faces)


def part_sheet(design: Design, part: PartFeatures, face: Face) -> PartSheet:
    """One face of one part; the underside is turned over about the part's flip axis."""
    unit: Unit = design.units
    flip = part.flip_x_mm if face == "underside" else None
    cut = _cut_layers(part, face, flip, unit)
    box = _box(part, flip)
    around = []
    if part.kind != "gear":
        around.append(dimensions(box, unit, face, part.part))
    if part.kind == "board" and (labels := size_labels(cut, unit)):
        around.append(reference_layer("sizes", face, part.part, labels, "diameters, with depths where not through, never cut"))
    if face != part.datum:
        outline = shapes_of(part.edge, flip)
        around.append(reference_layer("outline", face, part.part, outline, "the edge, cut from the other face: never cut here"))
    if len(part.faces) > 1:
        around.append(registration(box, part.flip_x_mm, face, part.part, unit))
    if part.tabs and face == part.datum:
        around.append(tab_layer(part, flip, part.part, unit))
    if part.grain is not None:
        around.append(grain_arrow(box, part.grain, face, part.part))
    shown = bounds_of(shape for layer in (*cut, *around) for shape in layer.shapes)
    lines = part_words(design, part, face, cut)
    text = reference_text(shown, lines, "facts of the part and how to cut it")
    square = scale_square(Bounds(shown.x_min, box.y_min, shown.x_max, shown.y_max), unit)
    title = f"{part.part}, {face}, of {design.title or design.name}"
    sheet = sheet_of(f"{part.part}.{face}", title, (*cut, *around, text, square), unit, lines, MARGIN_MM)
    return PartSheet(sheet.id, sheet.title, sheet.bounds, sheet.layers, sheet.unit, sheet.notes, part.part, face)


def _box(part: PartFeatures, flip: float | None) -> Bounds:
    outline = part.outline if flip is None else part.outline.mirrored_x(flip)
    return bounds_of([path_of(outline, part.outline_title, part.outline_because)])


def _cut_layers(part: PartFeatures, face: Face, flip: float | None, unit: Unit) -> tuple[Layer, ...]:
    def key(item: Feature) -> tuple[int, float]:
        # Deeper work of one kind comes later; through is deepest. 0.5 mm and 0.0197 in are one setting of the cutter.
        return ORDER.index(item.operation), stated_depth(item.depth_mm, unit) if item.depth_mm is not None else float("inf")

    layers = []
    for _, group in groupby(sorted(part.on(face), key=key), key=key):
        items = tuple(group)
        first = items[0]
        shapes: tuple[Shape, ...] = tuple(shape for item in items for shape in shapes_of(item, flip))
        name = layer_name(first.operation, face, first.depth_mm, unit=unit)
        title = listed([item.title for item in items])
        layers.append(Layer(name, first.operation, face, first.depth_mm, part.part, shapes, title))
    return tuple(layers)
