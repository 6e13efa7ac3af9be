"""Closed rings of meshes whose gears must find tooth in space together, whatever their axes are off."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trivet.record import record
from trivet.solve.derived import Derived
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.involute import pressure_angle_at


@record
class ErrorMesh:
    """A mesh for the run. `axes`, `cuts`: positions in the train's tuples. `along_mm`: from the first axis to the second.

    `reaches_mm`: from each insert's mid-length to the far end of the overlap; `overlap_mm`: the shared face width. `closer_mm`: how much
    nearer the gears come for each percent of moisture, wetter and drier.
    """

    id: str
    first: ToothGeometry
    second: ToothGeometry
    along_mm: tuple[float, float]
    axes: tuple[int, int]
    cuts: tuple[int, int]
    reaches_mm: tuple[float, float]
    overlap_mm: float
    closer_mm: tuple[float, float] = (0.0, 0.0)


@record
class MeshedRing:
    """A ring in order: its gears' ids, and the id of each mesh from a gear to the next. `residual_mm`: signed arc that drawn centres leave."""

    gears: tuple[str, ...]
    meshes: tuple[str, ...]
    residual_mm: float


@record
class ErrorRing:
    """A ring for the run. `meshes`: positions in the train's tuple, in ring order; `signs`: +1 and -1 in turn.

    `off_centre`: (position of the axis, factor on one bound, on the other), what a gear that turns off its centre takes of the ring's
    room, in mm of arc for each mm.
    """

    gears: tuple[str, ...]
    meshes: tuple[int, ...]
    signs: tuple[int, ...]
    residual_mm: float
    off_centre: tuple[tuple[int, float, float], ...]


def meshed_rings(derived: Derived) -> tuple[MeshedRing, ...]:
    """Rings of an even number of meshes and of nothing else: one that a shaft closes can always be clocked, an odd one locks anyway."""
    by_pair = {frozenset((mesh.a, mesh.b)): mesh for mesh in derived.train.meshes}
    states = {state.id: state for state in derived.train.gears}
    found = []
    for loop in derived.train.loops:
        pairs = [frozenset(side) for side in zip(loop.gears, loop.gears[1:] + loop.gears[:1], strict=True)]
        if loop.odd or not all(side in by_pair for side in pairs):
            continue
        total = 0.0
        for k, name in enumerate(loop.gears):
            one, two = states[name], states[loop.gears[(k + 1) % len(loop.gears)]]
            towards = math.atan2(two.y_mm - one.y_mm, two.x_mm - one.x_mm)
            # Of the condition for a tooth in a space, what does not turn with the gears: those parts cancel round the ring.
            turns = (one.geometry.teeth + two.geometry.teeth) * towards + (two.geometry.teeth - 1) * math.pi
            total += (-1) ** k * turns / (2.0 * math.pi)
        module = states[loop.gears[0]].geometry.module_mm
        residual = (total - round(total)) * math.pi * module
        found.append(MeshedRing(loop.gears, tuple(by_pair[side].id for side in pairs), residual))
    return tuple(found)


def error_ring(ring: MeshedRing, meshes: Sequence[ErrorMesh]) -> ErrorRing:
    """With what each axis does to the ring: a shift of a gear turns its two meshes out of phase and takes room of them, as its vectors say.

    A mesh gives half its backlash either way; nearer by d it gives d tan aw less, and aside by d it is d out of phase.
    """
    places = {mesh.id: index for index, mesh in enumerate(meshes)}
    order = tuple(places[name] for name in ring.meshes)
    signs = tuple(1 - 2 * (k % 2) for k in range(len(order)))
    pulls: dict[int, list[tuple[float, float, float, float]]] = {}
    for index, sign in zip(order, signs, strict=True):
        mesh = meshes[index]
        nominal = math.hypot(*mesh.along_mm)
        ux, uy = mesh.along_mm[0] / nominal, mesh.along_mm[1] / nominal
        slope = math.tan(pressure_angle_at(nominal, mesh.first.base_radius_mm + mesh.second.base_radius_mm))
        for axis, way in zip(mesh.axes, (1.0, -1.0), strict=True):
            # Towards the mate, and across: the second gear's shift to the left counts in full, the first's against it.
            pulls.setdefault(axis, []).append((way * ux * slope, way * uy * slope, way * sign * uy, -way * sign * ux))
    off = []
    for axis, parts in sorted(pulls.items()):
        near_x, near_y, side_x, side_y = (sum(part[k] for part in parts) for k in range(4))
        off.append((axis, math.hypot(near_x + side_x, near_y + side_y), math.hypot(near_x - side_x, near_y - side_y)))
    return ErrorRing(ring.gears, order, signs, ring.residual_mm, tuple(off))
