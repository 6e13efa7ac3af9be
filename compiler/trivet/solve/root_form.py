"""Where a round cutter comes to rest between two teeth."""

from __future__ import annotations

import math
from typing import Literal

from trivet.record import record
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.involute import inverse_involute

Contact = Literal["involute", "radial", "tip"]


@record
class RootForm:
    """The cutter at its deepest against one flank. Angles from the tooth's centre line, radians; lengths mm.

    `full_round`: the cutter touches both flanks before the root circle, so one arc is the whole root. Otherwise it
    leaves a fillet on each side of a root arc. `contact`: what it touches of the tooth: the involute, the radial line
    below the base circle, or only the tip corner. Above `contact_radius_mm` the flank is as designed.
    `contact_pull_mm` is the involute's distance from the base circle there, 0 when it is intact down to it.
    """

    full_round: bool
    centre_radius_mm: float
    centre_angle_rad: float
    bottom_radius_mm: float
    contact: Contact
    contact_radius_mm: float
    contact_pull_mm: float


def root_form(gear: ToothGeometry, cutter_radius_mm: float) -> RootForm:
    """The deepest place of a cutter of a radius >= 0 (0: a sharp inside corner) between two neighbouring teeth.

    A curve at a distance r outside an involute is an involute of the same base circle begun r/rb further round, so the
    cutter's centre runs on it (the cutter limit's closed form: inv a_c = base half angle + r/rb − pi/z).
    """
    both = _between_flanks(gear, cutter_radius_mm)
    root = max(gear.root_radius_mm, 0.0)
    return both if both.bottom_radius_mm >= root else _on_root(gear, cutter_radius_mm, root)


def _between_flanks(gear: ToothGeometry, r: float) -> RootForm:
    rb, half_pitch = gear.base_radius_mm, gear.half_pitch_angle_rad
    space = half_pitch - gear.base_half_angle_rad
    if space > 0.0 and r <= rb * math.tan(space):
        centre = r / math.sin(space)
        return RootForm(True, centre, half_pitch, centre - r, "radial", centre * math.cos(space), 0.0)
    centre = rb / math.cos(inverse_involute(r / rb - space))
    pull = math.sqrt(centre**2 - rb**2) - r
    touch = math.hypot(rb, pull)
    tip = gear.reached_tip_radius_mm
    if touch <= tip:
        return RootForm(True, centre, half_pitch, centre - r, "involute", touch, max(pull, 0.0))
    space_at_tip = half_pitch - gear.half_angle_at(tip)
    centre = tip * math.cos(space_at_tip) + math.sqrt(max(r**2 - (tip * math.sin(space_at_tip)) ** 2, 0.0))
    return RootForm(True, centre, half_pitch, centre - r, "tip", tip, gear.tip_pull_mm)


def _on_root(gear: ToothGeometry, r: float, root: float) -> RootForm:
    rb, start = gear.base_radius_mm, gear.base_half_angle_rad
    centre = root + r
    pull = math.sqrt(max(centre**2 - rb**2, 0.0)) - r
    tip = gear.reached_tip_radius_mm
    if centre < rb or pull < 0.0:
        touch = math.sqrt(centre**2 - r**2)
        return RootForm(False, centre, start + math.asin(r / centre), root, "radial", touch, 0.0)
    touch = math.hypot(rb, pull)
    if touch <= tip:
        angle = start + r / rb - (math.tan(ac := math.acos(rb / centre)) - ac)
        return RootForm(False, centre, angle, root, "involute", touch, pull)
    # Held to 1 for sizes that make no gear, the tip below the root: nothing here raises.
    beyond = math.acos(min(1.0, (centre**2 + tip**2 - r**2) / (2.0 * tip * centre)))
    return RootForm(False, centre, gear.half_angle_at(tip) + beyond, root, "tip", tip, gear.tip_pull_mm)
