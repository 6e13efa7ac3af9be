"""The involute function and its inverse."""

from __future__ import annotations

import math


def involute(angle_rad: float) -> float:
    """inv t = tan t − t (SDP/SI, Elements of Metric Gear Technology, p. T-33, eq. 3-6)."""
    return math.tan(angle_rad) - angle_rad


def inverse_involute(value: float) -> float:
    """The angle in radians, 0 <= t < pi/2, whose involute is `value`; 0 for values of 0 and below.

    Newton's method on u = tan t: f(u) = u − atan u − value rises and is convex for u > 0, so the first step lands at or
    above the root and the rest fall towards it.
    """
    if value <= 0.0:
        return 0.0
    # Below the root, since u − atan u <= u³/3.
    u = math.cbrt(value)
    for _ in range(50):
        step = (u - math.atan(u) - value) * (1.0 + u * u) / (u * u)
        u -= step
        if abs(step) <= 1e-14 * u:
            break
    return math.atan(u)


def pressure_angle_at(radius_mm: float, base_radius_mm: float) -> float:
    """Angle between radius and flank, radians, at a radius; 0 at and below the base circle (cos t = rb/r)."""
    return math.acos(base_radius_mm / radius_mm) if radius_mm > base_radius_mm else 0.0
