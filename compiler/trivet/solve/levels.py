"""At which axial level each gear hangs: 0 directly under its board, 1 the next down."""

from __future__ import annotations

from collections import deque

from trivet.solve.derived import PlacementFault
from trivet.solve.train_graph import TrainGraph


def solve_levels(graph: TrainGraph) -> tuple[dict[str, int], tuple[PlacementFault, ...]]:
    """Gears in mesh share a level; on a shaft `below` is the next down. The highest gears joined together hang at level 0."""
    levels: dict[str, int] = {}
    faults: list[PlacementFault] = []
    for root in graph.roots():
        if root in levels:
            continue
        levels[root] = 0
        group = [root]
        waiting = deque(group)
        judged: set[tuple[str, str]] = set()
        while waiting:
            name = waiting.popleft()
            for other, by_mesh in graph.neighbours(name):
                level = levels[name] + (0 if by_mesh else _step(graph, name, other))
                if other not in levels:
                    levels[other] = level
                    group.append(other)
                    waiting.append(other)
                elif levels[other] != level and (other, name) not in judged:
                    judged.add((name, other))
                    faults.append(_fault(graph, name, other, by_mesh))
        top = min(levels[name] for name in group)
        for name in group:
            levels[name] -= top
    return levels, tuple(faults)


def _step(graph: TrainGraph, name: str, other: str) -> int:
    """Levels from `name` down to `other` on one shaft."""
    gear = graph.gears[other]
    if gear.on_shaft_with is not None and gear.on_shaft_with.text == name:
        return 1 if gear.on_shaft_side == "below" else -1
    return -1 if graph.gears[name].on_shaft_side == "below" else 1


def _fault(graph: TrainGraph, name: str, other: str, by_mesh: bool) -> PlacementFault:
    if by_mesh:
        message = f"`{name}` and `{other}` are in mesh, but the shafts between them put them at different levels"
        return PlacementFault("two_levels", other, message, None, None, graph.mesh(name, other).origin)
    message = f"`{other}` would hang at two levels: on its shaft with `{name}`, and by the meshes that join them"
    return PlacementFault("two_levels", other, message, None, None, graph.gears[other].name.origin)
