"""What a fixture needs besides hardware: consumables, tools, and the area of each sheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from trivet.model.board import Board, Engrave, Hole, Pocket, Spacer
from trivet.model.design import Design
from trivet.model.hardware import Nut, Screw
from trivet.model.shop import Cutter
from trivet.model.train import Gear
from trivet.record import record
from trivet.solve.derived import Derived
from trivet.solve.spanner import OPEN_SPANNER_MM, Sunk, sunk_hexagons
from trivet.tables.cut_list import cut_parts
from trivet.tables.hardware_items import HardwareItem
from trivet.tables.hardware_words import sold_in
from trivet.tables.wording import band_text, listed, sold_length

# Holes may be a hair under their cutter by rounding of the tables.
SAME_MM = 1e-6
MM_PER_FOOT = 304.8


@record
class ShopLine:
    """One line: `section` is consumable, tool or sheet; `where` what it is for."""

    section: str
    description: str
    where: str
    note: str = ""


def consumables(design: Design, derived: Derived, items: tuple[HardwareItem, ...]) -> tuple[ShopLine, ...]:
    """Glue where something is glued; wax where wood runs on wood or thread."""
    found: list[ShopLine] = []
    heads = tuple(piece.where for piece in items if piece.glued and isinstance(piece.hardware, Screw))
    if heads:
        found.append(ShopLine("consumable", "glue that holds metal to wood", f"screw heads of {listed(heads)}", "after zeroing"))
    fixed = tuple(piece.where for piece in items if piece.glued and piece.kind in ("pad", "magnet"))
    if fixed:
        found.append(ShopLine("consumable", "glue for pads, posts and magnets", listed(fixed)))
    laminated = tuple(part.part for part in cut_parts(design, derived) if part.layers > 1)
    if laminated:
        found.append(ShopLine("consumable", "wood glue", f"layers of {listed(laminated)}"))
    glued = tuple(f"{' and '.join(joint.gears)}" for joint in derived.joints if joint.form == "dowels")
    if glued:
        found.append(ShopLine("consumable", "wood glue", f"faces of {listed(glued)}, with their dowels"))
    if derived.train.meshes:
        found.append(ShopLine("consumable", "dry paste wax", "teeth and gear faces", "common practice, no source"))
    return tuple(found)


def tools(design: Design, derived: Derived, items: tuple[HardwareItem, ...]) -> tuple[ShopLine, ...]:
    """Cutters with diameter and reach, drills for what no cutter reaches into, keys and spanners."""
    unit = design.units
    found: list[ShopLine] = []
    for cutter, where in _cutters(design):
        size = sold_length(cutter.diameter.mm, unit) if cutter.diameter is not None else f"{cutter.tip_angle}"
        reach = f"reach {sold_length(cutter.reach.mm, unit)}" if cutter.reach is not None else "no reach is stated"
        form = "straight cutter, diameter" if cutter.diameter is not None else "vee cutter, tip angle"
        found.append(ShopLine("tool", f"{form} {size}, {reach}", f"{cutter.name}: {listed(where)}"))
    drills: dict[float, list[str]] = {}
    for diameter, where_id in _drilled(design, derived):
        drills.setdefault(round(diameter, 3), []).append(where_id)
    for diameter, wheres in sorted(drills.items()):
        found.append(ShopLine("tool", f"drill {sold_length(diameter, unit)}", listed(tuple(wheres))))
    keys: dict[str, list[str]] = {}
    sunk = {(item.part, item.what): item for item in sunk_hexagons(derived) if item.out_mm < OPEN_SPANNER_MM}
    # What the author says turns the drive stands for what its head would take.
    keyed = {f"{drive.name.text}-bolt" for drive in design.drives if drive.key}
    for piece in items:
        for key in () if piece.item in keyed and _form(piece) == "socket" else _keys(piece, sunk):
            keys.setdefault(key, []).append(piece.item)
    for drive in design.drives:
        if drive.key:
            keys.setdefault(drive.key, []).append(drive.name.text)
    found += [ShopLine("tool", key, listed(tuple(wheres))) for key, wheres in keys.items()]
    return tuple(found)


def sheets(design: Design, derived: Derived) -> tuple[ShopLine, ...]:
    """Area of the parts' boxes on each sheet that is used."""
    areas: dict[str, float] = {}
    for part in cut_parts(design, derived):
        areas[part.sheet] = areas.get(part.sheet, 0.0) + part.area_mm2
    found = []
    for sheet in design.sheets:
        area = areas.get(sheet.name.text)
        if area is None:
            continue
        thick = band_text(sheet.thickness, design.units)
        material = f"{str(sheet.material).replace('_', ' ')}, " if sheet.material is not None else ""
        found.append(
            ShopLine("sheet", f"{material}{thick} thick, {area_text(area, design.units)}", sheet.name.text,
                     "the parts' boxes, without room between them or waste")
        )  # fmt: skip
    return tuple(found)


def area_text(mm2: float, unit: str) -> str:
    """Square metres; for an inch fixture square feet first."""
    metres = f"{mm2 / 1e6:.3f} m²"
    return f"{mm2 / MM_PER_FOOT**2:.2f} sq ft ({metres})" if unit == "in" else metres


def _cutters(design: Design) -> Iterator[tuple[Cutter, tuple[str, ...]]]:
    """Each cutter that is used, in the order of the file, with the parts and features that it cuts."""
    parts: tuple[Board | Gear | Spacer, ...] = (*design.boards, *design.gears, *design.spacers)
    features: tuple[Hole | Pocket | Engrave, ...] = (*design.holes, *design.pockets, *design.engravings)
    uses = [(part.cutter.text, part.name.text) for part in parts]
    uses += [(feature.cutter.text, feature.name.text) for feature in features if feature.cutter is not None]
    for cutter in design.cutters:
        where = tuple(name for used, name in uses if used == cutter.name.text)
        if where:
            yield cutter, where


def _drilled(design: Design, derived: Derived) -> Iterator[tuple[float, str]]:
    """Holes with a stated drill, and holes narrower than the cutter of their part: (diameter, what for)."""
    for pivot in derived.pivots:
        if pivot.pivot.drill is not None:
            yield pivot.pivot.drill.mm, f"pilot of {pivot.id}"
    for hole in design.holes:
        cutter = hole.cutter.text if hole.cutter is not None else _board_cutter(design, hole.into.text)
        if hole.drill_mm is not None:
            yield hole.drill_mm, hole.name.text
        elif _narrow(design, hole.diameter_mm, cutter):
            yield hole.diameter_mm, hole.name.text
    for drive in derived.drives:
        board = derived.train.gear(drive.gear).gear.under.text
        if _narrow(design, drive.drive.hole_mm, _board_cutter(design, board)):
            yield drive.drive.hole_mm, f"hole of {drive.id}"
    for foot in derived.feet:
        insert = foot.foot.insert
        if insert is not None and _narrow(design, insert.hardware.hole_mm, _board_cutter(design, foot.foot.into.text)):
            yield insert.hardware.hole_mm, f"insert of {foot.id}"
    for held in derived.keepers:
        board, gear = _board_cutter(design, held.board), derived.train.gear(held.gear).gear.cutter.text
        if held.places and _narrow(design, held.pilot_mm, board):
            yield held.pilot_mm, f"pilots of {held.id}"
        if held.places and _narrow(design, held.clearance_mm, gear):
            yield held.clearance_mm, f"screws through {held.id}"
    for state in derived.train.gears:
        if _narrow(design, state.hole_mm, state.gear.cutter.text):
            yield state.hole_mm, f"bore of {state.id}"


def _narrow(design: Design, diameter_mm: float, cutter: str) -> bool:
    held = next(item for item in design.cutters if item.name.text == cutter)
    return held.diameter is not None and 0.0 < diameter_mm < held.diameter.mm - SAME_MM


def _board_cutter(design: Design, board: str) -> str:
    return next(item for item in design.boards if item.name.text == board).cutter.text


def _form(piece: HardwareItem) -> str:
    return piece.hardware.head.form if isinstance(piece.hardware, Screw) else ""


def _spanner(piece: HardwareItem, flats_mm: float, sunk: Mapping[tuple[str, str], Sunk]) -> str:
    """A socket spanner where the hexagon is let into a round recess, which only a socket reaches."""
    size = sold_length(flats_mm, sold_in(piece))
    held = sunk.get((piece.where, "hexagon head" if isinstance(piece.hardware, Screw) else piece.kind.replace("_", " ")))
    turned = held is not None and held.recess_mm is not None
    return f"socket spanner {size}" if turned else f"spanner {size}"


def _keys(piece: HardwareItem, sunk: Mapping[tuple[str, str], Sunk]) -> Iterator[str]:
    """Spanners by the size that is stamped on them, whatever the fixture prints."""
    hardware = piece.hardware
    if isinstance(hardware, Screw) and hardware.head.form == "countersunk":
        angle = f"{hardware.head.angle_deg:g} deg, " if hardware.head.angle_deg is not None else ""
        yield f"countersink, {angle}at least {sold_length(hardware.head.diameter_mm, sold_in(piece))} across"
    if isinstance(hardware, Screw) and hardware.head.form == "wood":
        yield f"countersink, at least {sold_length(hardware.head.diameter_mm, sold_in(piece))} across"
    if isinstance(hardware, Screw):
        if hardware.head.key:
            yield hardware.head.key
        elif hardware.head.form == "hexagon" and hardware.head.across_flats_mm is not None:
            yield _spanner(piece, hardware.head.across_flats_mm, sunk)
        else:
            yield f"screwdriver for a {hardware.head.form} head"
    elif isinstance(hardware, Nut):
        yield _spanner(piece, hardware.across_flats_mm, sunk)
