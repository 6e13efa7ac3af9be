"""How each gear is turned so that teeth stand in spaces, and whether closed rings of meshes can be put together."""

from __future__ import annotations

import math
from collections import deque

from trivet.record import record
from trivet.solve.derived import LoopState
from trivet.solve.mesh_phase import direction_rad, mesh_residual_pitches, next_phase_rad
from trivet.solve.train_graph import Pair, TrainGraph, pair

Place = tuple[float, float]


@record
class Phases:
    """Direction of one tooth of each placed gear (rad, anticlockwise from +x), the rings, and the pairs in mesh that lie on one."""

    phase_rad: dict[str, float]
    loops: tuple[LoopState, ...]
    in_loop: frozenset[Pair]


def solve_phases(graph: TrainGraph, places: dict[str, Place], least_backlash_mm: dict[Pair, float]) -> Phases:
    """A spanning tree from the drive gear, whose first tooth points along +x; `least_backlash_mm` holds the meshes that work.

    The tree takes every mesh it can before a shaft, for the clocking of two gears on one shaft is free until they are
    fixed: across a shaft a tooth is put on the ray of the other gear's first tooth, and a ring that a shaft closes
    always assembles (residual 0), the drawing showing the clocking. A ring of meshes alone leaves a residual:
    pitches by which the closing mesh is out, times pi m; it assembles within half the sum of its meshes' least
    backlash. Each mesh or shaft outside the tree closes one ring.
    """
    phase: dict[str, float] = {}
    parent: dict[str, str | None] = {}
    depth: dict[str, int] = {}
    closing: list[tuple[str, str, bool]] = []
    shafts: deque[tuple[str, str]] = deque()
    for root in graph.roots():
        if root not in places or root in phase:
            continue
        phase[root], parent[root], depth[root] = 0.0, None, 0
        waiting = deque([root])
        while waiting or shafts:
            if not waiting:
                mate, other = shafts.popleft()
                if other in phase:
                    if parent[other] != mate and parent[mate] != other:
                        closing.append((*pair(mate, other), False))
                    continue
                step = 2.0 * math.pi / graph.teeth[other].teeth
                phase[other], parent[other], depth[other] = phase[mate] % step, mate, depth[mate] + 1
                waiting.append(other)
                continue
            name = waiting.popleft()
            for other in graph.meshed[name]:
                if pair(name, other) not in least_backlash_mm:
                    continue
                if other not in phase:
                    towards = direction_rad(places[name], places[other])
                    teeth = graph.teeth[name].teeth
                    phase[other] = next_phase_rad(teeth, phase[name], towards, graph.teeth[other].teeth)
                    parent[other], depth[other] = name, depth[name] + 1
                    waiting.append(other)
                elif parent[name] != other and parent[other] != name:
                    closing.append((*pair(name, other), True))
            shafts.extend((name, other) for other in graph.shafted[name] if other in places)
    loops: list[LoopState] = []
    in_loop: set[Pair] = set()
    for a, b, by_mesh in dict.fromkeys(closing):
        gears = _ring(a, b, parent, depth)
        loop, pairs = _loop(graph, gears, by_mesh, phase, places, least_backlash_mm)
        loops.append(loop)
        in_loop.update(pairs)
    return Phases(phase, tuple(loops), frozenset(in_loop))


def _ring(a: str, b: str, parent: dict[str, str | None], depth: dict[str, int]) -> tuple[str, ...]:
    """The gears from a to b along the tree: the ring that a–b closes."""
    left, right = [a], [b]
    while left[-1] != right[-1]:
        side = left if depth[left[-1]] >= depth[right[-1]] else right
        above = parent[side[-1]]
        assert above is not None, (a, b)
        side.append(above)
    return (*left, *reversed(right[:-1]))


def _loop(
    graph: TrainGraph,
    gears: tuple[str, ...],
    by_mesh: bool,
    phase: dict[str, float],
    places: dict[str, Place],
    least_backlash_mm: dict[Pair, float],
) -> tuple[LoopState, list[Pair]]:
    a, b = gears[0], gears[-1]
    sides = [pair(one, other) for one, other in zip(gears, gears[1:] + gears[:1], strict=True)]
    meshes = [side for side in sides if side in least_backlash_mm and not _shaft_side(graph, side)]
    residual = 0.0
    if by_mesh:
        residual = abs(
            mesh_residual_pitches(
                graph.teeth[a].teeth, phase[a], direction_rad(places[a], places[b]), graph.teeth[b].teeth, phase[b]
            )
        )
    loop = LoopState(
        gears=gears,
        odd=len(meshes) % 2 == 1,
        residual_mm=residual * math.pi * graph.teeth[a].module_mm,
        allowed_mm=0.5 * max(0.0, math.fsum(least_backlash_mm[side] for side in meshes)),
        in_half_pitch=2.0 * residual,
        origin=graph.mesh(a, b).origin if by_mesh else graph.gears[b].name.origin,
    )
    return loop, meshes


def _shaft_side(graph: TrainGraph, side: Pair) -> bool:
    return side[1] in graph.shafted[side[0]]
