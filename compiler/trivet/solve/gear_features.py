"""A gear as a part: teeth, bore, recesses, openings and marks."""

from __future__ import annotations

import math

from trivet.solve.contour import Contour
from trivet.solve.derived import GearState
from trivet.solve.feature import Feature, Round
from trivet.solve.gear_outline import GearOutline, gear_outline
from trivet.solve.gear_recesses import gear_recesses, owner_of
from trivet.solve.laminate import layers_of
from trivet.solve.lamination_dowels import lamination_dowels
from trivet.solve.part_context import PartContext
from trivet.solve.part_features import PartFeatures, one_face
from trivet.solve.phase_marks import phase_marks
from trivet.solve.shaft_joints import joint_features
from trivet.solve.web_openings import LEAST_RIM_MM, WebRoom, web_openings, web_room
from trivet.units import length_text


def gear_parts(context: PartContext, state: GearState, mates: tuple[str, ...]) -> tuple[PartFeatures, ...]:
    """The gear, or each of its layers. `mates`: gears towards which it bears assembly marks."""
    gear, cutter = state.gear, state.cutter_diameter_mm
    outline = gear_outline(state.geometry, cutter / 2.0, state.phase_rad)
    found: list[Feature] = list(_bore(context, state))
    recesses = gear_recesses(context, state)
    found += recesses
    room = _web_room(state, outline, recesses)
    notes: list[str] = []
    if gear.web is not None:
        openings = web_openings(gear.web, room, cutter)
        if not openings:
            notes.append(f"no room for the web's openings: {_room_words(context, room)} between hub and rim")
        found += [_opening(context, state, shape, room) for shape in openings]
    if gear.layers > 1:
        dowels, note = lamination_dowels(context, gear.z, gear.web, room, cutter)
        found += dowels
        notes += [note] if note else []
    mates_on_shaft = [other.id for other in context.stacks[state.shaft or state.id] if other.id != state.id]
    if mates_on_shaft:
        fixed = " and ".join(mates_on_shaft)
        joined = joint_features(context, state)
        how = "two dowels line them up" if joined else "nothing that lines them up is drawn"
        notes.append(f"fixed to {fixed} on one shaft, both turned as drawn; {how}")
    found += phase_marks(context, state, mates, outline.bottom_radius_mm, max(map(_reach_mm, recesses), default=0.0))
    turned = (*(item.turned(state.phase_rad) for item in found), *joint_features(context, state))
    sheet = context.parts.sheets[gear.stock.text]
    part = PartFeatures(
        part=state.id,
        kind="gear",
        sheet=sheet,
        thickness=state.face_width,
        datum=one_face(turned),
        outline=outline.contour,
        outline_title=_teeth_title(context, state, outline),
        outline_because=_teeth(context, state, outline),
        cutter_diameter_mm=cutter,
        features=turned,
        notes=tuple(notes),
    )
    return layers_of(part, gear.layers, context.design.units)


def web_room_of(context: PartContext, state: GearState) -> WebRoom:
    """Where the openings of a gear's web may lie."""
    outline = gear_outline(state.geometry, state.cutter_diameter_mm / 2.0, state.phase_rad)
    return _web_room(state, outline, gear_recesses(context, state))


def _web_room(state: GearState, outline: GearOutline, recesses: tuple[Feature, ...]) -> WebRoom:
    reach = max(map(_reach_mm, recesses), default=0.0)
    return web_room(outline.bottom_radius_mm, state.geometry.module_mm, state.hole_mm, reach)


def _bore(context: PartContext, state: GearState) -> tuple[Feature, ...]:
    if state.hole_mm <= 0.0:
        return ()
    title = f"bore for {owner_of(context, state)}, {context.size(state.hole_mm)}"
    hole = Round(0.0, 0.0, state.hole_mm)
    return (Feature("bore", "underside", None, hole, title, state.hole_because, state.cutter_diameter_mm),)


def _reach_mm(item: Feature) -> float:
    """How far a recess goes out from the axis: the corners of a hexagon are arcs."""
    if isinstance(item.shape, Round):
        return item.shape.diameter_mm / 2.0
    assert isinstance(item.shape, Contour)
    points = [(v.x, v.y) for v in item.shape.vertices]
    for piece in item.shape.segments():
        if piece.is_arc:
            x, y = piece.centre
            points.append(piece.nearest(2.0 * x, 2.0 * y))
    return max(math.hypot(x, y) for x, y in points)


def _opening(context: PartContext, state: GearState, shape: Contour | Round, room: WebRoom) -> Feature:
    assert state.gear.web is not None
    because = (
        f"rim of at least {context.length(LEAST_RIM_MM)} and 2 modules under the root, hub ring of at least 1.5 bores (common practice, no source):"
        f" {_room_words(context, room)} between them"
    )
    what = f"opening between spokes of {state.id}" if isinstance(shape, Contour) else f"opening in the web of {state.id}"
    if isinstance(shape, Round):
        what += f", {context.size(shape.diameter_mm)}"
    return Feature("opening", "underside", None, shape, what, because, state.cutter_diameter_mm, state.gear.web.origin)


def _room_words(context: PartContext, room: WebRoom) -> str:
    return length_text(max(room.width_mm, 0.0), context.design.units)


def _teeth_title(context: PartContext, state: GearState, outline: GearOutline) -> str:
    unit, module = context.design.units, state.geometry.module_mm
    # P = 25.4 / m (ISO 54 and the inch series never coincide but by declaration).
    size = f"module {length_text(module, 'mm', 4)}" if unit == "mm" else f"diametral pitch {25.4 / module:.4g} per in"
    tip, bottom = (length_text(2.0 * radius, unit) for radius in (state.geometry.reached_tip_radius_mm, outline.bottom_radius_mm))
    return f"teeth of {state.id}: {state.gear.z}, {size}, {tip} over the tips, {bottom} over the roots"


def _teeth(context: PartContext, state: GearState, outline: GearOutline) -> str:
    geometry, unit = state.geometry, context.design.units
    shift = f", profile shift {geometry.profile_shift:g}" if geometry.profile_shift else ""
    round_root = "one round in each space" if outline.full_round else "a round in each corner of the root"
    return (
        f"involute teeth, pressure angle {math.degrees(geometry.pressure_angle_rad):g} deg{shift}, thinned"
        f" {length_text(geometry.thinning_mm, unit, 3)} for backlash; the {length_text(state.cutter_diameter_mm, unit)} cutter leaves"
        f" {round_root}; one tooth at {round(math.degrees(state.phase_rad), 3) % round(360.0 / state.gear.z, 3):.3f} deg, in phase with"
        " its mates"
    )
