"""The words on a sheet's drawing: what it is, how it lies, in which order it is cut."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping

from trivet.drawing.part_words import cutter_words
from trivet.drawing.reference_text import NOT_OFFSET
from trivet.drawing.shapes import Face
from trivet.drawing.sheet import Layer
from trivet.drawing.tab_layer import tab_words
from trivet.model.design import Design
from trivet.solve.nest_records import NestedSheet
from trivet.solve.part_features import PartFeatures
from trivet.solve.split_faces import flip_wander_mm
from trivet.units import length_text

_COLUMNS = 150


def nested_words(
    design: Design, sheet: NestedSheet, face: Face, cut: tuple[Layer, ...], parts: Mapping[str, PartFeatures]
) -> tuple[str, ...]:
    """Lines for the reference text, the sheet's name first."""
    unit = design.units
    mine = [parts[lying.part] for lying in sheet.lying]
    thickness = mine[0].sheet.thickness
    limits = f" ({length_text(thickness.least, unit)} to {length_text(thickness.most, unit)})" if thickness.spread > 0 else ""
    size = f"{length_text(sheet.width_mm, unit)} by {length_text(sheet.height_mm, unit)}"
    revision = f", revision {design.revision}" if design.revision else ""
    what = stock_word(sheet)
    lines = [
        f"{sheet.name}: {what} {sheet.number} of {sheet.sheet}, {size}, {length_text(thickness.mean, unit)} thick{limits},"
        f" of {design.title or design.name}{revision}",
        *_cut_down_words(sheet, unit),
        _face_words(sheet, face),
        *_registration_words(design, sheet, face),
        f"{cutter_words(design, mine, face)}; {NOT_OFFSET}",
        f"at least {length_text(sheet.spacing_mm, unit)} between parts and {length_text(sheet.margin_mm, unit)} to the {what}'s edge;"
        f" parts fill {100.0 * sheet.share:.0f} percent of the {what}, {100.0 * sheet.used_share:.0f} percent of the length that is used",
        "cut in this order: " + "; ".join(dict.fromkeys(layer.name for layer in cut)),
    ]
    pieces = sorted(f"{lying.part} {lying.copy}" if lying.copy > 1 else lying.part for lying in sheet.lying)
    lines.append(f"{len(pieces)} pieces: {', '.join(pieces)}")
    if face == sheet.first_face:
        lines += _tab_lines(mine, unit)
    if any(item.drilled for part in mine for item in part.on(face)):
        lines.append("holes narrower than the cutter are marked as drilled: mark their centres here, drill afterwards")
    lines.append("keep screws and clamps that hold the sheet down in the waste, clear of all outlines by a cutter's width")
    return tuple(piece for line in lines for piece in textwrap.wrap(line, _COLUMNS, subsequent_indent="    "))


def stock_word(sheet: NestedSheet) -> str:
    """What the parts lie on."""
    return "panel" if sheet.cut_from_mm is not None else "off-cut" if sheet.off_cut else "sheet"


def _cut_down_words(sheet: NestedSheet, unit: str) -> list[str]:
    if sheet.cut_from_mm is None:
        return []
    size = " by ".join(length_text(side, unit) for side in sheet.cut_from_mm)
    what, many = "an off-cut" if sheet.off_cut else "a sheet", f"panels, {sheet.per_sheet} of this size,"
    how = many if sheet.per_sheet > 1 else "a panel of this size"
    return [f"saw {what} of {size} into {how} first: the work area of {sheet.machine} takes no more at once"]


def _face_words(sheet: NestedSheet, face: Face) -> str:
    if not sheet.two_faced:
        return f"{face} of every part up; all work is done from this face"
    if face == sheet.first_face:
        return f"first face: the {face} of every part of this sheet is up; all that goes through is cut from here"
    return (
        f"second face: the {face} of every part is up; already mirrored about the flip axis, cut it as drawn after the sheet"
        " is turned over left to right; outlines are shown for reference"
    )


def _registration_words(design: Design, sheet: NestedSheet, face: Face) -> list[str]:
    unit = design.units
    if not sheet.two_faced:
        return []
    if not sheet.holes:
        return ["no room was found for index holes: line the second face up by the sheet's edges, the left edge becoming the right one"]
    places = "; ".join(
        f"({length_text(hole.x_mm if face == sheet.first_face else sheet.width_mm - hole.x_mm, unit)},"
        f" {length_text(hole.y_mm, unit)})"
        for hole in sheet.holes
    )
    dowel = length_text(sheet.dowel_mm, unit)
    if face == sheet.first_face:
        return [
            f"registration: bore three holes for {dowel} dowels at {places} from the lower left corner, before all else; the last one has"
            " more room and only keeps a wrong flip off"
        ]
    return [
        f"registration: {dowel} dowels stand in the bed at {places} from the lower left corner; the sheet goes onto all three in one"
        " way only",
        f"cuts of this face may lie {length_text(flip_wander_mm(design.shop.hole_position_mm), unit)} off those of the first face: twice the"
        " shop's hole position"
        f" {length_text(design.shop.hole_position_mm, unit)} and half the play round the dowels; a skewed or shifted axis counts double too",
    ]


def _tab_lines(parts: list[PartFeatures], unit: str) -> list[str]:
    found = []
    for part in parts:
        if part.tabs:
            words = tab_words(part.tabs, part.cutter_diameter_mm, unit)
            found.append(f"{part.part}: {words}")
    return list(dict.fromkeys(found))
