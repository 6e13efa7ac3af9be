"""Sizes of one spur gear: circles, tooth thickness, and what a maker measures."""

from __future__ import annotations

import math

from trivet.record import record
from trivet.solve.involute import inverse_involute, involute, pressure_angle_at


@record
class ToothGeometry:
    """A spur gear's teeth. Basic rack of ISO 53 unless said otherwise (addendum 1.00 m, dedendum 1.25 m).

    `thinning_mm` is taken off the reference tooth thickness, both flanks together. `tip_shortening_mm` is radial.
    Lengths mm, angles radians. A tooth pointed below its tip circle shows by `tip_land_mm` <= 0.
    """

    teeth: int
    module_mm: float
    pressure_angle_rad: float = math.radians(20.0)
    profile_shift: float = 0.0
    thinning_mm: float = 0.0
    addendum_coefficient: float = 1.0
    dedendum_coefficient: float = 1.25
    tip_shortening_mm: float = 0.0

    @property
    def pitch_radius_mm(self) -> float:
        """Radius of the reference circle, m z / 2."""
        return self.module_mm * self.teeth / 2.0

    @property
    def base_radius_mm(self) -> float:
        return self.pitch_radius_mm * math.cos(self.pressure_angle_rad)

    @property
    def addendum_mm(self) -> float:
        """From the reference circle to the tip circle: m (ha* + x) less the shortening."""
        return self.module_mm * (self.addendum_coefficient + self.profile_shift) - self.tip_shortening_mm

    @property
    def dedendum_mm(self) -> float:
        """From the reference circle to the root circle: m (hf* − x)."""
        return self.module_mm * (self.dedendum_coefficient - self.profile_shift)

    @property
    def whole_depth_mm(self) -> float:
        return self.addendum_mm + self.dedendum_mm

    @property
    def tip_radius_mm(self) -> float:
        """Radius of the tip circle as designed; the tooth may be pointed before (see `reached_tip_radius_mm`)."""
        return self.pitch_radius_mm + self.addendum_mm

    @property
    def root_radius_mm(self) -> float:
        """Radius of the root circle as designed; a cutter too fat for the space stops above it."""
        return self.pitch_radius_mm - self.dedendum_mm

    @property
    def thickness_mm(self) -> float:
        """Tooth thickness, arc on the reference circle, after shift and thinning: m (pi/2 + 2 x tan a) − thinning."""
        shift = 2.0 * self.profile_shift * math.tan(self.pressure_angle_rad)
        return self.module_mm * (math.pi / 2.0 + shift) - self.thinning_mm

    @property
    def base_half_angle_rad(self) -> float:
        """Half the angle the tooth spans on the base circle, the involutes run down to it: s/d + inv a."""
        return self.thickness_mm / (2.0 * self.pitch_radius_mm) + involute(self.pressure_angle_rad)

    @property
    def half_pitch_angle_rad(self) -> float:
        return math.pi / self.teeth

    def half_angle_at(self, radius_mm: float) -> float:
        """Half the angle the tooth spans at a radius, radians; constant below the base circle; < 0 past the point."""
        return self.base_half_angle_rad - involute(pressure_angle_at(radius_mm, self.base_radius_mm))

    def thickness_at(self, radius_mm: float) -> float:
        """Tooth thickness, arc on a circle, mm: s(r) = 2 r (s/d + inv a − inv a_r)."""
        return 2.0 * radius_mm * self.half_angle_at(radius_mm)

    @property
    def tip_land_mm(self) -> float:
        """Tooth thickness on the tip circle; 0 or less when the tooth is pointed before it."""
        return self.thickness_at(self.tip_radius_mm)

    @property
    def pointed_radius_mm(self) -> float:
        """Radius at which the flanks meet: inv a_r = s/d + inv a."""
        return self.base_radius_mm / math.cos(inverse_involute(self.base_half_angle_rad))

    @property
    def reached_tip_radius_mm(self) -> float:
        """Radius the tooth really reaches: the tip circle, or the point if that comes first."""
        return min(self.tip_radius_mm, self.pointed_radius_mm)

    @property
    def tip_pull_mm(self) -> float:
        """Distance along the line of action from the base circle to the tip: √(ra² − rb²), 0 below the base."""
        return math.sqrt(max(self.reached_tip_radius_mm**2 - self.base_radius_mm**2, 0.0))

    @property
    def base_pitch_mm(self) -> float:
        return math.pi * self.module_mm * math.cos(self.pressure_angle_rad)

    @property
    def least_shift(self) -> float:
        """Least profile shift a rack of the same addendum cuts without undercut: ha* − (z/2) sin² a."""
        return self.addendum_coefficient - self.teeth / 2.0 * math.sin(self.pressure_angle_rad) ** 2


def least_teeth(pressure_angle_rad: float, addendum_coefficient: float = 1.0) -> float:
    """Fewest teeth, not rounded, a rack cuts without undercut: 2 ha*/sin² a (SDP/SI, p. T-36, eq. 4-1)."""
    return 2.0 * addendum_coefficient / math.sin(pressure_angle_rad) ** 2
