"""Face overlap of every mesh at both ends of the travel, and the place of each gear's top."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from trivet.model.base import Band
from trivet.record import replace
from trivet.solve.corner import MEAN, sheet_corners
from trivet.solve.derived import GearState, MeshState
from trivet.solve.face_overlap import overlap_mm
from trivet.solve.foot_case import FootSpec, World
from trivet.solve.foot_riding import gear_interval_mm
from trivet.solve.rise import slide_per_travel

Worlds = Mapping[tuple[int, int], World]
# (least, most) extension of each foot, by sheets (board, gear): mean under (0, 0).
Strokes = Mapping[tuple[int, int], Mapping[str, tuple[float, float]]]


def with_overlaps(
    meshes: Sequence[MeshState],
    riders: Mapping[str, FootSpec],
    worlds: Worlds,
    strokes: Strokes,
    rates: Mapping[str, float] | None = None,
) -> tuple[MeshState, ...]:
    """The meshes with their slide and overlaps; `riders`: the riding foot that each gear moves with; `rates`: mm that a climbing gear
    moves per mm of travel.
    """
    climbing = rates or {}
    found = []
    for mesh in meshes:
        one, other = riders.get(mesh.a), riders.get(mesh.b)
        slides = 0.0
        if mesh.a in climbing or mesh.b in climbing:
            each = [climbing.get(gear, 1.0 if gear in riders else 0.0) for gear in (mesh.a, mesh.b)]
            slides = abs(each[0] - each[1])
        elif one is not None and other is not None:
            slides = slide_per_travel(one.foot, one.gear.gear.z, other.foot, other.gear.gear.z)
        elif one is not None or other is not None:
            slides = 1.0
        mean = [_overlap(mesh, riders, worlds[0, 0], strokes.get((0, 0)), end) for end in (0, 1)]
        worst = [
            _overlap(mesh, riders, worlds[c.board, c.gear], strokes.get((c.board, c.gear)), end)
            for c in sheet_corners()
            for end in (0, 1)
        ]
        known = [value for value in worst if value is not None]
        found.append(
            replace(
                mesh,
                slides=slides,
                overlap_at_least_mm=mean[0],
                overlap_at_most_mm=mean[1],
                overlap_worst_mm=min(known) if len(known) == len(worst) else None,
            )
        )
    return tuple(found)


def _overlap(
    mesh: MeshState, riders: Mapping[str, FootSpec], world: World, stroke: Mapping[str, tuple[float, float]] | None, end: int
) -> float | None:
    """Overlap at one end (0 least, 1 most); at extremes of the sheets with every play against us. None where it is not known."""
    worst = world.corner != MEAN
    spans: list[list[tuple[float, float]]] = []
    for gear in (mesh.a, mesh.b):
        rider, fixed = riders.get(gear), world.fixed.get(gear)
        if rider is not None:
            if stroke is None:
                return None
            spans.append([gear_interval_mm(rider, world, gear, stroke[rider.id][end])])
        elif fixed is not None:
            width = fixed.top_mm - fixed.bottom_mm
            spans.append(
                [(fixed.highest_bottom_mm, fixed.highest_bottom_mm + width), (fixed.lowest_top_mm - width, fixed.lowest_top_mm)]
                if worst
                else [(fixed.bottom_mm, fixed.top_mm)]
            )
        else:
            return None
    return min(overlap_mm(one, other) for one in spans[0] for other in spans[1])


def with_tops(
    gears: Sequence[GearState], riders: Mapping[str, FootSpec], worlds: Worlds, strokes: Strokes
) -> tuple[GearState, ...]:
    """The gears with the z of their top faces: at rest, or at the least extension for gears that ride; over sheets and play."""
    found = []
    for state in gears:
        rider = riders.get(state.id)
        tops: list[float] = []
        for key, world in worlds.items():
            fixed = world.fixed.get(state.id)
            if rider is not None:
                least = strokes.get(key, {}).get(rider.id, (0.0, 0.0))[0]
                tops.append(gear_interval_mm(rider, world, state.id, least)[1])
            elif fixed is not None:
                width = fixed.top_mm - fixed.bottom_mm
                tops.append(fixed.top_mm)
                if key != (0, 0):
                    tops += [fixed.lowest_top_mm, fixed.highest_bottom_mm + width]
        found.append(replace(state, z_top=Band(tops[0], min(tops), max(tops))) if tops else state)
    return tuple(found)
