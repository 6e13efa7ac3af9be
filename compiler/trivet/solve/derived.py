"""Everything that follows from a design: frozen records, each number with its because. Lengths in mm, angles in radians unless said."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from trivet.model.base import Band
from trivet.model.board import Board
from trivet.model.foot import Foot
from trivet.model.train import Drive, Pivot
from trivet.record import record
from trivet.solve.derived_train import (
    Backlash,
    Because,
    GearState,
    LoopState,
    MeshState,
    PlacementFault,
    SpeedConflict,
    Train,
)
from trivet.source import Origin

if TYPE_CHECKING:
    from trivet.solve.keeper_state import KeeperState
    from trivet.solve.part_features import PartFeatures
    from trivet.solve.shaft_joints import ShaftJoint
    from trivet.solve.solid import SolidSet

__all__ = [
    "Backlash", "Because", "BoardLevel", "BoltChoice", "Derived", "DriveState", "FootState", "GearState", "Lift", "Limit",
    "LoopState", "MeshState", "PivotState", "PlacementFault", "SpeedConflict", "Train",
]  # fmt: skip


@record
class Limit:
    """A bound of the stroke. `extension_mm` at mean sheets, `extension_worst_mm` over sheets, depths and play.

    `hard` limits bound travel to parting; the others the comfortable travel. `cause` is a slug-like key (`teeth_part`, `tip_through`,
    `thread_leaves_insert`, `washers`, `bench_idler`, `shank_in_insert`, `hex_leaves_socket`, `keeper`, `blind_insert`, `tilted_rim` …); `sentence`
    says it to a maker. `then`: what happens beyond it and what restores it. `remedies`: (what to change, mm of travel it gives), most useful first.
    """

    end: Literal["least", "most"]
    cause: str
    sentence: str
    extension_mm: float
    extension_worst_mm: float
    parts: tuple[str, ...]
    hard: bool
    then: str = ""
    remedies: tuple[tuple[str, float], ...] = ()
    origin: Origin | None = None
    because: Because | None = None


@record
class FootState:
    """One foot. Rise per clockwise drive turn is signed: positive raises the board. Extensions: the board's stroke is the overlap of all feet's.

    `height_at_zero_mm`: board height H at extension 0 at mean sheets (H grows by the extension). `touches`: what stands on the bench.
    `engagement`: thread in the live zone (mm) at least and most extension. `other_way_travel_mm`: the board's travel with this set's inserts
    driven from the other face. `pocket_mm`: the head's or nut's pocket as used; `keeper_z_mm`: the keeper's underside; `insert_z_mm`,
    `live_z_mm`: the ends of the insert (or nut) and of its live thread, at mean sheets.
    """

    id: str
    foot: Foot
    gear: str
    x_mm: float
    y_mm: float
    lead_mm: float
    rise_per_turn_mm: Fraction | None
    limits: tuple[Limit, ...]
    height_at_zero_mm: float
    height_at_zero: Band
    proud_mm: float
    touches: Literal["pad", "head", "gear"]
    screw_length_mm: float | None
    threaded_mm: float | None
    engagement_at_least_mm: float
    engagement_at_most_mm: float
    zero_step_mm: float
    zero_clockings: int
    other_way_travel_mm: float | None = None
    because: tuple[Because, ...] = ()
    pocket_mm: float | None = None
    keeper_z_mm: float | None = None
    insert_z_mm: tuple[float, float] | None = None
    live_z_mm: tuple[float, float] | None = None


@record
class Lift:
    """The board's stroke: comfortable unless said, at mean sheets unless said. None where no stroke can be computed.

    `least_mm`, `most_mm`: extension of the first foot; they cross where no travel is left. `height_every_sheet`: heights that every
    combination of sheets reaches. `riser_mm`: riser to put under a workpiece too thin. `workpieces`: (name, thinnest, thickest matched
    flush, sentence); 0, 0 where none is. `foot_blocks`: how many under each foot for its tallest, None where the travel is too short.
    """

    per_turn_mm: float
    raises_when: Literal["clockwise", "anticlockwise"]
    least_mm: float
    most_mm: float
    travel_mm: float
    travel_worst_mm: float
    travel_to_parting_mm: float
    turns_for_travel: float
    height_min_mm: float
    height_max_mm: float
    height_every_sheet: tuple[float, float]
    limits: tuple[Limit, ...]
    beyond_least: str
    beyond_most: str
    riser_mm: tuple[tuple[str, float], ...] = ()
    workpieces: tuple[tuple[str, float, float, str], ...] = ()
    because: tuple[Because, ...] = ()
    foot_blocks: tuple[tuple[str, int | None], ...] = ()


@record
class BoltChoice:
    """A bolt or screw that is bought. Lengths under the head. `cut_to_mm` where no stock length fits; `fits` False where nothing does.

    `longest_stack`: least length that holds in every combination; `room`: greatest length that fits in every combination. `remedy` says
    which recess or play would let a stock length do.
    """

    part: str
    of: Drive | Pivot | Foot
    standard: str
    designation: str
    least_mm: float
    most_mm: float
    stock_mm: tuple[float, ...]
    buy_mm: float | None
    cut_to_mm: float | None
    stated_mm: float | None
    fits: bool
    stack: tuple[tuple[str, Band], ...]
    room_ends_at: str
    remedy: str = ""
    because: Because | None = None


@record
class PivotState:
    """One idler's pivot: axial play over sheets and washers (mm), sleeve length, lowest point, droop, and the gears' swelling."""

    id: str
    pivot: Pivot
    gear: str
    play: Band
    sleeve_length_mm: float | None
    z_low_mm: float
    z_low_worst_mm: float
    droop_mm: float
    swelling_mm: float
    because: tuple[Because, ...] = ()


@record
class DriveState:
    """The drive: its stack, lowest point and play; how far its gear's rim droops."""

    id: str
    drive: Drive
    gear: str
    play_mm: float
    z_low_mm: float
    z_low_worst_mm: float
    remaining_under_head_mm: float
    droop_mm: float
    because: tuple[Because, ...] = ()


@record
class BoardLevel:
    """A board's place in height: z of its underside at mean sheets, and its thickness."""

    board: Board
    z_under_mm: float
    thickness: Band


@record
class Derived:
    """All of it. `lift` is None where feet, drive or a stroke are missing; checks say why. `parts`: every part as it is cut; `solids`:
    every body under and in the boards, at mean sheets first and then at each extreme. `try_changes`: whether checks may solve anew
    to see what would help, which costs more than all else. `climbers`: idlers that ride a thread, which stand on nothing; their
    engagement is that at the ends of the travel. `keepers`: what holds each keeper;
    `joints`: what joins the gears of each shaft.
    """

    train: Train
    boards: tuple[BoardLevel, ...]
    feet: tuple[FootState, ...]
    pivots: tuple[PivotState, ...]
    drives: tuple[DriveState, ...]
    bolts: tuple[BoltChoice, ...]
    lift: Lift | None
    low_point_mm: float
    low_point_part: str
    rise_differs: tuple[tuple[str, Fraction | None], ...] = ()
    parts: tuple[PartFeatures, ...] = ()
    solids: tuple[SolidSet, ...] = ()
    try_changes: bool = True
    climbers: tuple[FootState, ...] = ()
    keepers: tuple[KeeperState, ...] = ()
    joints: tuple[ShaftJoint, ...] = ()
