"""Small designs built by hand, for tests that start from the model: `design(gears, meshes)` fills in the rest."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from trivet.model.base import Band, Point, Ref
from trivet.model.board import Board
from trivet.model.design import Design
from trivet.model.foot import Foot, InsertUse, Pad
from trivet.model.hardware import Head, Insert, Nut, Screw, TeeNut, Thread, ThreadLength
from trivet.model.outline import Outline
from trivet.model.shop import Cutter, Sheet, Shop, ToothForm
from trivet.model.train import Drive, DriveNut, Gear, Mesh, Pivot, Ring
from trivet.units import Quantity

M8 = Thread(designation="M8", major_mm=8.0, pitch_mm=1.25, lead_mm=1.25, system="metric")
HEX_HEAD = Head(form="hexagon", diameter_mm=14.38, height_mm=5.3, height_max_mm=5.45, across_flats_mm=13.0, across_corners_mm=14.38)
TEE_NUT = TeeNut(
    thread=M8,
    flange_diameter_mm=22.0,
    flange_thickness_mm=1.5,
    barrel_diameter_mm=10.0,
    barrel_length_mm=9.5,
    height_mm=11.0,
    hole_mm=10.0,
)
HEX_NUT = Nut(standard="ISO 4032", thread=M8, across_flats_mm=13.0, across_corners_mm=14.38, height_mm=6.8, height_min_mm=6.44)
BOLT = Screw(standard="ISO 4017", thread=M8, head=HEX_HEAD, threaded=ThreadLength(full=True), stock_mm=(30.0, 40.0, 50.0, 60.0))
INSERT = Insert(
    table="inserts", thread=M8, outside=Band(16.0, 15.9, 16.1), length_mm=15.0, live_from_mm=4.0, live_to_mm=15.0, hole_mm=13.5
)


def q(number: float | int | str, unit: str = "") -> Quantity:
    """A quantity: q(18, "mm"), q("0.4", "mm"), q(24)."""
    return Quantity(Fraction(str(number)), unit)


def mm(number: float | int | str) -> Quantity:
    """A length in mm."""
    return q(number, "mm")


def gear(
    name: str,
    z: int,
    at: tuple[float, float] | None = None,
    *,
    drive: bool = False,
    foot: bool = False,
    shaft: str = "",
    side: str = "below",
    **facts: Any,
) -> Gear:
    """A gear: the drive's, a foot's, one on another's shaft, or else an idler's."""
    held: dict[str, Any] = (
        {"on_shaft_with": Ref(shaft), "on_shaft_side": side}
        if shaft
        else {"turned_by": Ref("crank")}
        if drive
        else {"carries": Ref("corner")}
        if foot
        else {"turns_on": Ref("pin")}
    )
    given = {"stock": Ref("ply"), "cutter": Ref("straight"), "tooth_form": Ref("form"), "under": Ref("deck")} | held | facts
    return Gear(name=Ref(name), teeth=q(z), at=Point(*at) if at is not None else None, **given)


def mesh(a: str, b: str, angle: float | None = None, *, distance: float | str | None = None) -> Mesh:
    """A mesh, at an angle in degrees where it places `b`, with its centre distance in mm where that is stated."""
    return Mesh(
        a=Ref(a),
        b=Ref(b),
        angle=None if angle is None else q(repr(angle), "deg"),
        centre_distance=None if distance is None else mm(distance),
    )


def ring(name: str, gears: tuple[str, ...], around: tuple[float, float] = (0.0, 0.0), first_at: float = 0.0) -> Ring:
    """A ring of gears, anticlockwise."""
    return Ring(name=Ref(name), gears=tuple(Ref(g) for g in gears), around=Point(*around), first_at=q(repr(first_at), "deg"))


def tooth_form(name: str = "form", module: float = 4.0, backlash: float | str = "0.4", **facts: Any) -> ToothForm:
    """A tooth form of 20 degrees, unless stated otherwise."""
    return ToothForm(name=Ref(name), module_mm=module, backlash=mm(backlash), **facts)


def drive(nut: Nut | TeeNut = TEE_NUT, hole_mm: float = 8.4, **facts: Any) -> Drive:
    """The drive `crank`."""
    return Drive(
        name=Ref("crank"), thread=M8, bolt=BOLT, hole_mm=hole_mm, fit="fine", nut=DriveNut(hardware=nut, side="above"), **facts
    )


def pivot(**facts: Any) -> Pivot:
    """The pivot `pin`: a sleeve of 8 mm outside, unless stated otherwise."""
    given: dict[str, Any] = {"name": Ref("pin"), "thread": M8, "screw": BOLT, "sleeve_outside": mm(8)}
    return Pivot(**(given | facts))


def foot(**facts: Any) -> Foot:
    """The foot `corner`: riding, its insert driven from the topside and flush with the underside, unless stated otherwise."""
    given: dict[str, Any] = {
        "name": Ref("corner"),
        "kind": "riding",
        "thread": M8,
        "screw": BOLT,
        "length": mm(30),
        "pocket": mm("5.8"),
        "pad": Pad(kind="dome", drop=mm(3)),
        "into": Ref("deck"),
        "insert": InsertUse(hardware=INSERT, driven_from="topside", flush="underside"),
    }
    return Foot(**(given | facts))


def design(gears: tuple[Gear, ...], meshes: tuple[Mesh, ...] = (), rings: tuple[Ring, ...] = (), **facts: Any) -> Design:
    """A design with one board `deck` 480 by 350 mm, sheet `ply` 17.8 ± 0.2 mm, a 4 mm cutter, and what the gears name."""
    given: dict[str, Any] = {
        "name": "sample",
        "shop": Shop(),
        "sheets": (Sheet(name=Ref("ply"), thickness=Band(17.8, 17.6, 18.0)),),
        "cutters": (Cutter(name=Ref("straight"), diameter=mm(4), reach=mm(25)),),
        "tooth_forms": (tooth_form(),),
        "boards": (
            Board(
                name=Ref("deck"),
                stock=Ref("ply"),
                cutter=Ref("straight"),
                outline=Outline(shape="rectangle", width_mm=480.0, height_mm=350.0),
            ),
        ),
        "drives": (drive(),),
        "pivots": (pivot(),),
        "feet": (foot(),),
    }
    return Design(gears=tuple(gears), meshes=tuple(meshes), rings=tuple(rings), **(given | facts))
