"""The circle on which the gears of a ring stand, each in mesh with its neighbours."""

from __future__ import annotations

import math
from collections.abc import Sequence

# The circle is found to this; places are compared to 0.01 mm.
CLOSENESS_MM = 1e-12


def ring_radius_mm(chords_mm: Sequence[float]) -> float | None:
    """Radius R of the circle round the polygon with these sides: Σ 2 asin(c/2R) = 360°, by halving.

    None where no such circle has its centre inside the polygon: fewer than three sides, or one side too long for the
    rest. Equal sides give the regular polygon, c/(2 sin(180°/n)).
    """
    least = max(chords_mm, default=0.0) / 2.0
    if len(chords_mm) < 3 or least <= 0.0 or _excess(least, chords_mm) < 0.0:
        return None
    if min(chords_mm) == max(chords_mm):
        return least / math.sin(math.pi / len(chords_mm))
    # asin x <= (pi/2) x, so at R = Σc/4 the angles add up to a whole turn at most.
    low, high = least, math.fsum(chords_mm) / 4.0
    for _ in range(200):
        middle = (low + high) / 2.0
        if high - low <= CLOSENESS_MM or middle in (low, high):
            break
        low, high = (middle, high) if _excess(middle, chords_mm) > 0.0 else (low, middle)
    return (low + high) / 2.0


def ring_angles_rad(chords_mm: Sequence[float], radius_mm: float) -> tuple[float, ...]:
    """Angle at the centre from each gear to the next, radians."""
    return tuple(2.0 * math.asin(min(1.0, chord / (2.0 * radius_mm))) for chord in chords_mm)


def _excess(radius_mm: float, chords_mm: Sequence[float]) -> float:
    return math.fsum(ring_angles_rad(chords_mm, radius_mm)) - 2.0 * math.pi
