"""Numbers of a remedy, rounded to the side on which they work."""

from __future__ import annotations

import math

from trivet.units import length_text


def up_text(mm: float, unit: str, step_mm: float = 0.01, step_in: float = 0.001) -> str:
    """A length no smaller than `mm`, on a step of the unit."""
    step = step_in * 25.4 if unit in ("in", "thou") else step_mm
    return length_text(math.ceil(mm / step - 1e-6) * step, unit)


def down_text(mm: float, unit: str, step_mm: float = 0.01, step_in: float = 0.001) -> str:
    """A length no greater than `mm`, on a step of the unit."""
    step = step_in * 25.4 if unit in ("in", "thou") else step_mm
    return length_text(math.floor(mm / step + 1e-6) * step, unit)
