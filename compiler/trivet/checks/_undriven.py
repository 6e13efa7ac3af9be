"""Gears that the drive does not reach, in groups that hang together: one forgotten mesh is one fault."""

from __future__ import annotations

from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.train_graph import train_graph


def undriven(design: Design, derived: Derived) -> tuple[tuple[str, ...], ...]:
    """The names of each group joined by meshes and shafts, in the order of the file; empty where no gear is turned at all."""
    if derived.train.drive_gear is None:
        return ()
    left = dict.fromkeys(gear.name.text for gear in design.gears if gear.name.text in derived.train.unreached)
    joined: dict[str, set[str]] = {name: set() for name in left}
    pairs = [*train_graph(design).meshes]
    pairs += [(gear.name.text, gear.on_shaft_with.text) for gear in design.gears if gear.on_shaft_with is not None]
    for a, b in pairs:
        if a in joined and b in joined:
            joined[a].add(b)
            joined[b].add(a)
    groups: list[tuple[str, ...]] = []
    while left:
        found, open_ends = {next(iter(left))}, [next(iter(left))]
        while open_ends:
            new = joined[open_ends.pop()] - found
            found |= new
            open_ends += new
        groups.append(tuple(name for name in left if name in found))
        left = dict.fromkeys(name for name in left if name not in found)
    return tuple(groups)
