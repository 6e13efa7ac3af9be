"""The rest: the train's gears and meshes, parameters, names, sheets."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from trivet.compare.change import Change
from trivet.tables.wording import listed
from trivet.units import length_text, number_text

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Derived, GearState

SAME_MM = 1e-4


def rest_changes(old: tuple[Design, Derived], new: tuple[Design, Derived]) -> tuple[Change, ...]:
    """What changed besides what the other lists hold."""
    unit = new[0].units
    found = [*_gears(old[1], new[1], unit), *_meshes(old[1], new[1]), *_parameters(old[0], new[0]), *_names(old[0], new[0])]
    return tuple(found)


def _gears(old: Derived, new: Derived, unit: str) -> Iterator[Change]:
    """Gears that change alike in one change."""
    before, after = ({state.id: state for state in derived.train.gears} for derived in (old, new))
    groups: dict[tuple[str, str, str], list[str]] = {}
    for name in [*before, *(name for name in after if name not in before)]:
        for what, first, second in _gear(before.get(name), after.get(name), unit):
            groups.setdefault((what, first, second), []).append(name)
    for (what, first, second), names in groups.items():
        yield Change(what.format(f"gear{'s' if len(names) > 1 else ''} {listed(tuple(names))}"), first, second)


def _gear(old: GearState | None, new: GearState | None, unit: str) -> Iterator[tuple[str, str, str]]:
    if old is None or new is None or old.geometry.teeth != new.geometry.teeth:
        yield "{}", _teeth(old), _teeth(new)
    if old is None or new is None:
        return
    moved = math.hypot(new.x_mm - old.x_mm, new.y_mm - old.y_mm)
    if moved > SAME_MM:
        yield "{} moved", "", f"by {length_text(moved, unit)}"
    if old.speed != new.speed or old.direction != new.direction:
        yield "{} per drive turn", _turns(old), _turns(new)


def _teeth(state: GearState | None) -> str:
    return "" if state is None else f"{state.geometry.teeth} teeth"


def _turns(state: GearState) -> str:
    if state.speed is None:
        return "not turned"
    return f"{number_text(state.speed, 4)} turns {'with' if state.direction > 0 else 'against'} the drive"


def _meshes(old: Derived, new: Derived) -> Iterator[Change]:
    before, after = (
        {frozenset((mesh.a, mesh.b)): f"{mesh.a} and {mesh.b}" for mesh in derived.train.meshes} for derived in (old, new)
    )
    yield from (Change(f"mesh of {words}", "there", "") for pair, words in before.items() if pair not in after)
    yield from (Change(f"mesh of {words}", "", "there") for pair, words in after.items() if pair not in before)


def _parameters(old: Design, new: Design) -> Iterator[Change]:
    before, after = ({item.name.text: item.text for item in design.parameters} for design in (old, new))
    for name in [*before, *(name for name in after if name not in before)]:
        first, second = before.get(name, ""), after.get(name, "")
        if first != second:
            yield Change(f"parameter {name}", first, second)


def _names(old: Design, new: Design) -> Iterator[Change]:
    for what, first, second in (
        ("name", old.name, new.name),
        ("title", old.title, new.title),
        ("revision", old.revision, new.revision),
        ("printed unit", old.units, new.units),
    ):
        if first != second:
            yield Change(what, first, second)
    before, after = ({sheet.name.text: sheet for sheet in design.sheets} for design in (old, new))
    for name, sheet in after.items():
        was = before.get(name)
        if was is not None and (was.thickness.least, was.thickness.most) != (sheet.thickness.least, sheet.thickness.most):
            yield Change(f"sheet {name}", *(f"{item.thickness.least:g}..{item.thickness.most:g} mm" for item in (was, sheet)))
