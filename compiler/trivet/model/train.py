"""Gears, the meshes and rings they stand in, and what turns them or what they turn on."""

from __future__ import annotations

from typing import Literal

from trivet.model.base import Angle, Count, From, Named, NonNegativeLength, Noun, Place, PositiveLength, PositiveTorque, Ratio
from trivet.model.hardware import Nut, Screw, TeeNut, Thread, Washer
from trivet.model.tabs import Tabs


class Web(Noun):
    """Openings between rim and hub: spokes (count and width) or holes (count and diameter)."""

    form: Literal["spokes", "holes"]
    count: Count
    size: PositiveLength
    origin: From = None


class JoinedBy(Noun):
    """What joins a gear to the others of its shaft: glue and dowels of a diameter (None: the usual), or the drive's nuts."""

    form: Literal["dowels", "clamped"]
    diameter: PositiveLength | None = None
    origin: From = None


class Gear(Noun):
    """A gear. Exactly one of `turned_by` (a drive), `turns_on` (a pivot), `carries` (a foot) or `on_shaft_with` (another gear).

    `at` is None where a mesh or a ring places it. `below` says which side of its shaft's other gear it lies.
    """

    name: Named
    teeth: Count
    stock: Named
    cutter: Named
    tooth_form: Named
    at: Place | None = None
    turned_by: Named | None = None
    turns_on: Named | None = None
    carries: Named | None = None
    on_shaft_with: Named | None = None
    on_shaft_side: Literal["below", "above"] = "below"
    joined_by: JoinedBy | None = None
    profile_shift: Ratio | None = None
    layers: int = 1
    web: Web | None = None
    bore: PositiveLength | None = None
    flip: Literal["alternate", "none"] = "none"
    under: Named
    machine: Named | None = None
    tabs: Tabs | None = None

    @property
    def z(self) -> int:
        """Number of teeth."""
        return int(self.teeth.number)


class Mesh(Noun):
    """Two gears in mesh. With `angle`, `b` is placed from `a`: on its pitch point at that direction from `a`'s centre."""

    a: Named
    b: Named
    angle: Angle | None = None
    centre_distance: PositiveLength | None = None
    origin: From = None


class Ring(Noun):
    """A closed ring of gears in mesh, anticlockwise round a place, the first at an angle; its radius is derived."""

    name: Named
    gears: tuple[Named, ...]
    around: Place
    first_at: Angle


class Dial(Noun):
    """Engraved step marks round the drive on the topside."""

    marks: Count
    diameter: PositiveLength
    origin: From = None


class DriveNut(Noun):
    """A nut on the drive bolt: a hexagon nut or a tee nut, above or below the gear, let in by `recessed`, its hole `round` or hexagonal."""

    hardware: Nut | TeeNut
    side: Literal["above", "below"]
    recessed: NonNegativeLength | None = None
    round: PositiveLength | None = None
    origin: From = None


class Drive(Noun):
    """The bolt that is turned from above: through every board above its gear, held by a nut above and a jam nut below.

    `stop`: a nut that travels on the bolt's end and jams at both ends of the travel; `stop_nut` is that nut, `stop_washer` lies
    under it where one of its size is known; `stop_locked_by`: what keeps the end nut from turning, None where it is not stated.
    """

    name: Named
    thread: Thread
    bolt: Screw
    head_recessed: NonNegativeLength | None = None
    length: PositiveLength | None = None
    hole_mm: float
    fit: Literal["fine", "medium", "coarse"]
    nut: DriveNut
    jam_nut: DriveNut | None = None
    washer: Washer | None = None
    washer_places: tuple[str, ...] = ()
    play: NonNegativeLength | None = None
    dial: Dial | None = None
    brake: bool = False
    key: str = ""
    turned_with: Literal["hand", "driver"] | None = None
    driver_torque: PositiveTorque | None = None
    turned_with_origin: From = None
    stop: bool = False
    stop_nut: Nut | None = None
    stop_washer: Washer | None = None
    stop_locked_by: Literal["thread_locker", "jam_nut", "cross_pin"] | None = None
    stop_origin: From = None
    origin: From = None


class Pivot(Noun):
    """What idlers turn on: a wood screw or a bolt from below into or through the board, with washers and perhaps a sleeve or a shoulder."""

    name: Named
    thread: Thread
    screw: Screw
    bolt: bool = False
    nut: DriveNut | None = None
    head_recessed: NonNegativeLength | None = None
    length: PositiveLength | None = None
    drill: PositiveLength | None = None
    washer: Washer | None = None
    washer_places: tuple[Literal["above", "below"], ...] = ()
    sleeve_outside: PositiveLength | None = None
    shoulder: PositiveLength | None = None
    play: NonNegativeLength | None = None
    origin: From = None
