"""Words and places that checks of the gear train share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from trivet.checks._check import place
from trivet.model.design import Design
from trivet.model.train import Gear
from trivet.solve.derived import FootState, MeshState
from trivet.source import Span
from trivet.units import length_text


def gears_of(design: Design) -> dict[str, Gear]:
    """Gears by name."""
    return {gear.name.text: gear for gear in design.gears}


def mesh_place(mesh: MeshState) -> Span | None:
    """Where a mesh names its second gear; the ring that made it where no `mesh` states it."""
    return place(mesh.mesh.b.origin, mesh.mesh.origin)


def named(names: Iterable[str], most: int = 6) -> str:
    """`a`, `b` and `c`; long lists are cut short with their count."""
    shown = list(names)
    if len(shown) > most:
        return ", ".join(f"`{name}`" for name in shown[:most]) + f" and {len(shown) - most} more"
    quoted = [f"`{name}`" for name in shown]
    return quoted[0] if len(quoted) == 1 else ", ".join(quoted[:-1]) + f" and {quoted[-1]}"


def feet_parts(feet: Sequence[FootState]) -> tuple[str, ...]:
    """Ids of feet and of the gears that carry them: what an acceptance may name."""
    return tuple(name for foot in feet for name in (foot.id, foot.gear))


def rise_texts(unit: str, *rises: Fraction) -> tuple[str, ...]:
    """Rises for a message with as few decimals, three to eight, as show their differences."""
    least = 4 if unit == "in" else 3
    found: tuple[str, ...] = ()
    for decimals in range(least, 9):
        found = tuple(length_text(float(rise), unit, decimals) for rise in rises)
        if len(set(found)) == len(set(rises)) and "0" not in {text.split()[0] for text in found}:
            break
    return found


def up_to(value: float, step: float) -> float:
    """The next multiple of `step` above a value: a number that works, not one that just fails."""
    count = int(value / step + 1e-9) + 1
    return round(count * step, 9)


def down_to(value: float, step: float) -> float:
    """The last multiple of `step` at or below a value."""
    return round(int(value / step + 1e-9) * step, 9)
