"""Bodies under and in a board as upright discs and plates: what a gear may strike, and what has to be put in its place."""

from __future__ import annotations

from typing import Literal

from trivet.record import field, record
from trivet.solve.contour import Contour
from trivet.source import Origin

SolidKind = Literal[
    "gear", "head", "pad", "nut", "flange", "washer", "shank", "bolt_end", "insert", "keeper", "rod", "sleeve", "barrel", "magnet",
    "stand_off", "keeper_screw",
]  # fmt: skip


@record
class Solid:
    """An upright disc, or a plate where `plate` is given (in the world frame); places and radii in mm.

    `part`: id of what it belongs to (a gear, `pin.west`, `corner.nw`, `corner.nw.keeper`); `shaft`: the gear whose drive, pivot or
    foot all parts on its axis belong to. `low_mm`, `high_mm`: z at the least extension; where it `moves` it goes down with the feet.
    `metal` is False for gears and keepers, and for stand-offs, whose screws count. Stand-offs and screws of keepers stand beside the axis.
    """

    kind: SolidKind
    part: str
    shaft: str
    x_mm: float
    y_mm: float
    radius_mm: float
    low_mm: float
    high_mm: float
    moves: bool = False
    plate: Contour | None = None
    origin: Origin | None = field(default=None, compare=False)

    @property
    def metal(self) -> bool:
        """Whether it is metal: gears and keepers are wood, and stand-offs may be."""
        return self.kind not in ("gear", "keeper", "stand_off")

    def reach(self, travel_mm: float) -> tuple[float, float]:
        """From where to where it is at some height of the travel, z."""
        return (self.low_mm - travel_mm if self.moves else self.low_mm), self.high_mm


@record
class SolidSet:
    """All solids at one combination of sheets: signs of boards and gears (0, 0 is the mean), and the travel there, mm.

    `stroke` is False where no stroke is known: feet then stand at no extension and travel is 0.
    """

    board: int
    gear: int
    solids: tuple[Solid, ...]
    travel_mm: float
    stroke: bool


def share_height(one: Solid, other: Solid, travel_mm: float) -> float:
    """The most height (mm) that two solids share at some place of the travel; negative when apart. Those that move, move alike."""
    if one.moves == other.moves:
        return min(one.high_mm, other.high_mm) - max(one.low_mm, other.low_mm)
    (low, high), (under, over) = one.reach(travel_mm), other.reach(travel_mm)
    thinner = min(one.high_mm - one.low_mm, other.high_mm - other.low_mm)
    return min(min(high, over) - max(low, under), thinner)
