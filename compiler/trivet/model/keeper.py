"""What holds a keeper to its board: screws, and the stand-offs that they pass beside the gear."""

from __future__ import annotations

from typing import Literal

from trivet.model.base import Count, From, NonNegativeLength, Noun, Point, PositiveLength
from trivet.model.hardware import Head, Screw


class StandOff(Noun):
    """What stands between keeper and board round a screw: a `sleeve`, or discs of `wood` from the gears' sheets; its outside diameter."""

    form: Literal["sleeve", "wood"]
    diameter: PositiveLength
    origin: From = None


class KeeperScrews(Noun):
    """Wood screws from below through keeper and stand-offs into the board.

    `screws`: the stated one, or the usual ones, of which the first that finds room is taken; `stand_offs`: one for each of them.
    `count` None: four, or as many as find room. `places`: steps from the gear's axis, mm; where none is stated they follow.
    """

    screws: tuple[Screw, ...]
    stand_offs: tuple[StandOff, ...]
    screw_stated: bool = False
    stand_off_stated: bool = False
    count: Count | None = None
    length: PositiveLength | None = None
    recessed: NonNegativeLength | None = None
    drill: PositiveLength | None = None
    places: tuple[Point, ...] = ()
    origin: From = None


def head_depth_mm(head: Head, major_mm: float) -> float:
    """How deep a head must lie so that nothing of it stands out, mm; a wood screw's cone of no known height is taken at 90 deg."""
    return head.height_max_mm or max(head.diameter_mm - major_mm, 0.0) / 2.0
