"""Rise per clockwise turn of the drive, exact and signed: positive raises the board."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import lru_cache

from trivet.model.foot import Foot
from trivet.solve.derived import GearState

# Denominators of leads in mm: 25.4/n inch threads reduce to at most 5n; far below this bound.
LEAD_DENOMINATOR = 100_000


@lru_cache(maxsize=64)
def exact_lead_mm(lead_mm: float) -> Fraction:
    """The lead as a fraction of a millimetre: 25.4/18 comes back as 127/90."""
    return Fraction(lead_mm).limit_denominator(LEAD_DENOMINATOR)


def rise_per_turn_mm(foot: Foot, gear: GearState) -> Fraction | None:
    """lead · |speed| · direction · hand · kind, kind −1 for a captured nut; None where the drive does not reach the gear.

    Derived: a right-hand screw with its head below, turned clockwise seen from above, is turned anticlockwise seen from its head: it
    unscrews downwards, and the board rises. A nut turned clockwise on a rod that stands still moves down along it, and the board comes
    down.
    """
    if gear.speed is None or gear.direction == 0:
        return None
    kind = -1 if foot.kind == "captured_nut" else 1
    return exact_lead_mm(foot.thread.lead_mm) * gear.speed * gear.direction * foot.thread.hand * kind


def slide_per_travel(one: Foot, one_teeth: int, other: Foot | None, other_teeth: int) -> float:
    """Axial shift between two meshing gears per mm of travel, of which `one` rides; `other` None: axially fixed.

    Two riding gears in mesh turn opposite ways: |1 + eta (lead_i z_f)/(lead_f z_i)|, eta +1 for the same hand, −1 for opposite hands
    (derived).
    """
    if other is None:
        return 1.0
    hands = one.thread.hand * other.thread.hand
    return abs(1.0 + hands * (other.thread.lead_mm * one_teeth) / (one.thread.lead_mm * other_teeth))


def zeroing(teeth: int, lead_mm: float) -> tuple[float, int]:
    """(height of one step when a gear is moved on by a tooth, number of distinct clockings of a hex head in it): lead/z, lcm(6, z)."""
    return lead_mm / teeth, math.lcm(6, teeth)
