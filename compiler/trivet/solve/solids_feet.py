"""Solids of feet: riding gears, heads and pads, screws and rods, inserts and keepers, at the least extension."""

from __future__ import annotations

from trivet.model.hardware import Insert
from trivet.solve.corner import pick
from trivet.solve.derived import GearState
from trivet.solve.foot_case import FootCase, FootSpec, World
from trivet.solve.foot_riding import gear_interval_mm
from trivet.solve.outline_contour import drawn
from trivet.solve.solid import Solid, SolidKind
from trivet.solve.sunk import head_diameter_mm
from trivet.solve.thread_zone import insert_zone


def foot_solids(spec: FootSpec, case: FootCase, world: World, least_mm: float) -> list[Solid]:
    """Everything of one foot but gears that do not ride. `least_mm`: its extension at the least height."""
    foot, state = spec.foot, spec.gear
    found: list[Solid] = []

    def add(kind: SolidKind, diameter_mm: float, low_mm: float, high_mm: float, moves: bool = True, part: str = spec.id) -> None:
        if high_mm - low_mm > 1e-9:
            place = (state.x_mm, state.y_mm, diameter_mm / 2.0)
            found.append(Solid(kind, part, state.id, *place, low_mm, high_mm, moves, None, foot.origin))

    bearing, plane = case.bearing_mm - least_mm, case.plane_mm - least_mm
    major = foot.thread.major_mm
    head = head_diameter_mm(foot.screw.head) if foot.screw is not None else major
    pad = foot.pad.diameter.mm if foot.pad.diameter is not None else head
    if foot.kind == "riding":
        intervals = [(item, gear_interval_mm(spec, world, item.id, least_mm)) for item in spec.stack]
        for item, (low, high) in intervals:
            found.append(_gear(item, state.id, low, high))
        face = intervals[-1][1][0]
        # What stands out of the lower gear's face: the head as far as its pocket leaves it, and the pad.
        pad_top = min(plane + spec.drop_mm, face)
        add("pad", pad, plane, pad_top)
        add("head", head, pad_top, face)
        add("shank", major, intervals[0][1][1], bearing + spec.length_mm)
    elif foot.kind == "sliding_hex":
        add("pad", pad, plane, plane + spec.drop_mm)
        add("head", head, plane + spec.drop_mm, bearing)
        add("shank", major, bearing, bearing + spec.length_mm)
    else:
        add("pad", pad, plane, bearing)
        add("rod", major, bearing, bearing + spec.length_mm)
        if foot.rod_stop_diameter is not None:
            pin = foot.rod_stop_diameter.mm
            tip = bearing + spec.length_mm
            add("rod", major + 4.0 * pin, tip - 1.5 * pin, tip - 0.5 * pin)
    if foot.insert is not None:
        zone, hardware = insert_zone(foot.insert, world.boards.z[foot.into.text]), foot.insert.hardware
        body = hardware.outside.most if isinstance(hardware, Insert) else hardware.barrel_diameter_mm
        add("insert", body, zone.bottom_mm, zone.top_mm, False)
        if hardware.flange_diameter_mm is not None and hardware.flange_thickness_mm is not None:
            low = zone.bottom_mm if foot.insert.driven_from == "underside" else zone.top_mm - hardware.flange_thickness_mm
            add("flange", hardware.flange_diameter_mm, low, low + hardware.flange_thickness_mm, False)
    keeper = world.keepers.get(state.id)
    if foot.keeper is not None and keeper is not None:
        outline = foot.keeper.outline
        plate = drawn(outline).translated(state.x_mm - outline.width_mm / 2.0, state.y_mm - outline.height_mm / 2.0)
        thick = next(pick(s.thickness, world.corner.gear) for s in world.design.sheets if s.name.text == foot.keeper.stock.text)
        # Round ends reach past their vertices.
        reach = max((v.x - state.x_mm) ** 2 + (v.y - state.y_mm) ** 2 for v in plate.vertices) ** 0.5 + outline.corner_radius_mm
        reach = max(outline.width_mm, outline.height_mm) / 2.0 if outline.shape in ("circle", "slot") else reach
        place = (state.x_mm, state.y_mm, reach)
        found.append(
            Solid("keeper", f"{spec.id}.keeper", state.id, *place, keeper, keeper + thick, plate=plate, origin=foot.keeper.origin)
        )
    return found


def _gear(state: GearState, shaft: str, low: float, high: float) -> Solid:
    place = (state.x_mm, state.y_mm, state.tip_radius_mm)
    return Solid("gear", state.id, shaft, *place, low, high, True, None, state.gear.name.origin)
