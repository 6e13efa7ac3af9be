"""Cuts about one axis that are made from opposite faces of a part, and the room of what passes both. Lengths in mm."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.model.board import Face
from trivet.model.design import Design
from trivet.model.hardware import Insert, TeeNut
from trivet.model.train import Drive, DriveNut
from trivet.record import record
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived, FootState, GearState
from trivet.solve.feature import Feature, Round
from trivet.solve.nest_registration import SLIDE_MM
from trivet.solve.part_features import PartFeatures
from trivet.solve.sunk import head_diameter_mm
from trivet.solve.sway import THREAD_PLAY_MM
from trivet.source import Origin

# Cuts whose middles are nearer than this share an axis, mm.
_SAME_MM = 1e-4


@record
class Split:
    """`hole` and `recess` of `part` are cut from opposite faces; `what` goes through both with `room_mm` to either side in all.

    `wander_mm`: how far the second face may lie off the first. `guide`: the hole is a guide bore and the other the insert's.
    """

    part: PartFeatures
    owner: str
    what: str
    hole: Feature
    recess: Feature
    room_mm: float
    wander_mm: float
    guide: bool
    origin: Origin | None


def flip_wander_mm(hole_position_mm: float) -> float:
    """How far cuts of a second face may lie off those of the first: a flip doubles what the machine is off, and the index dowels' fit
    comes on top. Dowels stand far apart, so that the fit turns a sheet by little more than it shifts it; that little is left out.
    """
    return 2.0 * hole_position_mm + SLIDE_MM / 2.0


def split_faces(design: Design, derived: Derived) -> Iterator[Split]:
    """Heads, nuts, flanges and guide bores whose cuts come from both faces; where what passes is known from the file."""
    parts: dict[str, list[PartFeatures]] = {}
    for part in derived.parts:
        if part.faces != (part.datum,):
            parts.setdefault(part.belongs_to or part.part, []).append(part)
    if not parts:
        return
    wander = _Wander(design)
    boards = {item.board.name.text: item for item in derived.boards}
    for owner, body, x, y, what, shank, wide, guide, origin in _held(design, derived):
        board = boards.get(body)
        at = (x - board.board.x_mm, y - board.board.y_mm) if board is not None else (0.0, 0.0)
        for part in parts.get(body, ()):
            pair = _pair(part, at, shank, wide)
            if pair is not None:
                hole, recess = pair
                room = _half_mm(hole, at) - shank / 2.0 + _half_mm(recess, at) - wide / 2.0
                if guide:
                    room = _half_mm(hole, at) - shank / 2.0 + THREAD_PLAY_MM / 2.0
                yield Split(part, owner, what, hole, recess, room, wander.of(body), guide, origin)


_Held = tuple[str, str, float, float, str, float, float, bool, Origin | None]
"""Owner, part, axis in the world, what is let in, shank's diameter, the wider thing's diameter, whether it is a guide, place."""


def _held(design: Design, derived: Derived) -> Iterator[_Held]:
    states = {state.id: state for state in derived.train.gears}
    by_drive = {item.name.text: item for item in design.drives}
    for turned in derived.drives:
        state, drive = states[turned.gear], by_drive[turned.drive.name.text]
        yield from _of_drive(derived, turned.id, state, drive)
    for pivot in derived.pivots:
        state = states[pivot.gear]
        nut = pivot.pivot.nut
        if nut is not None and not isinstance(nut.hardware, TeeNut):
            found = ("the nut", pivot.pivot.thread.major_mm, nut.hardware.across_flats_mm, False, nut.origin)
            yield (pivot.id, state.gear.under.text, state.x_mm, state.y_mm, *found)
    for foot in (*derived.feet, *derived.climbers):
        yield from _of_foot(foot)


def _of_drive(derived: Derived, owner: str, state: GearState, drive: Drive) -> Iterator[_Held]:
    over = (item for item in derived.boards if _over(item.board.name.text, state, derived))
    top = max(over, key=lambda item: item.z_under_mm, default=None)
    head, thread = drive.bolt.head, drive.thread.major_mm
    if top is not None and drive.head_recessed is not None and head.form != "countersunk":
        washer = drive.washer if "head" in drive.washer_places else None
        shank, wide = thread, head_diameter_mm(head)
        if washer is not None and washer.outside_mm > wide:
            # The washer shifts on the bolt too.
            shank, wide = thread - (washer.inside_mm - thread), washer.outside_mm
        yield owner, top.board.name.text, state.x_mm, state.y_mm, "the head", shank, wide, False, drive.origin
    for nut in (drive.nut, drive.jam_nut):
        if nut is not None and nut.recessed is not None:
            yield owner, state.id, state.x_mm, state.y_mm, "the nut", *_nut(nut, thread), False, nut.origin


def _nut(nut: DriveNut, thread_mm: float) -> tuple[float, float]:
    """What passes the gear's bore, and how wide the nut is where the recess holds it."""
    if isinstance(nut.hardware, TeeNut):
        return nut.hardware.barrel_diameter_mm, nut.hardware.flange_diameter_mm
    flats = nut.hardware.across_flats_mm
    return thread_mm, flats if nut.round is None else nut.hardware.across_corners_mm or flats * 2.0 / math.sqrt(3.0)


def _of_foot(foot: FootState) -> Iterator[_Held]:
    use, board = foot.foot.insert, foot.foot.into.text
    if use is None:
        return
    insert = isinstance(use.hardware, Insert)
    body = use.hardware.hole_mm
    if foot.foot.guide is not None:
        yield foot.id, board, foot.x_mm, foot.y_mm, "the screw", foot.foot.thread.major_mm, body, True, use.origin
    elif use.hardware.flange_diameter_mm:
        what = "the insert's flange" if insert else "the tee nut's flange"
        yield foot.id, board, foot.x_mm, foot.y_mm, what, body, use.hardware.flange_diameter_mm, False, use.origin


def _over(board: str, state: GearState, derived: Derived) -> bool:
    """Whether the drive's bolt goes through a board: its gear's own, or one above it."""
    levels = {item.board.name.text: item.z_under_mm for item in derived.boards}
    return levels[board] >= levels[state.gear.under.text]


def _pair(part: PartFeatures, at: tuple[float, float], shank_mm: float, wide_mm: float) -> tuple[Feature, Feature] | None:
    """The narrowest hole about an axis that lets the shank in, and the narrowest cut from the other face that takes the wider thing."""
    here = [item for item in part.features if _about(item, at)]
    holes = [item for item in here if item.operation in ("bore", "opening") and _half_mm(item, at) >= shank_mm / 2.0 - _SAME_MM]
    hole = min(holes, key=lambda item: _half_mm(item, at), default=None)
    if hole is None:
        return None
    face = _face(part, hole)
    others = [item for item in here if item is not hole and _face(part, item) != face]
    recess = min((item for item in others if _half_mm(item, at) >= wide_mm / 2.0 - _SAME_MM), key=lambda item: _half_mm(item, at), default=None)
    return (hole, recess) if recess is not None else None


def _face(part: PartFeatures, item: Feature) -> Face:
    return part.datum if item.through else item.face


def _about(item: Feature, at: tuple[float, float]) -> bool:
    if item.operation == "engrave":
        return False
    if isinstance(item.shape, Round):
        return math.hypot(item.shape.x_mm - at[0], item.shape.y_mm - at[1]) < _SAME_MM
    if item.operation != "pocket" or not isinstance(item.shape, Contour):
        return False
    x0, y0, x1, y1 = item.shape.bounds
    return math.hypot((x0 + x1) / 2.0 - at[0], (y0 + y1) / 2.0 - at[1]) < _SAME_MM


def _half_mm(item: Feature, at: tuple[float, float]) -> float:
    """From the axis to the nearest side of a cut."""
    if isinstance(item.shape, Round):
        return item.shape.diameter_mm / 2.0
    assert isinstance(item.shape, Contour)
    return min(math.hypot(x - at[0], y - at[1]) for edge in item.shape.segments() for x, y in (edge.nearest(*at),))


class _Wander:
    """How far the second face of a part may lie off, by the machine that cuts it or by the shop."""

    def __init__(self, design: Design) -> None:
        self._shop = design.shop.hole_position_mm
        stated = {item.name.text: item.hole_position.mm for item in design.machines if item.hole_position is not None}
        named = [(board.name.text, board.machine) for board in design.boards]
        named += [(gear.name.text, gear.machine) for gear in design.gears]
        self._own = {part: stated[by.text] for part, by in named if by is not None and by.text in stated}

    def of(self, part: str) -> float:
        """By the part's name."""
        return flip_wander_mm(self._own.get(part, self._shop))
