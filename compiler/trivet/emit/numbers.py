"""Numbers: the one printer of numbers for output files."""

from __future__ import annotations

import math

DECIMALS = 4


def number(value: float, decimals: int = DECIMALS, strip: bool = True) -> str:
    """The value with fixed decimals, without exponent and never as minus zero.

    Trailing zeros go when `strip` is set: `12.5`, `12`; otherwise `12.5000`. Raises `ValueError` when not finite.
    """
    if not math.isfinite(value):
        raise ValueError(f"an output file holds finite numbers only, not {value}")
    text = f"{value:.{decimals}f}"
    if strip and "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.removeprefix("-") if text.startswith("-0") and float(text) == 0.0 else text
