"""Lengths in both systems, the fixture's own first: fractions down to 1/64 with the decimal beside for inch fixtures."""

from __future__ import annotations

import math

from trivet.tables.wording import metric_text
from trivet.units import length_text

MM_PER_INCH = 25.4
STEPS = 64
# Below this a fraction of 1/64 tells too little, in.
LEAST_FRACTION_INCH = 1 / 8


def both(mm: float, unit: str, decimals: int | None = None) -> str:
    """`43.26 mm (1.703 in)`; for inch fixtures `1-45/64 in (1.703 in, 43.26 mm)`. `decimals` are those of the metric figure; inches get one more."""
    metric = metric_text(mm) if decimals is None else length_text(mm, "mm", decimals)
    inch = length_text(mm, "in", None if decimals is None else decimals + 1)
    if unit != "in":
        return f"{metric} ({inch})"
    if abs(mm) < LEAST_FRACTION_INCH * MM_PER_INCH or decimals is not None:
        return f"{inch} ({metric})"
    return f"{nearest_64th(mm)} in ({inch}, {metric})"


def own(mm: float, unit: str) -> str:
    """In the fixture's own unit alone."""
    return metric_text(mm) if unit != "in" else length_text(mm, "in")


def nearest_64th(mm: float) -> str:
    """Inches to the nearest 64th: `1-45/64`, `2`, `3/8`; halves go up."""
    count = math.floor(mm / MM_PER_INCH * STEPS + 0.5)
    whole, rest = divmod(count, STEPS)
    if not rest:
        return str(whole)
    shared = math.gcd(rest, STEPS)
    fraction = f"{rest // shared}/{STEPS // shared}"
    return f"{whole}-{fraction}" if whole else fraction
