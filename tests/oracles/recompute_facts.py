"""What the example fixtures say, typed in by hand from their text and from tables of hardware. Lengths mm.

Sizes of heads, nuts, washers and holes are the library's rows, where their sources stand (many are partly from memory).
Nothing here is read from the compiler: a second reader's copy of the inputs, for `recompute_*` to work from.
"""

from __future__ import annotations

from dataclasses import dataclass, field

INCH = 25.4


@dataclass(frozen=True)
class Drive:
    """Bolt head's recess, hole and thread; tee nut's flange (thickness, diameter); jam nut's height and recess; play.

    `fitted` is the bolt's length in use; `sold` the stock lengths around it.
    """

    recess: float
    jam_height: float = 4.0
    jam_recess: float = 6.0
    thread: float = 8.0
    hole: float = 8.4
    flange: float = 1.5
    flange_diameter: float = 22.0
    play: float = 0.2
    fitted: float = 0.0
    sold: tuple[float, ...] = (20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0)
    cut_step: float = 0.5


@dataclass(frozen=True)
class Pivot:
    """Washer (least, nominal, most, outside diameter), screw head's height and recess, play, thread; sleeve or none."""

    washer: tuple[float, float, float]
    washer_outside: float
    head: float
    recess: float
    play: float
    thread: float
    sleeve: bool
    sold: tuple[float, ...] = (16.0, 19.0, 22.0, 25.0, 32.0, 38.0, 45.0, 50.0)


@dataclass(frozen=True)
class Foot:
    """`head`: (least, used for heights, most). `insert`: length, live from, live to; flush with the underside in all examples."""

    kind: str
    thread: float
    lead: float
    length: float
    drop: float
    head: tuple[float, float, float] = (5.15, 5.3, 5.45)
    pocket: float = 0.0
    shank: float = 0.0
    insert: tuple[float, float, float] = (0.0, 0.0, 0.0)
    driven_from: str = "topside"
    socket: float = 0.0
    nut: float = 0.0
    pin: float = 0.0
    left_hand: tuple[str, ...] = ()


@dataclass(frozen=True)
class Fixture:
    """One example. `sheet`: mean and half its band, of board and gears alike. `held`: gear to what holds its axis.

    `level`: how many gears hang above it; `layers`: of a laminated gear. `boards`: layers of the board the feet act on; `upper`: of
    boards on top of it. `fixed_on`: gears on another's shaft. `rings`: closed rings, in order.
    """

    sheet: tuple[float, float]
    module: float
    backlash: float
    hole_position: float
    profile: float
    bore: float
    tilt_deg: float
    depth: float
    teeth: dict[str, int]
    held: dict[str, str]
    meshes: tuple[tuple[str, str], ...]
    drive: Drive
    foot: Foot
    pivot: Pivot | None = None
    boards: int = 1
    upper: int = 0
    layers: dict[str, int] = field(default_factory=dict)
    level: dict[str, int] = field(default_factory=dict)
    fixed_on: dict[str, str] = field(default_factory=dict)
    rings: tuple[tuple[str, ...], ...] = ()
    per_turn: tuple[float, str] = (0.0, "")
    # Least and most percent of moisture over the year; all sheets are plywood with their face grain along x.
    moisture: tuple[float, float] = (7.0, 11.0)

    def root(self, gear: str) -> str:
        """The gear whose holder holds this one."""
        return self.fixed_on.get(gear, gear)


def _star(hub: str, others: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    return tuple((hub, other) for other in others)


CORNERS = ("ne", "nw", "se", "sw")
SHARED = {"sheet": (17.8, 0.2), "module": 4.0, "backlash": 0.65, "hole_position": 0.10, "profile": 0.05, "bore": 0.15}
SHOP = {"tilt_deg": 0.3, "depth": 0.2}
RIDING_M8 = Foot("riding", 8.0, 1.25, 30.0, 3.0, pocket=5.8, insert=(15.0, 2.0, 14.0))
PIN = Pivot(washer=(0.9, 1.0, 1.1), washer_outside=10.0, head=3.7, recess=6.0, play=0.5, thread=4.8, sleeve=True)

SMALL_RISER = Fixture(
    **SHARED,
    **SHOP,
    teeth={"hub": 24} | dict.fromkeys(CORNERS, 20),
    held={"hub": "drive"} | dict.fromkeys(CORNERS, "foot"),
    meshes=_star("hub", CORNERS),
    drive=Drive(11.2, fitted=25.0),
    foot=RIDING_M8,
    per_turn=(1.5, "anticlockwise"),
)

TRIPOD = Fixture(
    **SHARED,
    **SHOP,
    teeth={"sun": 36, "north": 24, "sw": 24, "se": 24},
    held={"sun": "drive", "north": "foot", "sw": "foot", "se": "foot"},
    meshes=_star("sun", ("north", "sw", "se")),
    drive=Drive(11.2, fitted=45.0),
    # ISO 4032 M10: 8.4 high. The rod has no head.
    foot=Foot("captured_nut", 10.0, 1.5, 85.0, 3.0, head=(0.0, 0.0, 0.0), nut=8.4, pin=3.0),
    boards=2,
    per_turn=(2.25, "clockwise"),
)

_FAR, _NEAR = ("far_e", "far_w"), ("near_n", "near_s")
FINE_LIFT = Fixture(
    **SHARED,
    **SHOP,
    teeth={"first": 18, "wheel": 36, "pinion": 18, "sun": 48, "east": 30, "west": 30} | dict.fromkeys(_FAR + _NEAR, 20),
    held={"first": "drive", "wheel": "pivot", "pinion": "pivot", "sun": "pivot", "east": "pivot", "west": "pivot"}
    | dict.fromkeys(_FAR + _NEAR, "foot"),
    meshes=(("wheel", "first"), ("sun", "pinion"), ("east", "far_e"), ("west", "far_w"), *_star("sun", ("east", "west", *_NEAR))),
    drive=Drive(11.2, fitted=45.0),
    # ISO 4017 M10: head 6.4, at most 6.58.
    foot=Foot(
        "sliding_hex",
        10.0,
        1.5,
        60.0,
        34.0,
        head=(6.22, 6.4, 6.58),
        insert=(15.0, 2.0, 14.0),
        driven_from="underside",
        socket=30.0,
        left_hand=_NEAR,
    ),
    pivot=PIN,
    boards=2,
    layers=dict.fromkeys(_FAR + _NEAR, 2),
    level=dict.fromkeys(("pinion", "sun", "east", "west", *_FAR, *_NEAR), 1),
    fixed_on={"pinion": "wheel"},
    per_turn=(0.675, "clockwise"),
)

OUTFEED_RISER = Fixture(
    sheet=(17.8, 0.2),
    module=6.0,
    backlash=0.5,
    hole_position=0.15,
    profile=0.05,
    bore=0.20,
    tilt_deg=0.5,
    depth=0.2,
    teeth={"hub": 16, "west": 20, "east": 20} | dict.fromkeys(CORNERS, 20),
    held={"hub": "drive", "west": "pivot", "east": "pivot"} | dict.fromkeys(CORNERS, "foot"),
    meshes=(("hub", "west"), ("hub", "east"), ("west", "nw"), ("west", "sw"), ("east", "ne"), ("east", "se")),
    drive=Drive(9.0, fitted=27.5),
    foot=Foot("riding", 8.0, 1.25, 30.0, 3.0, pocket=5.8, insert=(15.0, 4.0, 15.0)),
    # ISO 7049 ST6.3 (largest diameter 6.25), head 4.6; ISO 7093-1 M6.
    pivot=Pivot(washer=(1.4, 1.6, 1.8), washer_outside=18.0, head=4.6, recess=7.0, play=0.3, thread=6.25, sleeve=False),
    per_turn=(1.0, "clockwise"),
    moisture=(6.0, 12.0),
)

INCH_TABLE = Fixture(
    sheet=(0.703 * INCH, 0.008 * INCH),
    module=INCH / 4,
    backlash=0.02 * INCH,
    hole_position=0.005 * INCH,
    profile=0.002 * INCH,
    bore=0.006 * INCH,
    tilt_deg=0.3,
    depth=0.008 * INCH,
    teeth={"hub": 24} | dict.fromkeys(CORNERS, 24),
    held={"hub": "drive"} | dict.fromkeys(CORNERS, "foot"),
    meshes=_star("hub", CORNERS),
    # 5/16-18: fine clearance hole 0.328 in (drill 21/64); jam nut 0.195 in high.
    drive=Drive(
        0.40625 * INCH,
        jam_height=0.195 * INCH,
        jam_recess=0.3125 * INCH,
        thread=0.3125 * INCH,
        hole=0.328 * INCH,
        flange=0.062 * INCH,
        flange_diameter=0.875 * INCH,
        play=0.01 * INCH,
        fitted=1.0 * INCH,
        sold=tuple(INCH * eighth / 8 for eighth in (6, 7, 8, 10, 12, 14, 16, 18, 20)),
        cut_step=INCH / 64,
    ),
    # ASME B18.2.1 3/8: head 0.226 to 0.243 in; 1 in of thread on a screw this short.
    foot=Foot(
        "riding",
        0.375 * INCH,
        INCH / 16,
        1.25 * INCH,
        0.125 * INCH,
        head=(0.226 * INCH, 0.243 * INCH, 0.243 * INCH),
        pocket=0.25 * INCH,
        shank=0.25 * INCH,
        insert=(0.625 * INCH, 0.125 * INCH, 0.609 * INCH),
    ),
    per_turn=(INCH / 16, "anticlockwise"),
    moisture=(6.0, 10.0),
)

_RING = ("f1", "i1", "f2", "i2", "f3", "i3", "f4", "hub")
DOG_TABLE = Fixture(
    **SHARED,
    **SHOP,
    teeth=dict.fromkeys(_RING, 24),
    held={name: {"f": "foot", "i": "pivot", "h": "drive"}[name[0]] for name in _RING},
    meshes=tuple(zip(_RING, (*_RING[1:], _RING[0]), strict=True)),
    drive=Drive(9.2, fitted=45.0),
    foot=RIDING_M8,
    pivot=PIN,
    upper=1,
    rings=(_RING,),
    per_turn=(1.25, "anticlockwise"),
)

FIXTURES = {
    "dog_table": DOG_TABLE,
    "fine_lift": FINE_LIFT,
    "inch_table": INCH_TABLE,
    "outfeed_riser": OUTFEED_RISER,
    "small_riser": SMALL_RISER,
    "tripod": TRIPOD,
}
