"""One combination of thin and thick sheets, shallow and deep pockets, low and high heads."""

from __future__ import annotations

import itertools

from trivet.model.base import Band
from trivet.model.hardware import Head, Washer
from trivet.record import record


@record
class Corner:
    """Signs: -1 least, 0 mean or nominal, +1 most. `depth` +1 is deeper. Boards vary together, and so do gears with their keepers.

    Wherever a sheet is not at its mean, play, washers and tilt are taken against the stroke as well.
    """

    board: int = 0
    gear: int = 0
    depth: int = 0
    head: int = 0

    @property
    def worst(self) -> bool:
        """Whether tolerances other than the sheets' count too."""
        return self.board != 0

    @property
    def sheets(self) -> Corner:
        """The same sheets with everything else nominal."""
        return Corner(self.board, self.gear)


MEAN = Corner()


def sheet_corners() -> tuple[Corner, ...]:
    """Thin and thick boards with thin and thick gears: four."""
    return tuple(Corner(board, gear) for board, gear in itertools.product((-1, 1), repeat=2))


def corners() -> tuple[Corner, ...]:
    """All sixteen combinations of extremes."""
    return tuple(Corner(*signs) for signs in itertools.product((-1, 1), repeat=4))


def pick(band: Band, sign: int) -> float:
    """The least, mean or most of a band, mm."""
    return band.least if sign < 0 else band.most if sign > 0 else band.mean


def head_height_mm(head: Head, sign: int) -> float:
    """Height of a head, mm; a lower limit that no table has is taken as far below the nominal as the upper is above it."""
    if sign < 0 and head.height_min_mm is not None:
        return head.height_min_mm
    spread = max(head.height_max_mm - head.height_mm, 0.0)
    return head.height_mm + sign * spread


def washer_mm(washer: Washer, sign: int) -> float:
    """Thickness of a washer, mm."""
    if sign == 0:
        return washer.thickness_mm
    return washer.thickness_max_mm if sign > 0 else washer.thickness_min_mm
