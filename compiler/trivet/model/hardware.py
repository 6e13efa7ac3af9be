"""Rows of hardware as the mechanism needs them: lengths in mm, each with the row it came from."""

from __future__ import annotations

from typing import Literal

from trivet.model.base import Band
from trivet.record import field, record
from trivet.source import Origin


@record
class Thread:
    """A screw thread. `lead_mm` is pitch times starts; `hand` is +1 right, -1 left. `standard_system` is metric, unified or tapping."""

    designation: str
    major_mm: float
    pitch_mm: float
    lead_mm: float
    system: Literal["metric", "unified", "tapping"]
    hand: Literal[1, -1] = 1
    pitch_diameter_mm: float | None = None
    minor_mm: float | None = None
    origin: Origin | None = field(default=None, compare=False)


@record
class Head:
    """A screw head. Hexagon: `across_flats_mm` and `across_corners_mm` (least, as the standard gives it); round: `diameter_mm` (largest).

    `height_mm` is nominal, `height_max_mm` its upper limit, `height_min_mm` the lower one where a table
    has it; a countersunk head's height is measured within the length, `angle_deg` is that of its cone.
    """

    form: Literal["hexagon", "socket", "pan", "countersunk", "button", "wood"]
    diameter_mm: float
    height_mm: float
    height_max_mm: float
    across_flats_mm: float | None = None
    across_corners_mm: float | None = None
    key: str = ""
    height_min_mm: float | None = None
    origin: Origin | None = field(default=None, compare=False)
    angle_deg: float | None = None


@record
class ThreadLength:
    """How much of a screw is threaded: all of it, or factor·d plus an allowance that grows with the length (to 125, to 200, above), mm.

    `first_to_mm`: the length to which the first allowance holds, 125 mm but in inch standards.
    """

    full: bool
    factor: float = 2.0
    to_125_mm: float = 6.0
    to_200_mm: float = 12.0
    above_mm: float = 25.0
    origin: Origin | None = field(default=None, compare=False)
    first_to_mm: float = 125.0

    def threaded_mm(self, major_mm: float, length_mm: float) -> float:
        """Threaded length b of a screw of `length_mm` under the head; never more than the length."""
        if self.full:
            return length_mm
        extra = self.to_125_mm if length_mm <= self.first_to_mm else self.to_200_mm if length_mm <= 200 else self.above_mm
        return min(length_mm, self.factor * major_mm + extra)


@record
class Screw:
    """A screw or bolt by standard and thread, with its head, how it is threaded, and the lengths that are sold (mm, ascending).

    `counterbore_mm` is the counterbore's diameter where a table has one for this head.
    """

    standard: str
    thread: Thread
    head: Head
    threaded: ThreadLength
    stock_mm: tuple[float, ...]
    product: str = ""
    stock_origin: Origin | None = field(default=None, compare=False)
    counterbore_mm: float | None = None
    counterbore_origin: Origin | None = field(default=None, compare=False)
    origin: Origin | None = field(default=None, compare=False)


@record
class Nut:
    """A hexagon nut."""

    standard: str
    thread: Thread
    across_flats_mm: float
    across_corners_mm: float | None
    height_mm: float
    height_min_mm: float | None = None
    origin: Origin | None = field(default=None, compare=False)


@record
class TeeNut:
    """A tee nut: a flange that bears on wood and a threaded barrel in a hole. Trade type: no dimension standard."""

    thread: Thread
    flange_diameter_mm: float
    flange_thickness_mm: float
    barrel_diameter_mm: float
    barrel_length_mm: float
    height_mm: float
    hole_mm: float
    origin: Origin | None = field(default=None, compare=False)


@record
class Washer:
    """A flat washer: largest thickness for stack heights, least for grip."""

    standard: str
    size: str
    inside_mm: float
    outside_mm: float
    thickness_mm: float
    thickness_max_mm: float
    thickness_min_mm: float
    origin: Origin | None = field(default=None, compare=False)


@record
class Insert:
    """A threaded insert for wood. `live_from_mm` and `live_to_mm` count from the end at which it is driven; the drive slot is dead.

    A flange, where there is one, lies at the driving end.
    """

    table: str
    thread: Thread
    outside: Band
    length_mm: float
    live_from_mm: float
    live_to_mm: float
    hole_mm: float
    flange_diameter_mm: float | None = None
    flange_thickness_mm: float | None = None
    origin: Origin | None = field(default=None, compare=False)


@record
class Magnet:
    """A disc magnet, measured."""

    diameter_mm: float
    thickness_mm: float
    origin: Origin | None = field(default=None, compare=False)
