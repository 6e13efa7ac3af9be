"""The gear train of a design: places, speeds, levels, teeth, meshes and rings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

from trivet.model.base import Band
from trivet.model.design import Design
from trivet.model.train import Gear
from trivet.record import record, replace
from trivet.solve.backlash_budget import backlash_budget
from trivet.solve.bore import gear_bore
from trivet.solve.carrying import gear_carrying, gear_cutting
from trivet.solve.derived import GearState, MeshState, PlacementFault, Train
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.largest_cutter import Memo, largest_cutter
from trivet.solve.levels import solve_levels
from trivet.solve.mesh_geometry import mesh_geometry, working_angle_rad
from trivet.solve.moisture import movement_of
from trivet.solve.overlap_depth import levels_down_mm
from trivet.solve.phases import solve_phases
from trivet.solve.placement import Placement, solve_placement
from trivet.solve.speeds import Speeds, solve_speeds
from trivet.solve.thinning import solve_thinning
from trivet.solve.train_because import backlash_because, distance_because, speed_because, thickness_because
from trivet.solve.train_graph import Pair, TrainGraph, pair, teeth_of, train_graph
from trivet.solve.train_parts import TrainParts, train_parts
from trivet.units import two_lengths

# A distance between derived places is the distance that placed them: rounding in sums of coordinates stays below this.
ROUNDING_MM = 1e-9


@record
class _Solved:
    """What is known of every gear before states are written; `distances` of the meshes that can work. `bores`: (mm, why)."""

    unit: str
    graph: TrainGraph
    parts: TrainParts
    speeds: Speeds
    placement: Placement
    levels: dict[str, int]
    distances: dict[Pair, float]
    teeth: dict[str, ToothGeometry]
    bores: dict[str, tuple[float, str]]

    def holder(self, name: str) -> Gear:
        """The gear of the shaft that has the drive, pivot or foot."""
        return self.graph.gears[self.graph.shaft_of[name]]


def solve_train(design: Design) -> Train:
    """All gears that have a place and all meshes that can work; what has none, or cannot, is among the faults.

    Independent of the order of statements; linear in gears, meshes and the length of rings. `z_top` and overlaps are left for the
    heights. Speeds, conflicts and unreached gears are known for gears without a place too.
    """
    graph, parts, unit = train_graph(design), train_parts(design), design.units
    placement = solve_placement(graph, design.rings, unit)
    levels, level_faults = solve_levels(graph)
    distances, mesh_faults = _distances(graph, placement, unit)
    thinning = solve_thinning(graph, distances)
    gears = graph.gears.items()
    solved = _Solved(
        unit=unit,
        graph=graph,
        parts=parts,
        speeds=solve_speeds(graph),
        placement=placement,
        levels=levels,
        distances=distances,
        teeth={name: teeth_of(gear, graph.forms[gear.tooth_form.text], thinning[name]) for name, gear in gears},
        bores={name: gear_bore(gear, graph.gears[graph.shaft_of[name]], parts, unit) for name, gear in gears},
    )
    meshes = list(_meshes(solved))
    phases = solve_phases(graph, placement.places, {pair(mesh.a, mesh.b): mesh.backlash.min_mm for mesh in meshes})
    return Train(
        gears=tuple(_gears(solved, phases.phase_rad)),
        meshes=tuple(replace(mesh, in_loop=pair(mesh.a, mesh.b) in phases.in_loop) for mesh in meshes),
        loops=phases.loops,
        conflicts=solved.speeds.conflicts,
        faults=placement.faults + mesh_faults + level_faults,
        unreached=solved.speeds.unreached,
        drive_gear=graph.drive_gear,
    )


def _distances(graph: TrainGraph, placement: Placement, unit: str) -> tuple[dict[Pair, float], tuple[PlacementFault, ...]]:
    """Actual centre distances of the meshes that can work, and the faults of the others."""
    found: dict[Pair, float] = {}
    faults: list[PlacementFault] = []
    for (a, b), mesh in graph.meshes.items():
        if not graph.alike(a, b):
            message = f"`{a}` and `{b}` are in mesh but have different modules or pressure angles"
            faults.append(PlacementFault("unlike_teeth", mesh.b.text, message, None, None, mesh.origin))
        elif a in placement.places and b in placement.places:
            distance, wanted = math.dist(placement.places[a], placement.places[b]), graph.distance_mm(mesh)
            distance = wanted if abs(distance - wanted) < ROUNDING_MM else distance
            if working_angle_rad(graph.teeth[a], graph.teeth[b], distance) is not None:
                found[a, b] = distance
                continue
            allowed = graph.teeth[a].base_radius_mm + graph.teeth[b].base_radius_mm
            if wanted >= allowed and (mesh.angle is not None or mesh.centre_distance is not None):
                continue  # The mesh asks for a place or a distance that the gears do not have: reported as that.
            shown, least = two_lengths(distance, allowed, unit)
            message = f"`{a}` and `{b}` stand {shown} apart, too close to mesh: their base circles alone need {least}"
            faults.append(PlacementFault("mesh_distance", mesh.b.text, message, distance, allowed, mesh.origin))
    return found, tuple(faults)


def _meshes(solved: _Solved) -> Iterator[MeshState]:
    graph, parts, teeth, unit = solved.graph, solved.parts, solved.teeth, solved.unit
    widths = {name: parts.face_width(gear).mean for name, gear in graph.gears.items()}
    cutting = {name: gear_cutting(gear, parts) for name, gear in graph.gears.items()}
    down = levels_down_mm((graph.shaft_of[name], solved.levels[name], width) for name, width in widths.items())
    for key, distance in solved.distances.items():
        mesh = graph.meshes[key]
        a, b = mesh.a.text, mesh.b.text
        geometry = mesh_geometry(teeth[a], teeth[b], distance)
        assert geometry is not None, key
        overlap = min(widths[a], widths[b])
        one, two = (
            gear_carrying(solved.holder(name), parts, solved.bores[graph.shaft_of[name]][0], down[solved.levels[name]] + overlap)
            for name in (a, b)
        )
        (x, y), (far_x, far_y) = solved.placement.places[a], solved.placement.places[b]
        moved = movement_of(graph.gears[a], graph.gears[b], solved.holder(a), math.atan2(far_y - y, far_x - x), parts)
        closer = moved.closer_mm(geometry.working_radii_mm)
        moisture = (parts.shop.moisture_most - parts.shop.moisture_least, closer)
        budget = backlash_budget(a, b, geometry, overlap, (cutting[a], cutting[b]), (one, two), moisture)
        widest = mesh_geometry(teeth[a], teeth[b], budget.centre_distance_most_mm)
        assert widest is not None, key
        yield MeshState(
            id=f"{a}-{b}",
            mesh=mesh,
            a=a,
            b=b,
            geometry=geometry,
            centre_distance_mm=distance,
            standard_centre_distance_mm=geometry.standard_centre_distance_mm,
            working_pressure_angle_deg=math.degrees(geometry.working_angle_rad),
            contact_ratio=geometry.contact_ratio,
            contact_ratio_min=widest.contact_ratio,
            working_depth_min_mm=widest.working_depth_mm,
            tip_clearance_mm=min(geometry.tip_clearance_mm),
            interference_a_mm=geometry.interference_mm[0],
            interference_b_mm=geometry.interference_mm[1],
            backlash=budget.backlash,
            placed_by_it=key in solved.placement.placed_by,
            in_loop=False,
            tight_centre_distance_mm=graph.tight_mm(a, b),
            centre_distance_least_mm=budget.centre_distance_least_mm,
            centre_distance_most_mm=budget.centre_distance_most_mm,
            centre_distance_likely_mm=budget.centre_distance_likely_mm,
            closer_mm=closer,
            moisture_mm=budget.moisture_mm,
            because=(
                distance_because(graph, mesh, geometry, key in solved.placement.placed_by, unit),
                backlash_because(mesh, geometry, teeth[a], teeth[b], unit),
            ),
        )


def _gears(solved: _Solved, phase_rad: dict[str, float]) -> Iterator[GearState]:
    graph, parts, teeth, distances, speeds = solved.graph, solved.parts, solved.teeth, solved.distances, solved.speeds
    memo: Memo = {}
    for name, (x, y) in solved.placement.places.items():
        gear = graph.gears[name]
        mates = [(other, teeth[other], distances[key]) for other in graph.meshed[name] if (key := pair(name, other)) in distances]
        largest, limit = largest_cutter(teeth[name], mates, memo)
        signed = speeds.signed.get(name)
        because = [] if signed is None else [speed_because(graph, name, speeds.signed, speeds.paths[name])]
        yield GearState(
            id=name,
            gear=gear,
            kind=_kind(solved.holder(name), parts),
            geometry=teeth[name],
            cutter_diameter_mm=parts.cutter_mm(gear),
            largest_cutter_mm=largest,
            cutter_limit=limit,
            x_mm=x,
            y_mm=y,
            phase_rad=phase_rad[name],
            speed=abs(signed) if signed is not None else None,
            direction=0 if signed is None else 1 if signed > 0 else -1,
            level=solved.levels[name],
            face_width=parts.face_width(gear),
            z_top=Band(0.0, 0.0, 0.0),
            path=speeds.paths.get(name, ()),
            hole_mm=solved.bores[name][0],
            hole_because=solved.bores[name][1],
            foot_id=f"{gear.carries}.{name}" if gear.carries is not None else "",
            shaft=graph.shaft_of[name],
            because=(*because, thickness_because(graph, name, teeth[name], solved.unit)),
        )


def _kind(holder: Gear, parts: TrainParts) -> Literal["drive", "idler", "foot"]:
    if holder.turned_by is not None:
        return "drive"
    stands = holder.carries is not None and parts.feet[holder.carries.text].climbs_from is None
    return "foot" if stands else "idler"
