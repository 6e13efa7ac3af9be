"""Where each gear's centre stands: stated, or derived from a mesh, a ring or a shaft."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterator

from trivet.model.train import Mesh, Ring
from trivet.record import record
from trivet.solve.derived import PlacementFault
from trivet.solve.ring_circle import ring_angles_rad, ring_radius_mm
from trivet.solve.train_graph import Pair, TrainGraph, pair
from trivet.solve.unplaced import unplaced_faults
from trivet.source import Origin
from trivet.units import length_text, two_lengths

# Stated and derived places agree when they differ by no more than this; drawings print 0.01 mm.
AGREEMENT_MM = 0.01

Place = tuple[float, float]


@record
class Placement:
    """World places (mm) of the gears that have one, the pairs whose mesh or ring placed one of them, and what is wrong."""

    places: dict[str, Place]
    placed_by: frozenset[Pair]
    faults: tuple[PlacementFault, ...]


@record
class _Step:
    """From a gear to a neighbour: the displacement that a mesh (None: a shaft) asks for."""

    other: str
    dx: float
    dy: float
    mesh: Mesh | None


def solve_placement(graph: TrainGraph, rings: tuple[Ring, ...], unit: str = "mm") -> Placement:
    """Stated places first, then rings, then breadth first over meshes with an angle and over shafts, either way round.

    A mesh places at the centre distance stated, or at that without backlash before thinning. A place that is stated
    wins over one that is derived; both are compared. The order of statements plays no part. `unit` is the messages'.
    """
    places = {name: (gear.at.x, gear.at.y) for name, gear in graph.gears.items() if gear.at is not None}
    stated = frozenset(places)
    placed_by: set[Pair] = set()
    faults: list[PlacementFault] = []
    for ring in sorted(rings, key=lambda r: r.name.text):
        faults += _place_ring(graph, ring, places, placed_by, unit)
    steps = _steps(graph)
    waiting = deque(sorted(places))
    while waiting:
        name = waiting.popleft()
        for step in steps[name]:
            if step.other not in places:
                places[step.other] = (places[name][0] + step.dx, places[name][1] + step.dy)
                waiting.append(step.other)
                if step.mesh is not None:
                    placed_by.add(pair(name, step.other))
    faults += _disagreements(graph, places, stated, steps, unit)
    faults += unplaced_faults(graph, frozenset(places))
    return Placement(dict(sorted(places.items())), frozenset(placed_by), tuple(faults))


def _place_ring(
    graph: TrainGraph, ring: Ring, places: dict[str, Place], placed_by: set[Pair], unit: str
) -> Iterator[PlacementFault]:
    names = [gear.text for gear in ring.gears]
    pairs = list(zip(names, names[1:] + names[:1], strict=True))
    chords = [graph.distance_mm(graph.mesh(a, b)) if a != b else 0.0 for a, b in pairs]
    radius = ring_radius_mm(chords)
    if radius is None:
        message = f"the gears of ring `{ring.name}` cannot stand on one circle round a place inside it, each in mesh with the next"
        yield PlacementFault("no_place", names[0] if names else "", message, None, None, ring.name.origin)
        return
    angle = math.radians(ring.first_at.value)
    for gear, (a, b), turn in zip(ring.gears, pairs, ring_angles_rad(chords, radius), strict=True):
        derived = (ring.around.x + radius * math.cos(angle), ring.around.y + radius * math.sin(angle))
        place = places.setdefault(gear.text, derived)
        if place == derived:
            placed_by.add(pair(a, b))
        elif (fault := _two_places(gear.text, place, derived, f"ring `{ring.name}`", gear.origin, unit)) is not None:
            yield fault
        angle += turn


def _steps(graph: TrainGraph) -> dict[str, list[_Step]]:
    steps: dict[str, list[_Step]] = {name: [] for name in graph.gears}
    for mesh in graph.statements:
        if mesh.angle is None:
            continue
        distance, angle = graph.distance_mm(mesh), math.radians(mesh.angle.value)
        dx, dy = distance * math.cos(angle), distance * math.sin(angle)
        steps[mesh.a.text].append(_Step(mesh.b.text, dx, dy, mesh))
        steps[mesh.b.text].append(_Step(mesh.a.text, -dx, -dy, mesh))
    for name, others in graph.shafted.items():
        steps[name] += [_Step(other, 0.0, 0.0, None) for other in others]
    for found in steps.values():
        found.sort(key=lambda step: (step.other, step.dx, step.dy))
    return steps


def _disagreements(
    graph: TrainGraph, places: dict[str, Place], stated: frozenset[str], steps: dict[str, list[_Step]], unit: str
) -> Iterator[PlacementFault]:
    for name in sorted(places):
        for step in steps[name]:
            other, mesh = step.other, step.mesh
            if other not in places or (mesh.a.text != name if mesh is not None else name > other):
                continue
            x, y = places[name]
            why = f"its mesh with `{name}`" if mesh is not None else f"its shaft with `{name}`"
            origin = mesh.origin if mesh is not None else graph.gears[other].name.origin
            fault = _two_places(other, places[other], (x + step.dx, y + step.dy), why, origin, unit)
            if fault is not None:
                yield fault
    for (a, b), mesh in graph.meshes.items():
        if mesh.centre_distance is None or mesh.angle is not None or a not in places or b not in places:
            continue
        measured, wanted = math.dist(places[a], places[b]), mesh.centre_distance.mm
        if abs(measured - wanted) > AGREEMENT_MM:
            shown, asked = two_lengths(measured, wanted, unit)
            message = f"`{a}` and `{b}` stand {shown} apart; their mesh states {asked}"
            yield PlacementFault("two_places", a if b in stated else b, message, measured, wanted, mesh.origin)


def _two_places(name: str, place: Place, derived: Place, why: str, origin: Origin | None, unit: str) -> PlacementFault | None:
    apart = math.dist(place, derived)
    if apart <= AGREEMENT_MM:
        return None
    shown = [f"({length_text(x, unit, 3)}, {length_text(y, unit, 3)})" for x, y in (place, derived)]
    message = f"`{name}` stands at {shown[0]}; {why} puts it at {shown[1]}, {length_text(apart, unit, 3)} away"
    return PlacementFault("two_places", name, message, apart, AGREEMENT_MM, origin)
