"""An involute flank as few circular arcs."""

from __future__ import annotations

import math
from itertools import pairwise

from trivet.record import record

# Least room a cut outline can be held to is hundredths; arcs within this are the involute for every later purpose.
FLANK_TOLERANCE_MM = 0.002
# Kept back for rounding of coordinates on their way into a drawing.
_ROUNDING_MM = 0.0001
_SAMPLES = 12
# sup |s (s − 1/2)(s − 1)|/6, the deviation of a curve of unit curvature slope from the arc through its ends and middle.
_SPIRAL = math.sqrt(3.0) / 216.0


@record
class FlankArcs:
    """Nodes on the involute from tip to root, (x, y, bulge to the next) in mm, the last bulge 0.

    For the flank on the anticlockwise side of a tooth centred on +x. `deviation_mm`: the largest distance measured
    between involute and arcs.
    """

    nodes: tuple[tuple[float, float, float], ...]
    deviation_mm: float


def flank_arcs(base_radius_mm: float, base_half_angle_rad: float, tip_pull_mm: float, root_pull_mm: float) -> FlankArcs:
    """Fewest arcs with ends on the involute that stay within `FLANK_TOLERANCE_MM`.

    The longest arcs that fit, one after another from the root, tell how many are needed. As many over equal rolls
    usually fit too, and closer; they are taken when they do.
    """
    rb, half = base_radius_mm, base_half_angle_rad
    low, high = root_pull_mm / rb, tip_pull_mm / rb
    allowed = FLANK_TOLERANCE_MM - _ROUNDING_MM
    longest = [low]
    while longest[-1] < high:
        longest.append(_longest(rb, half, longest[-1], high, allowed))
    count = len(longest) - 1
    if count < 1:
        return FlankArcs(((*_point(rb, half, high), 0.0),), 0.0)
    equal = [low + (high - low) * k / count for k in range(count)] + [high]
    bulges, worst = _arcs(rb, half, equal)
    rolls = equal
    if worst > allowed:
        rolls = longest
        bulges, worst = _arcs(rb, half, longest)
    points = [_point(rb, half, roll) for roll in rolls]
    nodes = zip(reversed(points), [*reversed(bulges), 0.0], strict=True)
    return FlankArcs(tuple((x, y, bulge) for (x, y), bulge in nodes), worst)


def _longest(rb: float, half: float, low: float, high: float, allowed: float) -> float:
    """Roll, at most `high`, where the longest arc from `low` ends.

    The curvature 1/(rb t) of an involute changes along it by 1/(rb² t³), so an arc over a roll dt deviates by about
    rb dt³ √3/216: that encloses the search, the measured deviation decides.
    """
    if _arc(rb, half, high, low)[1] <= allowed:
        return high
    guess = math.cbrt(allowed / (rb * _SPIRAL))
    fits, fails = 0.7 * guess, min(2.0 * guess, high - low)
    for _ in range(12):
        middle = (fits + fails) / 2.0
        within = _arc(rb, half, low + middle, low)[1] <= allowed
        fits, fails = (middle, fails) if within else (fits, middle)
    return low + fits


def _arcs(rb: float, half: float, rolls: list[float]) -> tuple[list[float], float]:
    """Bulges of the arcs between rolls from the root outwards, run from tip to root, and the largest deviation, mm."""
    found = [_arc(rb, half, outer, inner) for inner, outer in pairwise(rolls)]
    return [bulge for bulge, _ in found], max(deviation for _, deviation in found)


def _point(rb: float, half_angle: float, roll: float) -> tuple[float, float]:
    """The involute's point: the base circle's tangent point at half_angle − roll, and rb·roll along the tangent."""
    angle = half_angle - roll
    c, s = math.cos(angle), math.sin(angle)
    return rb * (c - roll * s), rb * (s + roll * c)


def _arc(rb: float, half_angle: float, first: float, last: float) -> tuple[float, float]:
    """Bulge of the arc through both ends and a point between, and its largest deviation, mm.

    That point lies between the middle of the roll and the middle of the length (rb roll²/2): measured, the deviations
    to either side are then nearly equal, so the largest is least.
    """
    x0, y0 = _point(rb, half_angle, first)
    x1, y1 = _point(rb, half_angle, last)
    middle = (first + last) / 4.0 + math.sqrt((first**2 + last**2) / 2.0) / 2.0
    xm, ym = _point(rb, half_angle, middle)
    ax, ay, bx, by = xm - x0, ym - y0, x1 - xm, y1 - ym
    half_sweep = math.atan2(ax * by - ay * bx, ax * bx + ay * by)
    bulge = math.tan(half_sweep / 2.0)
    chord = math.hypot(x1 - x0, y1 - y0)
    if chord == 0.0 or bulge == 0.0:
        return 0.0, 0.0
    offset = (1.0 - bulge**2) / (4.0 * bulge)
    cx, cy = (x0 + x1) / 2.0 - (y1 - y0) * offset, (y0 + y1) / 2.0 + (x1 - x0) * offset
    radius = chord * (1.0 + bulge**2) / (4.0 * abs(bulge))
    worst = 0.0
    for k in range(1, _SAMPLES):
        x, y = _point(rb, half_angle, first + (last - first) * k / _SAMPLES)
        worst = max(worst, abs(math.hypot(x - cx, y - cy) - radius))
    return bulge, worst
