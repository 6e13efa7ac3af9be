"""Holes for what holds the keepers: pilots in the board, holes and recesses in the keeper, and stand-offs cut from the gears' sheets."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.model.board import Board
from trivet.solve.contour_shapes import circle
from trivet.solve.feature import Feature, Round
from trivet.solve.keeper_state import KeeperState
from trivet.solve.part_context import HEAD_ROOM_MM, PartContext
from trivet.solve.part_features import PartFeatures
from trivet.solve.sunk import Seat, cone_words, round_recess

# How titles of these holes begin.
PILOT, PASSAGE, SINK = "pilot hole for the screw", "hole for the screw", "recess for the head of"


def keeper_pilots(context: PartContext, board: Board) -> tuple[Feature, ...]:
    """Blind holes in the underside, in the world frame, as deep as the screws reach; drilled where the cutter is too wide."""
    cutter = context.cutter_mm(board.cutter.text)
    found = []
    for held in context.derived.keepers:
        if held.board != board.name.text:
            continue
        size = f"{context.size(held.pilot_mm)}{_drilled(held.pilot_mm, cutter)}"
        source = "as stated" if held.screws.drill is not None else "three quarters of it (common practice, no source)"
        words = f"{held.screw.thread.designation}: {source}; as deep as the screw can reach"
        origin = held.screws.origin or held.keeper.origin
        for number, (x, y) in enumerate(held.places, start=1):
            hole, title = Round(x, y, held.pilot_mm), f"{PILOT} {held.id}.{number}, {size}"
            found.append(Feature("bore", "underside", held.pilot_depth_mm, hole, title, words, cutter, origin, True))
    return tuple(found)


def keeper_holes(context: PartContext, held: KeeperState, cutter: float, thickness: float) -> Iterator[Feature]:
    """Holes that the screws pass and recesses for their heads, in the keeper's own frame."""
    origin = held.screws.origin or held.keeper.origin
    size = f"{context.size(held.clearance_mm)}{_drilled(held.clearance_mm, cutter)}"
    words = f"{held.screw.thread.designation} passes with 0.5 mm of room (common practice, no source)"
    foot = next(item for item in context.derived.feet if item.id == held.foot)
    head = held.screw.head
    if head.form != "pan":
        size += f", countersunk with {cone_words(context, head)}"
    for number, (x, y) in enumerate(held.places, start=1):
        dx, dy = x - foot.x_mm, y - foot.y_mm
        title = f"{PASSAGE} {held.id}.{number}, {size}"
        yield Feature("bore", "underside", None, Round(dx, dy, held.clearance_mm), title, words, cutter, origin, True)
        seat = Seat("underside", dx, dy, thickness, cutter)
        what = f"{SINK} {held.id}.{number}"
        room = f"largest diameter of the head plus {context.length(HEAD_ROOM_MM)}, no narrower than the cutter (common practice, no source)"
        yield from round_recess(context, seat, held.recess_diameter_mm, held.seat_mm, what, room, origin)


def stand_off_parts(context: PartContext, held: KeeperState) -> Iterator[PartFeatures]:
    """Discs of the sheets that the gears are cut from: one for each layer of each gear, for each screw; shims make up the rest."""
    if held.stand_off.form != "wood" or not held.places:
        return
    sheets: dict[str, int] = {}
    cutters: dict[str, float] = {}
    for name in held.gears:
        gear = context.states[name].gear
        sheets[gear.stock.text] = sheets.get(gear.stock.text, 0) + gear.layers
        cutters.setdefault(gear.stock.text, context.states[name].cutter_diameter_mm)
    wide, hole = held.stand_off.diameter.mm, held.clearance_mm
    for index, (stock, layers) in enumerate(sheets.items()):
        sheet, cutter = context.parts.sheets[stock], cutters[stock]
        part = held.id.removesuffix("keeper") + "stand_off" + (f"_{index + 1}" if index else "")
        title = f"{PASSAGE} {held.id}, {context.size(hole)}{_drilled(hole, cutter)}"
        words = f"{held.screw.thread.designation} passes with 0.5 mm of room (common practice, no source)"
        bore = Feature("bore", "topside", None, Round(0.0, 0.0, hole), title, words, cutter, held.stand_off.origin, True)
        yield PartFeatures(
            part=part,
            kind="spacer",
            sheet=sheet,
            thickness=sheet.thickness,
            datum="topside",
            outline=circle(0.0, 0.0, wide / 2.0),
            outline_title=f"edge of a stand-off of {held.id}, circle {context.length(wide)}",
            outline_because="as stated",
            cutter_diameter_mm=cutter,
            features=(bore,),
            quantity=len(held.places) * layers,
            grain=None,
            notes=(f"stacked with shims to {context.length(held.height_mm)}, whatever the sheets measure",),
        )


def _drilled(diameter: float, cutter: float) -> str:
    return ", drilled" if diameter < cutter else ""
