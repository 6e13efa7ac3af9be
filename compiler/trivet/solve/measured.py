"""A fixture with what was measured on its cut parts in place of what was drawn; the shop's errors are kept round the readings."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from trivet.model.base import Band
from trivet.model.design import Design
from trivet.record import record, replace
from trivet.solve.backlash_budget import backlash_budget
from trivet.solve.carrying import gear_carrying, gear_cutting
from trivet.solve.derived import Derived, GearState, MeshState, Train
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.inspection_reading import Reading, printed_mm
from trivet.solve.measured_facts import with_depths_and_lengths
from trivet.solve.mesh_geometry import mesh_geometry
from trivet.solve.overlap_depth import levels_down_mm
from trivet.solve.solve import solve_heights
from trivet.solve.train import solve_train
from trivet.solve.train_parts import TrainParts, train_parts

Pick = Callable[[Sequence[float]], float]
Filled = Mapping[str, tuple[float, ...]]


@record
class Measured:
    """The fixture as it was cut. `apart`: ids of meshes that the readings leave without any mesh; they are left out of the train."""

    design: Design
    derived: Derived
    apart: tuple[str, ...]


def measured(design: Design, derived: Derived, rows: Sequence[Reading], filled: Filled) -> Measured:
    """Solve again with the readings (mm, by row). Readings that print as expected change nothing.

    Each reading counts by its difference from the printed figure: a span's from the tooth thickness (over cos a), a bore's from its
    play, a depth's from the fact it was cut from, a spacing's from the centre distance, after that of its two holes. Of several
    layers the one that binds first counts; of several places their mean, of a sheet's also the least and the most.
    """
    differences = {row.row: _difference(row, filled[row.row], design.units) for row in rows if row.row in filled}
    thick = _with_thickness(design, rows, filled, differences)
    changed = with_depths_and_lengths(thick, rows, differences)
    train, apart = _train(changed, solve_train(changed), rows, differences)
    again = solve_heights(changed, train)
    return Measured(changed, replace(again, parts=derived.parts), apart)


def _difference(row: Reading, values: tuple[float, ...], unit: str) -> float:
    return math.fsum(values) / len(values) - printed_mm(row.nominal_mm, unit)


def _with_thickness(design: Design, rows: Sequence[Reading], filled: Filled, differences: Mapping[str, float]) -> Design:
    bands: dict[str, Band] = {}
    for row in rows:
        if row.kind != "thickness" or row.row not in filled:
            continue
        values, by = filled[row.row], _whole(differences[row.row])
        old = Band(row.nominal_mm, row.least_mm, row.most_mm)
        mean = old.mean + by
        # One reading shows where the sheet lies, not how much it varies.
        bands[row.of[0]] = Band(mean, min(values), max(values)) if len(values) > 1 else Band(mean, old.least + by, old.most + by)
    if not bands:
        return design
    sheets = tuple(
        sheet.model_copy(update={"thickness": replace(bands[sheet.name.text], origin=sheet.thickness.origin)})
        if sheet.name.text in bands
        else sheet
        for sheet in design.sheets
    )
    return design.model_copy(update={"sheets": sheets})


def _whole(mm: float) -> float:
    """Without the rounding of a sum of printed figures."""
    return 0.0 if abs(mm) < 1e-9 else mm


def _train(
    design: Design, train: Train, rows: Sequence[Reading], differences: Mapping[str, float]
) -> tuple[Train, tuple[str, ...]]:
    spans, tips, bores = (_of_gears(rows, differences, kind, pick) for kind, pick in (("span", max), ("tip", max), ("bore", min)))
    gears = tuple(_gear(state, spans, tips, bores) for state in train.gears)
    spacings = _spacings(rows, differences)
    if not (spans or tips or bores or spacings):
        return train, ()
    states, parts = {state.id: state for state in gears}, train_parts(design)
    down = levels_down_mm((state.shaft, state.level, state.face_width.mean) for state in gears)
    found = [(mesh, _mesh(mesh, states, parts, down, spacings.get(mesh.id, 0.0))) for mesh in train.meshes]
    kept = tuple(new for _, new in found if new is not None)
    return replace(train, gears=gears, meshes=kept), tuple(mesh.id for mesh, new in found if new is None)


def _of_gears(rows: Sequence[Reading], differences: Mapping[str, float], kind: str, pick: Pick) -> dict[str, float]:
    found: dict[str, list[float]] = {}
    for row in rows:
        # Dowels between layers are bores that no play of the gear comes from.
        if row.kind == kind and row.row in differences and (kind != "bore" or row.title.startswith("bore for")):
            found.setdefault(row.of[0], []).append(_whole(differences[row.row]))
    picked = {name: pick(values) for name, values in found.items()}
    return {name: by for name, by in picked.items() if by}


def _gear(state: GearState, spans: Mapping[str, float], tips: Mapping[str, float], bores: Mapping[str, float]) -> GearState:
    shape: ToothGeometry = state.geometry
    thinner = spans.get(state.id, 0.0) / math.cos(shape.pressure_angle_rad)
    shorter = tips.get(state.id, 0.0) / 2.0
    bore = bores.get(state.id, 0.0)
    if not (thinner or shorter or bore):
        return state
    cut = replace(shape, thinning_mm=shape.thinning_mm - thinner, tip_shortening_mm=shape.tip_shortening_mm - shorter)
    return replace(state, geometry=cut, hole_mm=max(state.hole_mm + bore, 0.0))


def _spacings(rows: Sequence[Reading], differences: Mapping[str, float]) -> dict[str, float]:
    """By how much the centres of each mesh stand farther apart: the reading's difference less half of each hole's, where it was measured."""
    holes: dict[str, float] = {}
    for row in rows:
        if row.kind == "hole" and row.row in differences:
            holes[row.title] = differences[row.row]
    # Equal holes share a row, which has the title of the first of them.
    alike = {_set(title): by for title, by in holes.items()}
    found = {
        row.of[0]: _whole(differences[row.row] - math.fsum(alike.get(_set(title), 0.0) for title in row.of[1:]) / 2.0)
        for row in rows
        if row.kind == "spacing" and row.row in differences
    }
    return {name: by for name, by in found.items() if by}


def _set(title: str) -> str:
    """`hole for the insert of corner.nw, 13.50 mm` without the member of its set."""
    words, _, size = title.partition(", ")
    head, _, owner = words.rpartition(" ")
    return f"{head} {owner.partition('.')[0]}, {size}"


def _mesh(
    mesh: MeshState, states: Mapping[str, GearState], parts: TrainParts, down: Mapping[int, float], wider_mm: float
) -> MeshState | None:
    """The mesh with its gears as measured; as it was where nothing that counts in it has changed, None where it can no longer work."""
    one, two = states[mesh.a], states[mesh.b]
    distance = mesh.centre_distance_mm + wider_mm
    geometry = mesh_geometry(one.geometry, two.geometry, distance)
    if geometry is None:
        return None
    overlap = min(one.face_width.mean, two.face_width.mean)
    holders = states[one.shaft], states[two.shaft]
    carrying = tuple(
        gear_carrying(holder.gear, parts, holder.hole_mm, down[state.level] + overlap)
        for holder, state in zip(holders, (one, two), strict=True)
    )
    cutting = gear_cutting(one.gear, parts), gear_cutting(two.gear, parts)
    # What moisture does for each percent hardly depends on the readings.
    moisture = parts.shop.moisture_most - parts.shop.moisture_least, mesh.closer_mm
    budget = backlash_budget(mesh.a, mesh.b, geometry, overlap, cutting, (carrying[0], carrying[1]), moisture)
    widest = mesh_geometry(one.geometry, two.geometry, budget.centre_distance_most_mm)
    assert widest is not None, mesh.id
    return replace(
        mesh,
        geometry=geometry,
        centre_distance_mm=distance,
        working_pressure_angle_deg=math.degrees(geometry.working_angle_rad),
        contact_ratio=geometry.contact_ratio,
        contact_ratio_min=widest.contact_ratio,
        working_depth_min_mm=widest.working_depth_mm,
        tip_clearance_mm=min(geometry.tip_clearance_mm),
        interference_a_mm=geometry.interference_mm[0],
        interference_b_mm=geometry.interference_mm[1],
        backlash=budget.backlash,
        centre_distance_least_mm=budget.centre_distance_least_mm,
        centre_distance_most_mm=budget.centre_distance_most_mm,
        centre_distance_likely_mm=budget.centre_distance_likely_mm,
        moisture_mm=budget.moisture_mm,
    )
