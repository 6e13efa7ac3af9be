"""Holes of drives and pivots in a board, in the world frame."""

from __future__ import annotations

import math

from trivet.model.board import Board
from trivet.model.hardware import TeeNut, Thread
from trivet.model.train import Drive, Pivot
from trivet.solve.bolt_length import SAME_MM
from trivet.solve.derived import GearState
from trivet.solve.feature import Feature, Round, Stroke
from trivet.solve.part_context import MARK_DEPTH_MM, PartContext
from trivet.solve.sunk import Seat, head_recess, nut_recess

# Pilot hole of a wood screw where neither `drill` nor a core diameter is known, in screw diameters (common practice, no source).
PILOT = 0.75
# Wood left over a blind pilot hole, mm (common practice, no source).
LEFT_OVER_MM = 0.5
# Length of a dial's ticks, and of the first, mm (common practice, no source).
TICK_MM, FIRST_TICK_MM = 4.0, 8.0


def fastener_cuts(context: PartContext, board: Board) -> tuple[Feature, ...]:
    """The drive's hole through its board and those above it, the head's counterbore and the dial in the uppermost; pivots' holes."""
    found: list[Feature] = []
    name = board.name.text
    for root, stack in context.stacks.items():
        state = next(item for item in stack if item.id == root)
        chain = context.boards.chain(stack[0].gear.under.text)
        if state.gear.turned_by is not None and name in chain:
            drive = context.parts.drives[state.gear.turned_by.text]
            found += _drive(context, board, drive, state, uppermost=name == chain[-1])
        elif state.gear.turns_on is not None and name == chain[0]:
            found += _pivot(context, board, context.parts.pivots[state.gear.turns_on.text], state)
    return tuple(found)


def _seat(context: PartContext, board: Board, state: GearState) -> Seat:
    thickness = context.parts.board_thickness(board.name.text).mean
    return Seat("topside", state.x_mm, state.y_mm, thickness, context.cutter_mm(board.cutter.text))


def _drive(context: PartContext, board: Board, drive: Drive, state: GearState, uppermost: bool) -> list[Feature]:
    owner, seat = f"{drive.name.text}.{state.id}", _seat(context, board, state)
    hole = Round(state.x_mm, state.y_mm, drive.hole_mm)
    title = f"hole for the drive bolt {owner}, {context.size(drive.hole_mm)}"
    because = f"clearance hole for {drive.thread.designation}, {drive.fit}{_clearance_standard(drive.thread)}"
    found = [Feature("bore", board.datum, None, hole, title, because, seat.cutter_mm, drive.origin)]
    if not uppermost:
        return found
    if drive.head_recessed is not None:
        washer = drive.washer if "head" in drive.washer_places else None
        found += head_recess(context, drive.bolt, drive.head_recessed.mm, seat, washer, owner, drive.origin)
    return found + _dial(context, board, drive, state, owner)


def _clearance_standard(thread: Thread) -> str:
    """The standard of the fits' names."""
    return {"metric": " (ISO 273)", "unified": " (ASME B18.2.8)"}.get(thread.system, "")


def _dial(context: PartContext, board: Board, drive: Drive, state: GearState, owner: str) -> list[Feature]:
    if drive.dial is None:
        return []
    count, radius = int(drive.dial.marks.number), drive.dial.diameter.mm / 2.0
    found = []
    for index in range(count):
        # The first mark points away from the maker; clockwise from there, as the head is turned to raise.
        angle = math.pi / 2.0 - 2.0 * math.pi * index / count
        inner = max(radius - (FIRST_TICK_MM if index == 0 else TICK_MM), 0.0)
        c, s = math.cos(angle), math.sin(angle)
        tick = Stroke(state.x_mm + inner * c, state.y_mm + inner * s, state.x_mm + radius * c, state.y_mm + radius * s)
        title = f"dial mark {index} of {count} round {owner}"
        because = f"1/{count} of a turn apart, on {context.length(drive.dial.diameter.mm)}"
        found.append(Feature("engrave", "topside", MARK_DEPTH_MM, tick, title, because, 0.0, drive.dial.origin))
    return found


def _pivot(context: PartContext, board: Board, pivot: Pivot, state: GearState) -> list[Feature]:
    owner, seat = f"{pivot.name.text}.{state.id}", _seat(context, board, state)
    diameter, because = _pivot_hole(context, pivot)
    depth = None if pivot.bolt or pivot.nut is not None else _pilot_depth_mm(context, board, owner, seat.thickness_mm)
    if pivot.nut is None and not pivot.bolt:
        what, because = f"pilot hole for {owner}", f"{because}; {_depth_words(board, depth)}"
    else:
        what = f"hole for {owner}"
    title = f"{what}, {context.size(diameter)}" + (", drilled" if diameter < seat.cutter_mm else "")
    hole = Round(state.x_mm, state.y_mm, diameter)
    found = [Feature("bore", board.datum, depth, hole, title, because, seat.cutter_mm, pivot.origin)]
    if pivot.nut is not None:
        found += nut_recess(context, pivot.nut, seat, None, owner)
    return found


def _pivot_hole(context: PartContext, pivot: Pivot) -> tuple[float, str]:
    thread = pivot.thread
    if pivot.nut is not None and isinstance(pivot.nut.hardware, TeeNut):
        return pivot.nut.hardware.hole_mm, f"hole for the tee nut's {thread.designation} barrel"
    if pivot.drill is not None:
        return pivot.drill.mm, "stated as `drill`"
    if pivot.bolt or pivot.nut is not None:
        clearance = context.design.shop.bore_clearance_mm
        words = f"{thread.designation} thread plus {context.length(clearance)} bore clearance"
        return thread.major_mm + clearance, words
    if thread.minor_mm is not None:
        return thread.minor_mm, f"core diameter of {thread.designation}"
    return PILOT * thread.major_mm, f"{PILOT:g} of the diameter of {thread.designation} (common practice, no source)"


def _pilot_depth_mm(context: PartContext, board: Board, owner: str, thickness: float) -> float | None:
    """How far the screw reaches into the board with the thinnest stack under it, up to the next half millimetre.

    None (through) where the board's datum is its topside: the hole belongs to the face that everything in mesh is cut from.
    """
    if board.datum == "topside":
        return None
    choice = context.bolts.get(owner)
    length = None
    if choice is not None:
        length = choice.stated_mm if choice.stated_mm is not None else choice.cut_to_mm or choice.buy_mm
    if choice is None or length is None:
        return thickness - LEFT_OVER_MM
    under = sum(band.least for name, band in choice.stack if name != "thread in the wood")
    return max(min(math.ceil(2.0 * (length - under) - SAME_MM) / 2.0, thickness - LEFT_OVER_MM), LEFT_OVER_MM)


def _depth_words(board: Board, depth: float | None) -> str:
    return "through, since the topside is the datum face" if depth is None else "as deep as the screw can reach"
