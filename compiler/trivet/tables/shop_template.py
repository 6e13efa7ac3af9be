"""A shop file to fill in: the plan's own sheets, cutters, errors and measured hardware, each line with what to measure."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from trivet.model.base import Band
from trivet.model.design import Design
from trivet.model.foot import InsertUse
from trivet.model.hardware import Insert, TeeNut
from trivet.model.shop import Cutter, Sheet
from trivet.source import LibraryRow
from trivet.units import number_text

# Further digits are those of binary fractions.
DECIMALS = {"mm": 4, "in": 6}


def shop_template(design: Design, plan: str = "") -> str:
    """Text in the plan's language that changes nothing until a number in it is changed. `plan`: the path of the plan's file, if known."""
    lines = [
        f"# Your shop for `{_plain(design.title or design.name)}`: put what you measure in place of the author's numbers, then run",
        f"#   trivet check {_plain(plan or f'{design.name}.trivet')} --shop mine.trivet",
        "# The names stay as they are: a block here replaces the plan's block of the same name.",
    ]
    for sheet in design.sheets:
        lines += ["", *_sheet(sheet, design.units)]
    for cutter in design.cutters:
        lines += ["", *_cutter(cutter, design.units)]
    lines += ["", *_shop(design)]
    for table in _tables(design):
        lines += ["", *table]
    return "\n".join(lines) + "\n"


def _plain(text: str) -> str:
    return "".join(letter if letter.isprintable() else " " for letter in text)


def _figure(mm: float, unit: str) -> str:
    value = Fraction(mm) / Fraction(254, 10) if unit == "in" else Fraction(mm)
    return number_text(value, DECIMALS[unit])


def _length(mm: float, unit: str) -> str:
    return f"{_figure(mm, unit)} {unit}"


def _spread(band: Band, unit: str) -> str:
    """`17.8 +/- 0.2 mm`, or the two ends where the mean is not in their middle."""
    if band.spread <= 0.0:
        return _length(band.mean, unit)
    if abs((band.least + band.most) / 2.0 - band.mean) < 1e-6:
        return f"{_figure(band.mean, unit)} +/- {_figure(band.most - band.mean, unit)} {unit}"
    return f"{_figure(band.least, unit)}..{_figure(band.most, unit)} {unit}"


def _sheet(sheet: Sheet, unit: str) -> Iterator[str]:
    inwards = "2 in (50 mm)" if unit == "in" else "50 mm (2 in)"
    yield f"# Calipers at eight places about {inwards} from the edges: the mean, and half of what they differ."
    yield f"sheet {sheet.name}"
    if sheet.material is not None:
        yield f"  material {sheet.material}"
    yield f"  thickness {_spread(sheet.thickness, unit)}"
    if sheet.width is not None and sheet.height is not None:
        yield f"  size {_figure(sheet.width.mm, unit)} by {_figure(sheet.height.mm, unit)} {unit}"
    if sheet.face_grain is not None:
        yield f"  face_grain along {sheet.face_grain}"
    if sheet.count is not None:
        yield f"  sheets {sheet.count}"
    for width, height in sheet.off_cuts:
        yield f"  off_cut {_figure(width.mm, unit)} by {_figure(height.mm, unit)} {unit}"
    for word in ("spacing", "edge_margin"):
        value = getattr(sheet, word)
        if value is not None:
            yield f"  {word} {_length(value.mm, unit)}"
    if sheet.registration is not None:
        yield f"  registration dowel {_length(sheet.registration.mm, unit)}"
    if sheet.for_sheets is not None:
        low, high = sheet.for_sheets
        yield f"  for_sheets {_figure(low.mm, unit)}..{_figure(high.mm, unit)} {unit}"


def _cutter(cutter: Cutter, unit: str) -> Iterator[str]:
    if cutter.diameter is not None:
        yield "# Measure the slot that it cuts, not the cutter: worn ones cut narrower than their label."
    yield f"cutter {cutter.name}"
    if cutter.diameter is not None:
        yield f"  diameter {_length(cutter.diameter.mm, unit)}"
    if cutter.for_cutters is not None:
        yield f"  up_to {_length(cutter.for_cutters[1].mm, unit)}"
    if cutter.tip_angle is not None:
        yield f"  tip_angle {number_text(cutter.tip_angle.base)} deg"
    if cutter.reach is not None:
        yield f"  reach {_length(cutter.reach.mm, unit)}"


def _shop(design: Design) -> Iterator[str]:
    shop, unit = design.shop, design.units
    yield (
        "# Cut a block and a pocket of one size N: a side is off by (block - pocket) / 4. Cut two holes and measure over pins "
        "in them."
    )
    yield "shop"
    yield f"  hole_position +/- {_length(shop.hole_position_mm, unit)}"
    yield f"  profile_offset +/- {_length(shop.profile_offset_mm, unit)}"
    if shop.run_out_mm:
        yield f"  run_out {_length(shop.run_out_mm, unit)}"
    yield f"  bore_clearance {_length(shop.bore_clearance_mm, unit)}"
    yield (
        f"  inserts {f'{shop.insert_tilt_deg:g} deg' if shop.inserts == 'measured' else shop.inserts}  # by_hand, guide_block, "
        "drill_press, or a measured tilt"
    )
    yield f"  depth +/- {_length(shop.depth_mm, unit)}"
    yield f"  moisture {shop.moisture_least:g}..{shop.moisture_most:g} percent"


def own_hardware(design: Design) -> tuple[Insert | TeeNut, ...]:
    """Inserts and tee nuts that the plan takes from a table of its own, each row once."""
    found: dict[tuple[str, str], Insert | TeeNut] = {}
    for item in used_hardware(design):
        row = item.origin
        if isinstance(row, LibraryRow) and row.status == "measured":
            found.setdefault((row.table, row.key), item)
    return tuple(found.values())


def used_hardware(design: Design) -> tuple[Insert | TeeNut, ...]:
    """Every insert and tee nut of feet, drives and pivots."""
    uses: list[InsertUse] = [foot.insert for foot in design.feet if foot.insert is not None]
    nuts = [drive.nut for drive in design.drives] + [drive.jam_nut for drive in design.drives if drive.jam_nut is not None]
    nuts += [pivot.nut for pivot in design.pivots if pivot.nut is not None]
    return (*(use.hardware for use in uses), *(nut.hardware for nut in nuts if isinstance(nut.hardware, TeeNut)))


def _tables(design: Design) -> Iterator[list[str]]:
    tables: dict[str, list[Insert | TeeNut]] = {}
    for item in own_hardware(design):
        assert isinstance(item.origin, LibraryRow)
        tables.setdefault(item.origin.table, []).append(item)
    for name, items in tables.items():
        yield list(_inserts(name, items, design.units) if isinstance(items[0], Insert) else _tee_nuts(name, items, design.units))


def _inserts(name: str, items: list[Insert | TeeNut], unit: str) -> Iterator[str]:
    inserts = [item for item in items if isinstance(item, Insert)]
    flanged = any(item.flange_diameter_mm is not None for item in inserts)
    words = ["outside", "length", "live_from", "live_to", "hole", *(("flange_diameter", "flange_thickness") if flanged else ())]
    yield (
        "# Five of the box: outside over the threads, length, where the thread that a screw holds in begins and ends (from the "
        "end with"
    )
    yield "# the slot), and the hole that a test piece of your sheet takes best."
    yield f"table {name} is insert"
    yield '  source "measured: say how many of how many, and when"'
    yield f"  columns thread, {', '.join(f'{word} {unit}' for word in words)}"
    for item in inserts:
        wide = item.outside
        outside = (
            f"{_figure(wide.mean, unit)} +/- {_figure(wide.most - wide.mean, unit)}"
            if wide.spread > 0.0
            else _figure(wide.mean, unit)
        )
        cells = [outside, *(_figure(mm, unit) for mm in (item.length_mm, item.live_from_mm, item.live_to_mm, item.hole_mm))]
        if flanged:
            cells += [
                _figure(mm, unit) if mm is not None else "unknown" for mm in (item.flange_diameter_mm, item.flange_thickness_mm)
            ]
        yield f"  row {_key(item)}, {', '.join(cells)}"


def _tee_nuts(name: str, items: list[Insert | TeeNut], unit: str) -> Iterator[str]:
    words = ("outside_diameter", "barrel_diameter", "length", "height", "flange_thickness", "hole")
    yield (
        "# Two of the box: flange and barrel across, barrel under the flange, the whole height, the flange's thickness, and "
        "the hole."
    )
    yield f"table {name} is tee_nut"
    yield '  source "measured: say how many of how many, and when"'
    yield f"  columns thread, {', '.join(f'{word} {unit}' for word in words)}"
    for item in items:
        if isinstance(item, TeeNut):
            sizes = (
                item.flange_diameter_mm,
                item.barrel_diameter_mm,
                item.barrel_length_mm,
                item.height_mm,
                item.flange_thickness_mm,
                item.hole_mm,
            )
            yield f"  row {_key(item)}, {', '.join(_figure(mm, unit) for mm in sizes)}"


def _key(item: Insert | TeeNut) -> str:
    return item.origin.key if isinstance(item.origin, LibraryRow) else item.thread.designation
