"""What holds every keeper: how long its screws are, how high its stand-offs, and where they stand."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Sequence

from trivet.model.base import Band
from trivet.model.board import Board
from trivet.model.design import Design
from trivet.model.hardware import Screw
from trivet.model.keeper import KeeperScrews, head_depth_mm
from trivet.record import record, replace
from trivet.solve.bolt_length import SAME_MM, drawer_mm
from trivet.solve.derived import Derived, FootState
from trivet.solve.keeper_obstacles import Obstacles
from trivet.solve.keeper_places import Plate, Point, fault_at, find_places
from trivet.solve.keeper_state import KeeperState
from trivet.solve.outline_contour import drawn
from trivet.solve.part_context import HEAD_ROOM_MM
from trivet.solve.solid import Solid
from trivet.solve.stack_pivot import THREAD_IN_WOOD, TIP_BELOW_TOPSIDE_MM
from trivet.solve.sunk import head_diameter_mm
from trivet.units import length_text

# Room of a screw in the keeper and in its stand-off, diametral, mm (common practice, no source).
PASSES_MM = 0.5
# A pilot hole over the screw's diameter, where none is stated (common practice, no source), to a tenth of a millimetre or 1/64 in.
PILOT, PILOT_STEP_MM, PILOT_STEP_INCH_MM = 0.75, 0.1, 25.4 / 64
# Heads lie so much deeper than they are high, in steps, and this much wood stays under them (half of a thinner keeper); mm (common
# practice, no source), as under the drive's head.
SUNK_MM, SUNK_STEP_MM, UNDER_HEAD_MM = 0.5, 0.5, 6.0
# Wood left over a blind pilot hole, mm (common practice, no source).
LEFT_OVER_MM = 0.5
# How many screws hold a keeper where nothing is stated and the plate has room (common practice, no source).
USUAL_COUNT = 4


@record
class _Length:
    """Of one kind of screw: recess, what it passes, and the length that fits; mm."""

    recess: float
    seat: float
    under_head: float
    least: float
    most: float
    length: float | None
    fits: bool
    stack: tuple[tuple[str, Band], ...]


def keeper_states(design: Design, derived: Derived) -> tuple[KeeperState, ...]:
    """One for each keeper whose screws are known and that hangs under a board. Cost linear in keepers, but for what stands near each."""
    held = [state for state in derived.feet if state.foot.keeper is not None and state.foot.keeper.screws is not None]
    if not held or not derived.solids:
        return ()
    obstacles = Obstacles(design, derived)
    plates = {solid.shaft: solid for solid in derived.solids[0].solids if solid.kind == "keeper"}
    sets: dict[str, list[_Tries]] = {}
    for state in held:
        if state.gear in plates:
            sets.setdefault(state.foot.name.text, []).append(_Tries(_tried(design, derived, state, plates[state.gear], obstacles)))
    chosen = {state.id: state for keepers in sets.values() for state in _alike(keepers)}
    return tuple(chosen[name] for state in held if (name := f"{state.id}.keeper") in chosen)


class _Tries:
    """One keeper with each of the screws that may hold it, worked out when asked for: mostly the first does."""

    def __init__(self, tries: Iterator[KeeperState]) -> None:
        self._tries, self.made = tries, list[KeeperState]()

    def __iter__(self) -> Iterator[KeeperState]:
        for number in itertools.count():
            if number == len(self.made):
                more = next(self._tries, None)
                if more is None:
                    return
                self.made.append(more)
            yield self.made[number]


def _alike(keepers: Sequence[_Tries]) -> Iterator[KeeperState]:
    """Of each keeper of a set what holds it: the first screw with which all of them hold, so that one size is bought; else each its own."""
    keepers = [tries for tries in keepers if next(iter(tries), None) is not None]
    for first in keepers[0] if keepers else ():
        same = [next((item for item in tries if item.screw == first.screw), None) for tries in keepers]
        whole = [item for item in same if item is not None and item.holds]
        if len(whole) == len(keepers):
            yield from whole
            return
    for tries in keepers:
        # Where nothing that is usual does: the first that finds room, or the first.
        yield next((item for item in tries if item.holds), next((item for item in tries if item.places), tries.made[0]))


def _tried(design: Design, derived: Derived, foot: FootState, solid: Solid, obstacles: Obstacles) -> Iterator[KeeperState]:
    """A keeper with each of the screws that may hold it, the usual one first; one alone where that is stated."""
    keeper = foot.foot.keeper
    assert keeper is not None and keeper.screws is not None
    screws, gear = keeper.screws, derived.train.gear(foot.gear)
    level = next(item for item in derived.boards if item.board.name.text == gear.gear.under.text)
    height = level.z_under_mm - solid.high_mm
    if height <= 0.0:
        return
    stack = [item for item in derived.train.gears if (item.shaft or item.id) == foot.gear]
    sheet = next(item for item in design.sheets if item.name.text == keeper.stock.text)
    board_edge = _edge(level.board)
    kinds = [
        (screw, stand_off, _length(design, screws, screw, sheet.thickness, height, level.thickness))
        for screw, stand_off in zip(screws.screws, screws.stand_offs, strict=True)
    ]
    for screw, stand_off, length in [item for item in kinds if item[2].fits] or kinds[:1]:
        major, over = screw.thread.major_mm, level.thickness.mean
        fitted = length.length if length.length is not None else length.least
        into = max(fitted - length.least + THREAD_IN_WOOD * major, 0.0)
        deepest = fitted - (length.most - level.thickness.least + TIP_BELOW_TOPSIDE_MM)
        depth = max(min(math.ceil(2.0 * deepest - SAME_MM) / 2.0, over - LEFT_OVER_MM), LEFT_OVER_MM)
        recess_diameter = max(head_diameter_mm(screw.head) + HEAD_ROOM_MM, gear.cutter_diameter_mm)
        plate = Plate(
            foot.x_mm, foot.y_mm, keeper.outline, board_edge, max(item.tip_radius_mm for item in stack),
            stand_off.diameter.mm / 2.0, recess_diameter / 2.0,
        )  # fmt: skip
        body = replace(
            solid, kind="stand_off", plate=None, radius_mm=plate.half_mm, low_mm=solid.low_mm, high_mm=level.z_under_mm + depth
        )
        count = int(screws.count.number) if screws.count is not None else None
        near = obstacles.near(solid, body, gear.gear.under.text, depth)
        places, lacking = find_places(plate, count, near) if not screws.places else (_stated(screws, foot), "")
        yield KeeperState(
            id=f"{foot.id}.keeper", foot=foot.id, gear=foot.gear, board=level.board.name.text,
            gears=tuple(item.id for item in stack), keeper=keeper, screws=screws, screw=screw, stand_off=stand_off,
            wanted=count or len(screws.places) or USUAL_COUNT, places=places, lacking=lacking, height_mm=height,
            recess_mm=length.recess, seat_mm=length.seat, under_head_mm=length.under_head, least_mm=length.least,
            most_mm=length.most, length_mm=length.length, fits=length.fits,
            pilot_mm=screws.drill.mm if screws.drill is not None else _pilot_mm(screw, design.units), pilot_depth_mm=depth,
            clearance_mm=major + PASSES_MM, recess_diameter_mm=recess_diameter, stack=length.stack,
            assumed=_assumed(design, screws, screw, stand_off.diameter.mm, len(places)), tip_mm=plate.tip_mm,
            in_wood_mm=into, faults=tuple(_faults(plate, near, places) if screws.places else ()),
        )  # fmt: skip


def _stated(screws: KeeperScrews, foot: FootState) -> tuple[Point, ...]:
    return tuple((foot.x_mm + step.x, foot.y_mm + step.y) for step in screws.places)


def _faults(plate: Plate, near: Callable[[Point], str], places: tuple[Point, ...]) -> Iterator[tuple[str, float]]:
    """What each stated place lacks on its own plate and by how much, or what else stands there; nothing where it is good."""
    for point in places:
        why, lacking = fault_at(plate, point)
        other = near(point)
        yield (why, lacking) if why else (other, 0.0)


def _length(design: Design, screws: KeeperScrews, screw: Screw, keeper: Band, height: float, board: Band) -> _Length:
    """The length as stated, or one that is sold; heads not stated are let in as far as that takes, no deeper than leaves wood under them."""
    head = head_depth_mm(screw.head, screw.thread.major_mm)
    cone = screw.head.form in ("countersunk", "wood")
    error = design.shop.depth_mm
    # From its own shallowest: a head that is let in too little stands out.
    shallow = head if cone else math.ceil((head + SUNK_MM) / SUNK_STEP_MM - 1e-9) * SUNK_STEP_MM
    wood = min(UNDER_HEAD_MM, keeper.least / 2.0)
    tried: list[_Length] = []
    recess = screws.recessed.mm if screws.recessed is not None else shallow
    while True:
        seat = recess - head if cone else recess
        low, high = max(seat - error, 0.0), seat + error if seat > 0.0 else 0.0
        least = keeper.most - low + height + THREAD_IN_WOOD * screw.thread.major_mm
        most = keeper.least - high + height + board.least - TIP_BELOW_TOPSIDE_MM
        under = keeper.least - recess - (error if seat > 0.0 else 0.0)
        spans = (
            ("keeper under the head", Band(keeper.mean - seat, keeper.least - high, keeper.most - low)),
            ("stand-off", Band(height, height, height)),
        )
        stated = screws.length.mm if screws.length is not None else None
        if stated is not None:
            length: float | None = stated
        else:
            length = _bought(drawer_mm(design.have, screw), least, most, screw.thread.major_mm)
            length = length or _bought(screw.stock_mm, least, most, screw.thread.major_mm)
        fits = length is not None and least - SAME_MM <= length <= most + SAME_MM
        tried.append(_Length(recess, seat, under, least, most, length, fits, spans))
        if fits:
            return tried[-1]
        recess += SUNK_STEP_MM
        if screws.recessed is not None or keeper.least - recess - error < wood - 1e-9:
            return tried[0]


def _bought(lengths: Iterable[float], least: float, most: float, major: float) -> float | None:
    """The shortest with twice the thread that must be in the wood, else the longest that fits."""
    fitting = sorted(mm for mm in lengths if least - SAME_MM <= mm <= most + SAME_MM)
    ample = [mm for mm in fitting if mm >= least + THREAD_IN_WOOD * major - SAME_MM]
    return next(iter((*ample, *fitting[-1:])), None)


def _pilot_mm(screw: Screw, unit: str) -> float:
    """A drill's size."""
    step = PILOT_STEP_INCH_MM if unit in ("in", "thou") else PILOT_STEP_MM
    wide = screw.thread.minor_mm if screw.thread.minor_mm is not None else PILOT * screw.thread.major_mm
    return round(round(wide / step) * step, 6)


def _assumed(design: Design, screws: KeeperScrews, screw: Screw, outside_mm: float, count: int) -> tuple[str, ...]:
    found = []
    if not screws.screw_stated:
        found.append(f"{count or USUAL_COUNT} screws {screw.standard} {screw.thread.designation}, their heads let in")
    elif screws.count is None and not screws.places:
        found.append(f"{count or USUAL_COUNT} screws")
    if not screws.stand_off_stated:
        found.append(f"sleeves {length_text(outside_mm, design.units)} outside")
    if not screws.places:
        found.append("places near the keeper's corners, clear of the teeth")
    return tuple(found)


def _edge(board: Board) -> tuple[tuple[float, float], ...]:
    return drawn(board.outline).translated(board.x_mm, board.y_mm).points(0.05)
