"""Holes of the feet in a board, in the world frame: inserts, guide bores, rods with their slots, and passages."""

from __future__ import annotations

import math

from trivet.model.board import Board
from trivet.model.foot import Foot, InsertUse
from trivet.model.hardware import TeeNut
from trivet.solve.contour import Contour, Vertex
from trivet.solve.derived import GearState
from trivet.solve.feature import Feature, Round
from trivet.solve.part_context import HEAD_ROOM_MM, PartContext
from trivet.solve.sunk import Seat, round_recess
from trivet.solve.thread_zone import insert_zone

# Room of a screw that passes a board it does not act on, diametral, mm (common practice, no source).
PASSAGE_MM = 1.0
# A cross pin stands out of its rod by so many of its diameters on either side; its slot is wider by so much, mm
# (common practice, no source).
PIN_OUT = 2.0
SLOT_ROOM_MM = 0.5
# Lengths nearer than this are the same, mm.
SAME_MM = 0.01


def foot_cuts(context: PartContext, board: Board) -> tuple[tuple[Feature, ...], tuple[str, ...]]:
    """All feet's cuts in one board, and notes on what found no wood."""
    found: list[Feature] = []
    notes: list[str] = []
    name = board.name.text
    for root, stack in context.stacks.items():
        state = next(item for item in stack if item.id == root)
        if state.gear.carries is None:
            continue
        foot = context.parts.feet[state.gear.carries.text]
        if foot.into.text == name:
            cuts, note = _acting(context, board, foot, state)
            found += cuts
            notes += [note] if note else []
        elif name in _passed(context, stack[0], foot):
            found.append(_passage(context, board, foot, state))
    return tuple(found), tuple(notes)


def _passed(context: PartContext, top: GearState, foot: Foot) -> tuple[str, ...]:
    """The boards between the gears and the board that the foot acts on."""
    chain = context.boards.chain(top.gear.under.text)
    return chain[: chain.index(foot.into.text)] if foot.into.text in chain else ()


def _passage(context: PartContext, board: Board, foot: Foot, state: GearState) -> Feature:
    diameter = foot.thread.major_mm + PASSAGE_MM
    because = f"{foot.thread.designation} passes with {context.length(PASSAGE_MM)} of room (common practice, no source)"
    title = f"passage for {_id(foot, state)}, {context.size(diameter)}"
    hole = Round(state.x_mm, state.y_mm, diameter)
    return Feature("bore", board.datum, None, hole, title, because, context.cutter_mm(board.cutter.text), foot.origin)


def _acting(context: PartContext, board: Board, foot: Foot, state: GearState) -> tuple[list[Feature], str]:
    if foot.insert is None:
        return [_rod_hole(context, board, foot, state)], ""
    return _insert(context, board, foot, foot.insert, state)


def _insert(context: PartContext, board: Board, foot: Foot, use: InsertUse, state: GearState) -> tuple[list[Feature], str]:
    hardware, owner, cutter = use.hardware, _id(foot, state), context.cutter_mm(board.cutter.text)
    place = context.boards.z[board.name.text]
    zone, thickness = insert_zone(use, place), place.top_mm - place.under_mm
    from_topside = use.driven_from == "topside"
    # From the face it is driven from to its driving end, and to its far end.
    sunk = place.top_mm - zone.top_mm if from_topside else zone.bottom_mm - place.under_mm
    far = place.top_mm - zone.bottom_mm if from_topside else zone.top_mm - place.under_mm
    hole = Round(state.x_mm, state.y_mm, hardware.hole_mm)
    named = "tee nut" if isinstance(hardware, TeeNut) else "insert"
    title = f"hole for the {named} of {owner}, {context.size(hardware.hole_mm)}"
    because = f"hole of the {named} as its table gives it, driven from the {use.driven_from}"
    face, depth, note = board.datum, None, ""
    found: list[Feature] = []
    if foot.guide is not None:
        room = thickness - far
        if room <= 0.0:
            note = f"no wood left for the guide bore of {owner}: its insert's hole goes through {board.name.text}"
        else:
            bore = foot.thread.major_mm + foot.guide.clearance.mm
            words = f"{foot.thread.designation} plus {context.length(foot.guide.clearance.mm)} of clearance, as stated"
            shape = Round(state.x_mm, state.y_mm, bore)
            guide = f"guide bore for {owner}, {context.size(bore)}"
            found.append(Feature("bore", board.datum, None, shape, guide, words, cutter, foot.origin))
            if room < foot.guide.length.mm - SAME_MM:
                stated = context.length(foot.guide.length.mm)
                note = (
                    f"the guide bore of {owner} is {context.length(room)} long, not {stated}: no more wood is left past its insert"
                )
            face, depth = use.driven_from, far
    found.append(Feature("bore", face, depth, hole, title, because, cutter, use.origin))
    flange = (hardware.flange_diameter_mm or 0.0, hardware.flange_thickness_mm or 0.0)
    if flange[0] > 0.0:
        seat = Seat(use.driven_from, state.x_mm, state.y_mm, thickness, cutter)
        words = f"largest diameter of the flange plus {context.length(HEAD_ROOM_MM)} of room (common practice, no source)"
        what = f"recess for the flange of {owner}"
        found += round_recess(context, seat, flange[0] + HEAD_ROOM_MM, sunk + flange[1], what, words, use.origin)
    return found, note


def _rod_hole(context: PartContext, board: Board, foot: Foot, state: GearState) -> Feature:
    """The rod's hole, with a slot across it where a cross pin keeps the rod from turning."""
    cutter, owner = context.cutter_mm(board.cutter.text), _id(foot, state)
    bore = foot.thread.major_mm + context.design.shop.bore_clearance_mm
    words = f"rod {foot.thread.designation} plus {context.length(context.design.shop.bore_clearance_mm)} bore clearance"
    if foot.rod_stop_diameter is None:
        title = f"hole for the rod of {owner}, {context.size(bore)}"
        return Feature("bore", board.datum, None, Round(state.x_mm, state.y_mm, bore), title, words, cutter, foot.origin)
    pin = foot.rod_stop_diameter.mm
    width = max(pin + SLOT_ROOM_MM, cutter)
    length = foot.thread.major_mm + 2.0 * PIN_OUT * pin + SLOT_ROOM_MM
    contour = slotted_hole(bore, length, width).translated(state.x_mm, state.y_mm)
    slot = f"slot {context.size(length)} by {context.size(width)}"
    title = f"hole for the rod of {owner}, {context.size(bore)}, with a {slot} for its pin"
    because = (
        f"{words}; pin {context.length(pin)} standing out by {PIN_OUT:g} of its diameters either side,"
        f" slot {context.length(SLOT_ROOM_MM)} wider and no narrower than the {context.length(cutter)} cutter (common practice, no source)"
    )
    return Feature("opening", board.datum, None, contour, title, because, cutter, foot.origin)


def slotted_hole(bore_mm: float, length_mm: float, width_mm: float) -> Contour:
    """A round hole with a slot across it along x, round at its ends, centred on (0, 0), mm. Plane geometry.

    Where the slot is no narrower or no longer than the hole, the hole alone or the slot alone is left.
    """
    radius, half = bore_mm / 2.0, width_mm / 2.0
    straight = length_mm / 2.0 - half
    if half >= radius:
        return Contour(
            (Vertex(-straight, -half), Vertex(straight, -half, 1.0), Vertex(straight, half), Vertex(-straight, half, 1.0))
        )
    along = math.sqrt(radius**2 - half**2)
    if straight <= along:
        return Contour((Vertex(radius, 0.0, 1.0), Vertex(-radius, 0.0, 1.0)))
    round_part = math.tan((math.pi - 2.0 * math.asin(half / radius)) / 4.0)
    return Contour(
        (
            Vertex(along, -half),
            Vertex(straight, -half, 1.0),
            Vertex(straight, half),
            Vertex(along, half, round_part),
            Vertex(-along, half),
            Vertex(-straight, half, 1.0),
            Vertex(-straight, -half),
            Vertex(-along, -half, round_part),
        )
    )


def _id(foot: Foot, state: GearState) -> str:
    return state.foot_id or f"{foot.name.text}.{state.id}"
