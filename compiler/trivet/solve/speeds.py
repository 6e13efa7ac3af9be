"""How fast and which way each gear turns, exactly."""

from __future__ import annotations

from collections import deque
from fractions import Fraction

from trivet.record import record
from trivet.solve.derived import SpeedConflict
from trivet.solve.train_graph import TrainGraph


@record
class Speeds:
    """Signed turns per drive turn (positive with the drive), the shortest path from the drive, and what does not agree."""

    signed: dict[str, Fraction]
    paths: dict[str, tuple[str, ...]]
    conflicts: tuple[SpeedConflict, ...]
    unreached: tuple[str, ...]


def solve_speeds(graph: TrainGraph) -> Speeds:
    """Breadth first from the drive gear: −z_driver/z_driven at a mesh, 1 on a shaft.

    Wentzell, Machine Elements, example 11.2; Khurmi & Gupta, Theory of Machines, example 13.1 (both by a published copy).
    A mesh or shaft that closes a ring and asks for another speed is a conflict, one for each such mesh or shaft.
    """
    if graph.drive_gear is None:
        return Speeds({}, {}, (), tuple(graph.gears))
    signed = {graph.drive_gear: Fraction(1)}
    paths: dict[str, tuple[str, ...]] = {graph.drive_gear: (graph.drive_gear,)}
    conflicts: list[SpeedConflict] = []
    judged: set[tuple[str, str]] = set()
    waiting = deque([graph.drive_gear])
    while waiting:
        name = waiting.popleft()
        for other, by_mesh in graph.neighbours(name):
            ratio = Fraction(-graph.teeth[name].teeth, graph.teeth[other].teeth) if by_mesh else Fraction(1)
            speed = signed[name] * ratio
            if other not in signed:
                signed[other] = speed
                paths[other] = (*paths[name], other)
                waiting.append(other)
            elif signed[other] != speed and (other, name) not in judged:
                judged.add((name, other))
                origin = graph.mesh(name, other).origin if by_mesh else graph.gears[other].name.origin
                conflicts.append(SpeedConflict(other, signed[other], paths[other], speed, (*paths[name], other), origin))
    unreached = tuple(name for name in graph.gears if name not in signed)
    return Speeds(signed, paths, tuple(conflicts), unreached)
