"""What measured parts change: lines that set the plan's figures beside those of the parts as they are."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.model.design import Design
from trivet.solve.binding import Binding
from trivet.solve.binding_words import chance_words
from trivet.solve.derived import Derived
from trivet.solve.measured import Measured
from trivet.units import length_text

# Figures that print the same have not changed.
MOST_MESHES = 40


def change_lines(
    design: Design, before: Derived, after: Measured, chances: tuple[Binding, Binding], filled: int, rows: int
) -> tuple[str, ...]:
    """One line for each mesh whose backlash changes, then binding, travel, heights and plays; the shop's errors are kept round all of them."""
    unit = design.units
    lines = [f"measured: {filled} of {rows} readings are filled in; the errors of the shop are kept round them"]
    changed = [
        *_meshes(before, after, unit),
        *_lift(before, after.derived, unit),
        *_plays(before, after.derived, unit),
    ]
    if not changed:
        changed = ["nothing changes: every figure stays as the plan has it"]
    chance = _chance(chances)
    return (*lines, *changed, *((chance,) if chance else ()))


def _meshes(before: Derived, after: Measured, unit: str) -> Iterator[str]:
    now = {mesh.id: mesh for mesh in after.derived.train.meshes}
    found = []
    for mesh in before.train.meshes:
        if mesh.id not in now:
            found.append(f"backlash {mesh.a} {mesh.b}: none, these centres are too near to mesh at all")
            continue
        old, new = mesh.backlash, now[mesh.id].backlash
        arrows = _arrow(old.nominal_mm, new.nominal_mm, unit), _arrow(old.min_mm, new.min_mm, unit)
        if any(arrows):
            nominal, worst = arrows[0] or length_text(new.nominal_mm, unit), arrows[1] or length_text(new.min_mm, unit)
            found.append(f"backlash {mesh.a} {mesh.b}: {nominal}; at worst {worst}")
    yield from found[:MOST_MESHES]
    if len(found) > MOST_MESHES:
        yield f"and {len(found) - MOST_MESHES} meshes more"


def _chance(chances: tuple[Binding, Binding]) -> str:
    """What a maker asks first: whether it will run. Empty for a train without meshes."""
    old, new = (item.chance for item in chances)
    if old is None or new is None:
        return ""
    before, after = chance_words(old), chance_words(new)
    return f"binds: {before} -> {after}" if before != after else f"binds: {after}, as planned"


def _lift(before: Derived, after: Derived, unit: str) -> Iterator[str]:
    old, new = before.lift, after.lift
    if old is None or new is None:
        if old is not None:
            yield "travel: none is left"
        return
    for words, one, two in (
        ("travel", old.travel_mm, new.travel_mm),
        ("travel with the worst sheets", old.travel_worst_mm, new.travel_worst_mm),
        ("least height", old.height_min_mm, new.height_min_mm),
        ("greatest height", old.height_max_mm, new.height_max_mm),
    ):
        if arrow := _arrow(one, two, unit):
            yield f"{words}: {arrow}"


def _plays(before: Derived, after: Derived, unit: str) -> Iterator[str]:
    now = {state.id: state for state in after.pivots}
    for state in before.pivots:
        if state.id in now and (arrow := _arrow(state.play.mean, now[state.id].play.mean, unit)):
            yield f"play along {state.id}: {arrow}"


def _arrow(old_mm: float, new_mm: float, unit: str) -> str:
    """`0.5 -> 0.38 mm`; empty where both print the same."""
    old, new = length_text(old_mm, unit), length_text(new_mm, unit)
    return f"{old.rpartition(' ')[0]} -> {new}" if old != new else ""
