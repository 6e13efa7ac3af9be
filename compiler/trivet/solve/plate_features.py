"""Keepers and spacers as parts: plates with one bore in the middle of their box, which is their (0, 0)."""

from __future__ import annotations

from trivet.model.board import Face, Spacer
from trivet.model.foot import Foot
from trivet.model.outline import Outline
from trivet.record import replace
from trivet.solve.contour import Contour
from trivet.solve.derived import GearState
from trivet.solve.feature import Feature, Round
from trivet.solve.keeper_cuts import keeper_holes
from trivet.solve.outline_contour import outer_as_cut
from trivet.solve.part_context import HEAD_ROOM_MM, PartContext
from trivet.solve.part_features import PartFeatures
from trivet.solve.sunk import head_diameter_mm

UNFASTENED = "no place was found for the keeper's own screws, so their holes are not drawn"


def keeper_part(context: PartContext, foot: Foot, state: GearState) -> PartFeatures | None:
    """The keeper of one foot, cut with its gear's cutter: its bore lets the rod, or head and post, pass; its own screws' heads lie in its
    underside, so that everything is cut from there.
    """
    if foot.keeper is None:
        return None
    owner = state.foot_id or f"{foot.name.text}.{state.id}"
    cutter = state.cutter_diameter_mm
    widest, what = _passing(foot)
    diameter = widest + HEAD_ROOM_MM
    bore = Feature(
        "bore",
        "topside",
        None,
        Round(0.0, 0.0, diameter),
        f"bore for {owner}, {context.size(diameter)}",
        f"{what} {context.length(widest)} passes with {context.length(HEAD_ROOM_MM)} of room (common practice, no source)",
        cutter,
        foot.keeper.origin,
    )
    sheet = context.parts.sheets[foot.keeper.stock.text]
    held = next((item for item in context.derived.keepers if item.foot == owner and item.places), None)
    screws = tuple(keeper_holes(context, held, cutter, sheet.thickness.mean)) if held is not None else ()
    datum: Face = "underside" if held is not None else "topside"
    title = f"edge of the keeper of {owner}, {context.overall(foot.keeper.outline)}"
    return PartFeatures(
        part=f"{owner}.keeper",
        kind="keeper",
        sheet=sheet,
        thickness=sheet.thickness,
        datum=datum,
        outline=_middled(foot.keeper.outline, cutter),
        outline_title=title,
        outline_because="as stated; inward corners have the cutter's radius",
        cutter_diameter_mm=cutter,
        features=(replace(bore, face=datum), *screws),
        grain=sheet.face_grain,
        notes=() if held is not None else (UNFASTENED,),
    )


def spacer_part(context: PartContext, spacer: Spacer) -> PartFeatures:
    """A spacer; all of its quantity are alike."""
    cutter = context.cutter_mm(spacer.cutter.text)
    name, sheet = spacer.name.text, context.parts.sheets[spacer.stock.text]
    bore: tuple[Feature, ...] = ()
    if spacer.bore_mm is not None:
        title = f"bore of {name}, {context.size(spacer.bore_mm)}"
        hole = Round(0.0, 0.0, spacer.bore_mm)
        bore = (Feature("bore", "topside", None, hole, title, "stated as `bore`", cutter, spacer.origin),)
    return PartFeatures(
        part=name,
        kind="spacer",
        sheet=sheet,
        thickness=sheet.thickness,
        datum="topside",
        outline=_middled(spacer.outline, cutter),
        outline_title=f"edge of {name}, {context.overall(spacer.outline)}",
        outline_because="as stated; inward corners have the cutter's radius",
        cutter_diameter_mm=cutter,
        features=bore,
        quantity=spacer.quantity,
        grain=sheet.face_grain,
    )


def _passing(foot: Foot) -> tuple[float, str]:
    """What goes through the keeper at its widest, mm: a rod, or the hexagon over sharp corners and the post below it."""
    if foot.kind == "captured_nut" or foot.screw is None:
        return foot.thread.major_mm, "the rod"
    head = head_diameter_mm(foot.screw.head)
    post = foot.pad.diameter.mm if foot.pad.diameter is not None else 0.0
    return (post, "the post") if post > head else (head, "the head over its corners")


def _middled(outline: Outline, cutter: float) -> Contour:
    return outer_as_cut(outline, cutter).translated(-outline.width_mm / 2.0, -outline.height_mm / 2.0)
