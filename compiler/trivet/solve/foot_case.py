"""One foot at one combination of sheets and depths: where its faces are at no extension, and what bounds its stroke."""

from __future__ import annotations

from typing import Literal

from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.record import field, record
from trivet.solve.board_levels import Boards
from trivet.solve.corner import Corner
from trivet.solve.derived import GearState
from trivet.solve.fixed_gear import FixedGear
from trivet.solve.thread_zone import ThreadZone, needed_engagement_mm

# The tip stays this far below the topside, mm (common practice, no source).
TIP_BELOW_MM = 0.5
# Axial play of a gear between board and keeper, mm (common practice, no source).
KEEPER_PLAY_MM = 0.3
End = Literal["least", "most"]


@record
class LowPoint:
    """The lowest point of what does not move with the feet: z in mm, the part, and the key of the limit it causes."""

    z_mm: float
    part: str
    cause: str


@record
class World:
    """Everything fixed at one combination of sheets. `neighbours`: gear to (mesh, other gear). `states`: gears by id. `climbers`:
    idlers that ride a thread.
    """

    design: Design
    corner: Corner
    boards: Boards
    drops: dict[int, float]
    fixed: dict[str, FixedGear]
    neighbours: dict[str, tuple[tuple[str, str], ...]]
    states: dict[str, GearState]
    keepers: dict[str, float] = field(default_factory=dict)
    low: LowPoint | None = None
    climbers: tuple[FootSpec, ...] = ()


@record
class FootSpec:
    """What is chosen about one foot; remedies change it. `stack`: the gears of its axis from the top. Lengths mm."""

    id: str
    foot: Foot
    gear: GearState
    stack: tuple[GearState, ...]
    length_mm: float
    pocket_mm: float
    drop_mm: float
    other_way: bool = False

    @property
    def complete(self) -> bool:
        """Whether the facts that a stroke of its kind needs are there; a keeper left out counts as one without thickness."""
        foot = self.foot
        holds = foot.nut is not None if foot.kind == "captured_nut" else foot.insert is not None and foot.screw is not None
        return holds and self.length_mm > 0.0 and (foot.kind != "sliding_hex" or foot.socket_depth is not None)

    @property
    def threaded_mm(self) -> float:
        """Threaded length: a rod's is its whole length."""
        if self.foot.screw is None:
            return self.length_mm
        return self.foot.screw.threaded.threaded_mm(self.foot.thread.major_mm, self.length_mm)


@record
class Bound:
    """An extension that the foot must not pass. `amount_mm`: the margin that counts (overlap, engagement, …); `party`: the other part;
    `gear`: the climbing gear whose limit it is.
    """

    end: End
    cause: str
    at_mm: float
    hard: bool
    party: str = ""
    amount_mm: float = 0.0
    gear: str = ""


@record
class FootCase:
    """z at extension 0, mm: `bearing_mm` of the head (or rod's end), `plane_mm` of what stands on the bench. Extension lowers both."""

    bearing_mm: float
    plane_mm: float
    zone: ThreadZone | None
    bounds: tuple[Bound, ...]
    work_mm: float

    @property
    def height_at_zero_mm(self) -> float:
        """Height of the work surface above the bench at extension 0."""
        return self.work_mm - self.plane_mm


def tip_bound(spec: FootSpec, bearing_mm: float, ceiling_mm: float, face: str, board: str) -> Bound:
    """The tip stays 0.5 mm below the topside: e >= bearing + L − ceiling + 0.5."""
    at = bearing_mm + spec.length_mm - ceiling_mm + TIP_BELOW_MM
    return Bound("least", "tip_through" if face == "topside" else "tip_meets_board", at, True, board, TIP_BELOW_MM)


def bench_bound(plane_mm: float, low: LowPoint | None) -> tuple[Bound, ...]:
    """Nothing else touches the bench before the foot does: e >= plane − z_low."""
    return () if low is None else (Bound("least", "bench", plane_mm - low.z_mm, True, low.part),)


def shank_bound(spec: FootSpec, bearing_mm: float, zone: ThreadZone, cause: str) -> Bound:
    """The plain shank stays below the live thread: e >= bearing + L − b − live low end."""
    shank = spec.length_mm - spec.threaded_mm
    return Bound("least", cause, bearing_mm + shank - zone.low_mm, True, spec.foot.name.text, shank)


def insert_bounds(spec: FootSpec, bearing_mm: float, zone: ThreadZone) -> tuple[Bound, ...]:
    """Engagement in an insert: comfortable min(1.0 d, live thread); hard one pitch, the last turn before the screw drops out."""
    tip = bearing_mm + spec.length_mm
    need = needed_engagement_mm(spec.foot.thread.major_mm, zone.live_mm)
    last = min(spec.foot.thread.pitch_mm, need)
    return (
        shank_bound(spec, bearing_mm, zone, "shank_in_insert"),
        Bound("most", "thread_leaves_insert", tip - zone.low_mm - need, False, spec.foot.name.text, need),
        Bound("most", "thread_leaves_insert", tip - zone.low_mm - last, True, spec.foot.name.text, last),
    )
