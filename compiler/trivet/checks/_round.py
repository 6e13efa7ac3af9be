"""Numbers of a remedy, rounded to the side on which they work."""

from __future__ import annotations

import math

from trivet.units import decimal_beside, length_text, made_text

# From here on a length in inches is given in 64ths, as rules and drills have them (common practice, no source); below, in thousandths.
FRACTIONS_FROM_MM = 25.4 / 16
SIXTY_FOURTH_MM = 25.4 / 64


def up_text(mm: float, unit: str, step_mm: float = 0.01, step_in: float = 0.001) -> str:
    """A length no smaller than `mm`, on a step of the unit, as a file has it; in inches a 64th where it is not small."""
    if unit not in ("in", "thou"):
        return length_text(math.ceil(mm / step_mm - 1e-6) * step_mm, unit, 3)
    step = max(step_in * 25.4, SIXTY_FOURTH_MM) if mm >= FRACTIONS_FROM_MM else step_in * 25.4
    return made_text(math.ceil(mm / step - 1e-6) * step, unit)


def down_text(mm: float, unit: str, step_mm: float = 0.01, step_in: float = 0.001) -> str:
    """A length no greater than `mm`, on a step of the unit, as a file has it; in inches a 64th where it is not small."""
    if unit not in ("in", "thou"):
        return length_text(math.floor(mm / step_mm + 1e-6) * step_mm, unit, 3)
    step = max(step_in * 25.4, SIXTY_FOURTH_MM) if mm >= FRACTIONS_FROM_MM else step_in * 25.4
    return made_text(math.floor(mm / step + 1e-6) * step, unit)


def up_told(mm: float, unit: str, step_mm: float = 0.01, step_in: float = 0.001) -> str:
    """`up_text` with the decimal beside a fraction: `7/32 in (0.219 in)`."""
    text = up_text(mm, unit, step_mm, step_in)
    return text + decimal_beside(text)


def down_told(mm: float, unit: str, step_mm: float = 0.01, step_in: float = 0.001) -> str:
    """`down_text` with the decimal beside a fraction."""
    text = down_text(mm, unit, step_mm, step_in)
    return text + decimal_beside(text)


def up_fine(mm: float, unit: str) -> str:
    """A length no smaller than `mm` in hundredths of a millimetre or thousandths of an inch, and never as a fraction: a lead, a radius."""
    step = 0.0254 if unit in ("in", "thou") else 0.01
    return length_text(math.ceil(mm / step - 1e-6) * step, unit)


def down_fine(mm: float, unit: str) -> str:
    """The same no greater than `mm`."""
    step = 0.0254 if unit in ("in", "thou") else 0.01
    return length_text(math.floor(mm / step + 1e-6) * step, unit)
