"""Sheets, cutters, machines, the shop's errors, and tooth forms."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from trivet.lower.declared_ranges import diameter_in_use, thickness_in_use
from trivet.lower.fault import Fault
from trivet.lower.forms import BlockForm, FactForm
from trivet.lower.spoken import spoken_length, spoken_unit
from trivet.model.shop import Cutter, Machine, Sheet, Shop, ToothForm
from trivet.units import Quantity

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.reader import Reader

SHEET = BlockForm(
    "sheet",
    ("{name:name}",),
    (
        FactForm("material", ("{name:name}",), example="material birch_plywood"),
        FactForm("thickness", ("{value:spread}",), example="thickness 17.8 +/- 0.2 mm"),
        FactForm("size", ("{width:length} by {height:length}",), example="size 1220 by 610 mm"),
        FactForm("face_grain", ("along {axis:x|y}",), example="face_grain along x"),
        FactForm("sheets", ("{count:count}",), example="sheets 2"),
        FactForm("off_cut", ("{width:length} by {height:length}",), example="off_cut 600 by 300 mm", repeats=True),
        FactForm("spacing", ("{value:length}",), example="spacing 11 mm"),
        FactForm("edge_margin", ("{value:length}",), example="edge_margin 10 mm"),
        FactForm("registration", ("dowel {diameter:length}",), example="registration dowel 6 mm"),
        FactForm("for_sheets", ("{value:range}",), example="for_sheets 17.0..18.6 mm"),
    ),
    example="sheet ply18",
)
CUTTER = BlockForm(
    "cutter",
    ("{name:name}",),
    (
        FactForm("diameter", ("{value:length}",), example="diameter 6.00 mm", sets="form"),
        FactForm("tip_angle", ("{value:angle}",), example="tip_angle 60 deg", sets="form"),
        FactForm("reach", ("{value:length}",), example="reach 25 mm"),
        FactForm("up_to", ("{value:length}",), example="up_to 6.35 mm"),
    ),
    example="cutter straight6",
)
SHOP = BlockForm(
    "shop",
    ("",),
    (
        FactForm("hole_position", ("{value:deviation}",), example="hole_position +/- 0.15 mm"),
        FactForm("profile_offset", ("{value:deviation}",), example="profile_offset +/- 0.05 mm"),
        FactForm("run_out", ("{value:length}",), example="run_out 0.05 mm"),
        FactForm("bore_clearance", ("{value:length}",), example="bore_clearance 0.20 mm"),
        FactForm("inserts", ("{way:by_hand|guide_block|drill_press}", "{tilt:angle}"), example="inserts guide_block"),
        FactForm("depth", ("{value:deviation}",), example="depth +/- 0.2 mm"),
        FactForm("moisture", ("{value:range}",), example="moisture 6..12 percent"),
    ),
    named="none",
    example="shop",
    repeats=False,
)
MACHINE = BlockForm(
    "machine",
    ("{name:name}",),
    (
        FactForm("work_area", ("{width:length} by {height:length}",), example="work_area 600 by 400 mm"),
        FactForm("slot_width", ("{value:length}",), example="slot_width 6.05 mm"),
        FactForm("scale", ("{value:ratio}",), example="scale 1.0005"),
        FactForm("skew", ("{value:angle}",), example="skew 0.02 deg"),
        FactForm("hole_position", ("{value:deviation}",), example="hole_position +/- 0.15 mm"),
        FactForm("profile_offset", ("{value:deviation}",), example="profile_offset +/- 0.05 mm"),
        FactForm("run_out", ("{value:length}",), example="run_out 0.05 mm"),
    ),
    example="machine bench_router",
)
TOOTH_FORM = BlockForm(
    "tooth_form",
    ("{name:name}",),
    (
        FactForm("module", ("{value:length}",), example="module 6 mm", sets="size"),
        FactForm("diametral_pitch", ("{value:per_length}",), example="diametral_pitch 5 per in", sets="size"),
        FactForm("pressure_angle", ("{value:angle}",), example="pressure_angle 20 deg"),
        FactForm("backlash", ("{value:length}",), example="backlash 0.4 mm"),
        FactForm("face_overlap", ("{value:length}",), example="face_overlap 4 mm"),
        FactForm("tip_shortening", ("{value:length}",), example="tip_shortening 0.5 mm"),
        FactForm("dedendum", ("{value:ratio}",), example="dedendum 1.4"),
    ),
    example="tooth_form coarse",
)

# Insert tilt where it is not measured, degrees: assumed, no source.
TILT_DEG = {"by_hand": 1.0, "guide_block": 0.5, "drill_press": 0.3}


def lower_sheet(reader: Reader, context: Context) -> Sheet:
    """A sheet; its thickness is measured, so it must be stated."""
    reader.need("thickness")
    band = reader.value("thickness", "value")
    if band.least <= 0:
        least = spoken_length(band.least, band.origin)
        message = f"the thickness of `{reader.name.text}` reaches down to {least}; more than 0 is required"
        example = "0.703 +/- 0.008 in" if spoken_unit(band.origin) == "in" else "17.8 +/- 0.2 mm"
        raise Fault(
            "value-not-allowed", message, band.origin, remedy=f"write the mean and its small deviation, as in `{example}`"
        )
    band, for_sheets = thickness_in_use(reader, context, band)
    return Sheet(
        name=reader.name,
        material=reader.value("material", "name"),
        thickness=band,
        for_sheets=for_sheets,
        width=reader.value("size", "width"),
        height=reader.value("size", "height"),
        face_grain=reader.value("face_grain", "axis"),
        count=_sheets(reader),
        off_cuts=_off_cuts(reader),
        spacing=reader.value("spacing", "value"),
        edge_margin=reader.value("edge_margin", "value"),
        registration=reader.value("registration", "diameter"),
    )


def _sheets(reader: Reader) -> int | None:
    count = reader.value("sheets", "count")
    if count is not None and count.number < 1:
        raise Fault(
            "value-not-allowed",
            f"the `sheets` of `{reader.name.text}` are {count}; at least 1 is required",
            reader.span("sheets", "count"),
            remedy="leave out `sheets` and `size` where only off-cuts are used",
        )
    return int(count.number) if count is not None else None


def _off_cuts(reader: Reader) -> tuple[tuple[Quantity, Quantity], ...]:
    found = []
    for cut in reader.all("off_cut"):
        for side in ("width", "height"):
            if cut.get(side).base <= 0:
                message = f"a side of an `off_cut` of `{reader.name.text}` is {cut.get(side)}; more than 0 is required"
                raise Fault("value-not-allowed", message, cut.span(side))
        found.append((cut.get("width"), cut.get("height")))
    return tuple(found)


def lower_cutter(reader: Reader, context: Context) -> Cutter:
    """A straight cutter has a diameter, a vee a tip angle."""
    reader.need_one("diameter", "tip_angle")
    diameter, for_cutters = diameter_in_use(reader, context, reader.value("diameter", "value"))
    return Cutter(
        name=reader.name,
        diameter=diameter,
        for_cutters=for_cutters,
        tip_angle=reader.value("tip_angle", "value"),
        reach=reader.value("reach", "value"),
    )


def lower_shop(reader: Reader, context: Context) -> Shop:
    """The shop's errors; what is not stated has the default of the record."""
    given: dict[str, Any] = {}
    for word in ("hole_position", "profile_offset", "run_out", "bore_clearance", "depth"):
        value = reader.value(word, "value")
        if value is not None:
            if value.base < 0:
                raise Fault("value-not-allowed", f"`{word}` is {value}; at least 0 is required", value.origin)
            given[f"{word}_mm"] = value.mm
    inserts = reader.get("inserts")
    if inserts is not None:
        tilt: Quantity | None = inserts.get("tilt")
        given["inserts"] = "measured" if tilt else inserts.get("way")
        given["insert_tilt_deg"] = tilt.value if tilt else TILT_DEG[inserts.get("way")]
    moisture = reader.value("moisture", "value")
    if moisture is not None:
        low, high = moisture
        if low.dimension != "ratio" or high.base > 1:
            raise Fault(
                "value-not-allowed", "`moisture` is a range of percent", low.origin, remedy="write `moisture 6..12 percent`"
            )
        given |= {"moisture_least": low.value * 100, "moisture_most": high.value * 100}
    return Shop(
        stated=tuple(reader.readings), origins={word: lines[0].line.span for word, lines in reader.readings.items()}, **given
    )


def lower_machine(reader: Reader, context: Context) -> Machine:
    """A machine's area and errors."""
    words = ("slot_width", "scale", "skew", "hole_position", "profile_offset", "run_out")
    return Machine(
        name=reader.name,
        work_area_width=reader.value("work_area", "width"),
        work_area_height=reader.value("work_area", "height"),
        **{word: reader.value(word, "value") for word in words},
    )


def lower_tooth_form(reader: Reader, context: Context) -> ToothForm:
    """A rack; the module is stated or follows from the diametral pitch (m = 25.4 / P)."""
    size = reader.need_one("module", "diametral_pitch")
    reader.need("backlash")
    value: Quantity = reader.value(size, "value")
    if value.base <= 0:
        raise Fault("value-not-allowed", f"the {size} of `{reader.name.text}` is {value}; more than 0 is required", value.origin)
    module = value.mm if size == "module" else float(1 / value.base)
    if not 0.2 <= module <= 100:
        raise Fault(
            "value-not-allowed", f"the module of `{reader.name.text}` is {module:g} mm; 0.2 to 100 mm is allowed", value.origin
        )
    angle: Quantity | None = reader.value("pressure_angle", "value")
    if angle is not None and not 5 <= angle.base <= 35:
        raise Fault("value-not-allowed", f"the pressure angle is {angle}; 5 to 35 deg is allowed (20 deg is usual)", angle.origin)
    shortening: Quantity | None = reader.value("tip_shortening", "value")
    dedendum: Quantity | None = reader.value("dedendum", "value")
    if dedendum is not None and not 1 <= dedendum.base <= 2:
        raise Fault("value-not-allowed", f"the dedendum is {dedendum} modules; 1 to 2 is allowed (1.25 is usual)", dedendum.origin)
    return ToothForm(
        name=reader.name,
        module_mm=module,
        diametral_pitch=float(value.number) if size == "diametral_pitch" else None,
        pressure_angle_deg=angle.value if angle else 20.0,
        backlash=reader.value("backlash", "value"),
        face_overlap=reader.value("face_overlap", "value"),
        tip_shortening_mm=shortening.mm if shortening else 0.0,
        dedendum=dedendum.value if dedendum else 1.25,
        module_origin=value.origin,
    )
