"""Chances as a maker reads them."""

from __future__ import annotations

# A chance below this rounds to nothing in print: the draws do not tell more.
LEAST = 0.0001


def chance_words(chance: float) -> str:
    """`about 1 in 12`; from three in ten up, tenths: `about 4 in 10`."""
    if chance < LEAST:
        return "less than 1 in 10000"
    if chance < 0.3:
        return f"about 1 in {_two_digits(1.0 / chance)}"
    tenths = round(chance * 10.0)
    return f"about {tenths} in 10" if tenths < 10 else "nearly every one"


def percent_words(chance: float) -> str:
    """`8.27 percent`: with the digits that the draws give, or the writer."""
    return f"{chance * 100.0:.6g} percent"


def _two_digits(count: float) -> int:
    step: int = 10 ** max(0, len(str(int(count))) - 2)
    return round(count / step) * step
