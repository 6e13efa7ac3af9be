"""Designs with feet, drive and pivots of real sizes: a small riser with feet of each kind."""

from __future__ import annotations

from typing import Any

from tests.designs import M8, design, gear, mesh, mm, tooth_form

from trivet.model.base import Band, Ref
from trivet.model.board import Face
from trivet.model.design import Design
from trivet.model.foot import Foot, InsertUse, Keeper, Pad
from trivet.model.hardware import Head, Insert, Nut, Screw, TeeNut, Thread, ThreadLength, Washer
from trivet.model.outline import Outline
from trivet.model.shop import Sheet, Shop
from trivet.model.train import Drive, DriveNut, Pivot

METRIC_STOCK = (16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0, 70.0, 80.0)
TAPPING_STOCK = (13.0, 16.0, 19.0, 22.0, 25.0, 32.0, 38.0, 45.0, 50.0)
ST6 = Thread(designation="ST6.3", major_mm=6.25, pitch_mm=1.8, lead_mm=1.8, system="tapping")
HEX = Head(form="hexagon", diameter_mm=14.38, height_mm=5.3, height_max_mm=5.45, across_flats_mm=13.0, across_corners_mm=14.38)
CAP = Head(form="socket", diameter_mm=13.27, height_mm=8.0, height_max_mm=8.0, key="6 mm")
PAN = Head(form="pan", diameter_mm=12.0, height_mm=4.6, height_max_mm=4.6)
FULL = ThreadLength(full=True)
TEE = TeeNut(
    thread=M8,
    flange_diameter_mm=22.0,
    flange_thickness_mm=1.5,
    barrel_diameter_mm=10.0,
    barrel_length_mm=9.5,
    height_mm=11.0,
    hole_mm=10.0,
)
JAM = Nut(standard="ISO 4035", thread=M8, across_flats_mm=13.0, across_corners_mm=14.38, height_mm=4.0, height_min_mm=3.7)
NUT = Nut(standard="ISO 4032", thread=M8, across_flats_mm=13.0, across_corners_mm=14.38, height_mm=6.8, height_min_mm=6.44)
LARGE_WASHER = Washer(
    standard="ISO 7093-1", size="M6", inside_mm=6.4, outside_mm=18.0, thickness_mm=1.6, thickness_max_mm=1.8, thickness_min_mm=1.4
)
INSERT = Insert(
    table="my_insert", thread=M8, outside=Band(16.0, 15.9, 16.1), length_mm=15.0, live_from_mm=4.0, live_to_mm=15.0, hole_mm=13.5
)


def hex_screw(
    thread: Thread = M8, head: Head = HEX, threaded: ThreadLength = FULL, stock: tuple[float, ...] = METRIC_STOCK
) -> Screw:
    """A hexagon screw, fully threaded unless said otherwise."""
    return Screw(standard="ISO 4017", thread=thread, head=head, threaded=threaded, stock_mm=stock)


def cap_screw(threaded: ThreadLength = FULL, stock: tuple[float, ...] = METRIC_STOCK) -> Screw:
    """A socket head cap screw."""
    return Screw(standard="ISO 4762", thread=M8, head=CAP, threaded=threaded, stock_mm=stock)


def crank(**facts: Any) -> Drive:
    """The drive of the riser: head 9 mm deep, tee nut above, jam nut 6 mm deep below, 0.2 mm of play."""
    given: dict[str, Any] = {
        "name": Ref("crank"),
        "thread": M8,
        "bolt": cap_screw(),
        "head_recessed": mm(9),
        "hole_mm": 8.4,
        "fit": "fine",
        "nut": DriveNut(hardware=TEE, side="above"),
        "jam_nut": DriveNut(hardware=JAM, side="below", recessed=mm(6), round=mm(24)),
        "play": mm("0.2"),
    }
    return Drive(**(given | facts))


def pin(**facts: Any) -> Pivot:
    """The pivot of the riser: a tapping screw with its head 7 mm deep, washers above and below, 0.3 mm of play."""
    given: dict[str, Any] = {
        "name": Ref("pin"),
        "thread": ST6,
        "head_recessed": mm(7),
        "drill": mm(5),
        "washer": LARGE_WASHER,
        "screw": Screw(standard="ISO 7049", thread=ST6, head=PAN, threaded=FULL, stock_mm=TAPPING_STOCK),
        "washer_places": ("above", "below"),
        "play": mm("0.3"),
    }
    return Pivot(**(given | facts))


def riding(insert: Insert = INSERT, driven_from: Face = "topside", flush: Face = "underside", **facts: Any) -> Foot:
    """A riding foot: M8, 30 mm, head pocket 5.8 mm, dome of 3 mm."""
    given: dict[str, Any] = {
        "name": Ref("corner"),
        "kind": "riding",
        "thread": M8,
        "screw": hex_screw(),
        "length": mm(30),
        "pocket": mm("5.8"),
        "pad": Pad(kind="dome", drop=mm(3)),
        "into": Ref("deck"),
        "insert": InsertUse(hardware=insert, driven_from=driven_from, flush=flush),
    }
    return Foot(**(given | facts))


def captured(**facts: Any) -> Foot:
    """A captured nut in the gear's underside, a rod of 60 mm with a 3 mm cross pin, a keeper of the same sheet."""
    given: dict[str, Any] = {
        "name": Ref("corner"),
        "kind": "captured_nut",
        "thread": M8,
        "length": mm(60),
        "rod_standard": "DIN 976-1",
        "nut": NUT,
        "nut_pocket": "underside",
        "pad": Pad(kind="dome", drop=mm(3)),
        "into": Ref("deck"),
        "rod_stop_diameter": mm(3),
        "keeper": Keeper(stock=Ref("ply"), outline=Outline(shape="rectangle", width_mm=120.0, height_mm=60.0)),
    }
    return Foot(**(given | facts))


def sliding(insert: Insert = INSERT, driven_from: Face = "underside", flush: Face = "underside", **facts: Any) -> Foot:
    """A hex that slides in a socket of 14 mm, a post of 25 mm below it, a keeper of the same sheet."""
    given: dict[str, Any] = {
        "name": Ref("corner"),
        "kind": "sliding_hex",
        "thread": M8,
        "screw": hex_screw(),
        "length": mm(30),
        "socket_depth": mm(14),
        "pad": Pad(kind="dome", drop=mm(25)),
        "into": Ref("deck"),
        "keeper": Keeper(stock=Ref("ply"), outline=Outline(shape="rectangle", width_mm=120.0, height_mm=60.0)),
        "insert": InsertUse(hardware=insert, driven_from=driven_from, flush=flush),
    }
    return Foot(**(given | facts))


def riser(foot: Foot, thickness: Band | None = None, gear_thickness: Band | None = None, **facts: Any) -> Design:
    """A hub of 16 teeth, two idlers and four feet of 20, module 6; deck of `ply`, gears of `thin` where given."""
    deck = thickness or Band(17.8, 17.6, 18.0)
    sheets = [Sheet(name=Ref("ply"), thickness=deck), Sheet(name=Ref("gears"), thickness=gear_thickness or deck)]
    stock: dict[str, Any] = {"stock": Ref("gears")}
    given: dict[str, Any] = {
        "sheets": tuple(sheets),
        "shop": Shop(insert_tilt_deg=0.5, inserts="guide_block"),
        "feet": (foot,),
        "pivots": (pin(),),
        "drives": (crank(),),
        "tooth_forms": (tooth_form(module=6.0, backlash="0.5"),),
    }
    return design(
        (
            gear("hub", 16, (240, 175), drive=True, **stock),
            gear("west", 20, **stock),
            gear("east", 20, **stock),
            gear("nw", 20, foot=True, **stock),
            gear("sw", 20, foot=True, **stock),
            gear("ne", 20, foot=True, **stock),
            gear("se", 20, foot=True, **stock),
        ),
        (
            mesh("hub", "west", 180.0),
            mesh("hub", "east", 0.0),
            mesh("west", "nw", 118.0),
            mesh("west", "sw", 242.0),
            mesh("east", "ne", 62.0),
            mesh("east", "se", 298.0),
        ),
        **(given | facts),
    )
