"""The drawings of whole sheets: all parts where they lie, one drawing for each face that has work, both in one frame."""

from __future__ import annotations

from collections.abc import Mapping

from trivet.drawing.bounds import Bounds, bounds_of
from trivet.drawing.feature_shapes import shapes_of
from trivet.drawing.nested_layers import nested_layers
from trivet.drawing.nested_words import nested_words, stock_word
from trivet.drawing.part_reference import dimensions, grain_arrow, reference_layer
from trivet.drawing.part_sheet import PartSheet
from trivet.drawing.parts import MARGIN_MM
from trivet.drawing.reference_text import reference_text
from trivet.drawing.scale_square import scale_square
from trivet.drawing.shapes import Circle, Face, Line, Path, Shape, Text
from trivet.drawing.sheet import Layer, Unit, sheet_of
from trivet.drawing.tab_layer import tab_layer
from trivet.drawing.text_width import text_width_mm
from trivet.model.design import Design
from trivet.solve.nest_laid import LaidPart, laid_part, name_place
from trivet.solve.nest_records import Lying, Nest, NestedSheet
from trivet.solve.part_features import PartFeatures
from trivet.units import length_text

# Names of parts: the largest height of capitals and the least that reads (sizes of ISO 3098, from memory).
NAME_MM, LEAST_NAME_MM = 7.0, 2.5
_AXIS_MM = 12.0


def nested_sheets(design: Design, nest: Nest) -> tuple[PartSheet, ...]:
    """The drawings of all sheets in order, the first face of each first; a second face only where some part has work on it."""
    parts = {part.part: part for part in nest.parts}
    found = []
    for sheet in nest.sheets:
        places = {lying: name_place(parts[lying.part]) for lying in sheet.lying}
        found += [nested_sheet(design, sheet, face, parts, places) for face in faces_of(sheet)]
    return tuple(found)


def faces_of(sheet: NestedSheet) -> tuple[Face, ...]:
    """The face that is cut first, and the other where there is work on it."""
    other: Face = "topside" if sheet.first_face == "underside" else "underside"
    return (sheet.first_face, other) if sheet.two_faced else (sheet.first_face,)


def nested_sheet(
    design: Design,
    sheet: NestedSheet,
    face: Face,
    parts: Mapping[str, PartFeatures],
    places: Mapping[Lying, tuple[float, float, float]],
) -> PartSheet:
    """One face of one sheet."""
    unit: Unit = design.units
    first = face == sheet.first_face
    laid = [(_piece(lying), laid_part(parts[lying.part], lying, sheet, face)) for lying in sheet.lying]
    cut = (*_index_holes(sheet, face, unit), *nested_layers(laid, face, unit))
    edge = Bounds(0.0, 0.0, sheet.width_mm, sheet.height_mm)
    around = [_edge(edge, sheet, face), dimensions(edge, unit, face, "")]
    if not first:
        shapes = tuple(shape for _, item in laid for shape in shapes_of(item.part.edge, item.flip_x_mm))
        around.append(reference_layer("outline", face, "", shapes, "edges of the parts, cut from the other face: never cut here"))
        around.append(_dowels(sheet, face))
    if sheet.two_faced:
        around.append(_axis(edge, face))
    if first:
        around += [tab_layer(item.part, item.flip_x_mm, piece, unit) for piece, item in laid if item.part.tabs]
    around.append(_names(sheet, face, laid, places))
    grain = next(iter(parts.values())).sheet.face_grain if not sheet.lying else parts[sheet.lying[0].part].sheet.face_grain
    if grain is not None:
        around.append(grain_arrow(edge, grain, face, ""))
    shown = bounds_of(shape for layer in (*cut, *around) for shape in layer.shapes)
    lines = nested_words(design, sheet, face, cut, parts)
    text = reference_text(shown, lines, "facts of the sheet and how to cut it")
    square = scale_square(Bounds(shown.x_min, 0.0, shown.x_max, shown.y_max), unit)
    title = f"{sheet.name}, {face}, of {design.title or design.name}"
    drawn = sheet_of(f"{sheet.name}.{face}", title, (*cut, *around, text, square), unit, lines, MARGIN_MM)
    return PartSheet(drawn.id, drawn.title, drawn.bounds, drawn.layers, drawn.unit, drawn.notes, "", face)


def _piece(lying: Lying) -> str:
    return lying.part if lying.copy == 1 else f"{lying.part} {lying.copy}"


def _index_holes(sheet: NestedSheet, face: Face, unit: Unit) -> tuple[Layer, ...]:
    if face != sheet.first_face or not sheet.holes:
        return ()
    shapes: list[Shape] = []
    for hole in sheet.holes:
        size = length_text(hole.diameter_mm, unit)
        what = "guard hole, with room" if hole.guard else "registration hole"
        because = "in the waste; no two of the three lie equally far apart, so that a wrong flip does not go onto the dowels"
        shapes.append(Circle(hole.x_mm, hole.y_mm, hole.diameter_mm / 2.0, f"{what}, {size}", because))
    title = "registration: index holes in the waste, bored before all else and into the bed below"
    return (Layer("bore through", "bore", face, None, "", tuple(shapes), title),)


def _dowels(sheet: NestedSheet, face: Face) -> Layer:
    shapes: list[Shape] = []
    for hole in sheet.holes:
        x, y, r = sheet.width_mm - hole.x_mm, hole.y_mm, hole.diameter_mm / 2.0
        title, because = "dowel in the bed", "the hole bored from the first face, mirrored about the flip axis"
        shapes += [Circle(x, y, r, title, because), Line(x - 2 * r, y, x + 2 * r, y, title, because)]
        shapes.append(Line(x, y - 2 * r, x, y + 2 * r, title, because))
    return reference_layer("registration", face, "", tuple(shapes), "where the dowels stand, bored from the first face: never cut here")


def _edge(edge: Bounds, sheet: NestedSheet, face: Face) -> Layer:
    corners = ((edge.x_min, edge.y_min), (edge.x_max, edge.y_min), (edge.x_max, edge.y_max), (edge.x_min, edge.y_max))
    what = stock_word(sheet)
    path = Path(tuple((x, y, 0.0) for x, y in corners), True, f"edge of the {what}", "its stated size")
    return reference_layer("sheet edge", face, "", (path,), f"edge of the {what}, never cut")


def _axis(edge: Bounds, face: Face) -> Layer:
    x, because = (edge.x_min + edge.x_max) / 2.0, "the middle of the sheet's width"
    shapes = (
        Line(x, edge.y_max + 1.0, x, edge.y_max + _AXIS_MM, "flip axis", because),
        Line(x, edge.y_min - 1.0, x, edge.y_min - _AXIS_MM + 4.0, "flip axis", because),
        Text(x + 2.0, edge.y_max + 4.0, 3.5, "flip axis", "start", "flip axis", because),
    )
    return reference_layer("flip axis", face, "", shapes, "the sheet is turned over about this line, never cut")


def _names(
    sheet: NestedSheet, face: Face, laid: list[tuple[str, LaidPart]], places: Mapping[Lying, tuple[float, float, float]]
) -> Layer:
    """Each piece's name in a place that no cut of either face touches."""
    from trivet.solve.feature import Round

    shapes = []
    for lying, (piece, item) in zip(sheet.lying, laid, strict=True):
        middle_x, middle_y, radius = places[lying]
        spot = item.placed(Round(middle_x, middle_y, 1.0))
        wide = text_width_mm(piece, 1.0)
        # A line fits a round place when its corners do; they stand up to 0.85 of its height from its middle.
        height = min(NAME_MM, 1.9 * radius / (wide * wide + 2.9) ** 0.5)
        x, y = spot.x_mm, spot.y_mm - height / 2.0
        if height < LEAST_NAME_MM:
            # Too small to bear its name: that stands in the waste below.
            box = bounds_of(shapes_of(item.part.edge, item.flip_x_mm))
            height, x = LEAST_NAME_MM, (box.x_min + box.x_max) / 2.0
            y = box.y_min - 1.3 * height
        shapes.append(Text(x, y, height, piece, "middle", "name of the part", "its id in the file"))
    return reference_layer("part names", face, "", tuple(shapes), "names of the parts, never cut")
