"""Words and lengths as they are said at the bench."""

from __future__ import annotations

from collections.abc import Iterable

from trivet.tables.wording import metric_text, near_fraction
from trivet.units import length_text

# Below the first a fraction of an inch says nothing; below the second only one that is exact: half a 64th is too much of it.
LEAST_FRACTION_MM, LEAST_NEAR_MM = 25.4 / 64, 25.4 / 8


def bench_length(mm: float, unit: str) -> str:
    """`23 mm`; inches as a fraction to 1/64 with the decimal and mm beside it: `29/32 in (0.906 in, 23.02 mm)`."""
    if unit != "in":
        return length_text(mm)
    beside = f"{_decimal(mm)}, {metric_text(mm)}" if mm >= 0.0 else length_text(mm)
    near = near_fraction(mm)
    if mm < LEAST_FRACTION_MM or (mm < LEAST_NEAR_MM and near.startswith("about")):
        return f"{_decimal(mm)} ({length_text(mm, 'mm', 3)})"
    return f"{near} in ({beside})"


def bench_step(mm: float, unit: str) -> str:
    """A small step, with the digits that it needs: `0.0625 mm`, `0.0026 in (0.066 mm)`."""
    return f"{length_text(mm, 'in', 4)} ({length_text(mm, 'mm', 3)})" if unit == "in" else length_text(mm, "mm", 4)


def small(mm: float, unit: str) -> str:
    """A length that is counted up turn by turn: in inches with four digits, `0.0556 in (1.411 mm)`, else as any other."""
    return bench_step(mm, unit) if unit == "in" else bench_length(mm, unit)


def names(items: Iterable[str]) -> str:
    """`a`, `a and b`, `a, b and c`; each in quotes of their own."""
    quoted = [f"`{item}`" for item in dict.fromkeys(items)]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} and {quoted[-1]}" if quoted else ""


def turns_text(turns: float) -> str:
    """Drive turns with a digit after the point where they are not whole."""
    return f"{turns:.0f}" if abs(turns - round(turns)) < 1e-6 else f"{turns:.2f}".rstrip("0")


def _decimal(mm: float) -> str:
    return f"{mm / 25.4:.3f} in"
