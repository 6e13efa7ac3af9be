"""Gears for which no place can be derived: one fault for each group that hangs together."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.solve.derived import PlacementFault
from trivet.solve.train_graph import TrainGraph


def unplaced_faults(graph: TrainGraph, placed: frozenset[str]) -> Iterator[PlacementFault]:
    """One `no_place` a group: the gear to mend first, the others named. A place for one gear would place most of its group."""
    seen: set[str] = set()
    for name in graph.gears:
        if name in placed or name in seen:
            continue
        seen.add(name)
        group = [name]
        for member in group:
            for other, _ in graph.neighbours(member):
                if other not in placed and other not in seen:
                    seen.add(other)
                    group.append(other)
        yield _fault(graph, sorted(group), placed)


def _fault(graph: TrainGraph, group: list[str], placed: frozenset[str]) -> PlacementFault:
    for name in group:
        for other in graph.meshed[name]:
            if other in placed:
                message = f"`{name}` has no place: its mesh with `{other}` gives no angle" + _others(group, name)
                return PlacementFault("no_place", name, message, None, None, graph.gears[name].name.origin)
    name = group[0]
    joined = bool(graph.meshed[name] or graph.shafted[name])
    why = "no gear that it is joined to has a place" if joined else "neither `at` nor a mesh with an angle gives one"
    message = f"`{name}` has no place: {why}" + _others(group, name)
    return PlacementFault("no_place", name, message, None, None, graph.gears[name].name.origin)


def _others(group: list[str], name: str) -> str:
    others = [other for other in group if other != name]
    if not others:
        return ""
    shown = ", ".join(f"`{other}`" for other in others[:3])
    more = f" and {len(others) - 3} more" if len(others) > 3 else ""
    return f"; without it neither {'has' if len(others) == 1 else 'have'} {shown}{more}"
