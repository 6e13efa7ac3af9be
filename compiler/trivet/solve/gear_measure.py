"""What a maker measures on a cut gear: span, size over pins, chordal thickness and height."""

from __future__ import annotations

import math

from trivet.record import record
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.involute import inverse_involute, involute


@record
class ChordalSize:
    """At the reference circle: straight thickness and the height of the tip above that chord, mm; half angle, rad."""

    thickness_mm: float
    height_mm: float
    half_angle_rad: float


@record
class PinSize:
    """Size over two pins (touching opposite or, for odd tooth counts, nearly opposite spaces), mm."""

    over_pins_mm: float
    pressure_angle_rad: float
    contact_radius_mm: float


def exact_span_teeth(gear: ToothGeometry) -> float:
    """Number of teeth, not rounded, over which jaws touch the flanks near the shifted reference circle.

    (z/pi) [sec a √((1 + 2x/z)² − cos² a) − inv a − (2x/z) tan a] + 1/2 (SDP/SI, Table 10-9; from memory).
    """
    a, z, x = gear.pressure_angle_rad, gear.teeth, gear.profile_shift
    under_root = max((1.0 + 2.0 * x / z) ** 2 - math.cos(a) ** 2, 0.0)
    return z / math.pi * (math.sqrt(under_root) / math.cos(a) - involute(a) - 2.0 * x / z * math.tan(a)) + 0.5


def span_teeth(gear: ToothGeometry) -> int:
    """Teeth to span: the exact number rounded, at least 2 (parallel jaws cannot be set across one tooth's flanks)."""
    return max(2, math.floor(exact_span_teeth(gear) + 0.5))


def span_mm(gear: ToothGeometry, teeth: int) -> float:
    """Span over `teeth` teeth: m cos a [pi (k − 1/2) + z inv a] + 2 x m sin a, less thinning times cos a."""
    a, m = gear.pressure_angle_rad, gear.module_mm
    plain = m * math.cos(a) * (math.pi * (teeth - 0.5) + gear.teeth * involute(a))
    return plain + 2.0 * gear.profile_shift * m * math.sin(a) - gear.thinning_mm * math.cos(a)


def span_contact_radius_mm(gear: ToothGeometry, teeth: int) -> float:
    """Radius at which the jaws touch when held evenly: √(rb² + (W/2)²); must lie on both flanks to be measurable."""
    return math.hypot(gear.base_radius_mm, span_mm(gear, teeth) / 2.0)


def over_pins(gear: ToothGeometry, pin_diameter_mm: float) -> PinSize:
    """inv f = dp/db + s/d + inv a − pi/z; M = db/cos f + dp, the first term times cos(90°/z) for odd z.

    SDP/SI, Tables 10-13 and 10-14 (from memory), written with the tooth thickness so that thinning is included.
    """
    rb = gear.base_radius_mm
    angle = inverse_involute(pin_diameter_mm / (2.0 * rb) + gear.base_half_angle_rad - gear.half_pitch_angle_rad)
    across = 2.0 * rb / math.cos(angle)
    if gear.teeth % 2:
        across *= math.cos(math.pi / (2.0 * gear.teeth))
    pull = rb * math.tan(angle) - pin_diameter_mm / 2.0
    return PinSize(across + pin_diameter_mm, angle, math.hypot(rb, pull))


def ideal_pin_mm(gear: ToothGeometry) -> float:
    """Diameter of the pin that touches the flanks of an unthinned gear on the circle d + 2 x m.

    dp = db (inv f + h), f = tan a' + h, cos a' = z cos a/(z + 2x), h the space's half angle on the base circle
    (SDP/SI, Table 10-13; from memory).
    """
    a, z, x = gear.pressure_angle_rad, gear.teeth, gear.profile_shift
    space = gear.half_pitch_angle_rad - gear.base_half_angle_rad
    contact = math.acos(min(1.0, z * math.cos(a) / (z + 2.0 * x)))
    f = math.tan(contact) + space
    return 2.0 * gear.base_radius_mm * (involute(f) + space)


def chordal_size(gear: ToothGeometry) -> ChordalSize:
    """Chordal thickness d sin(s/d) and height ha + d (1 − cos(s/d))/2 (SDP/SI, p. T-81, Table 10-1)."""
    d = 2.0 * gear.pitch_radius_mm
    half = gear.thickness_mm / d
    height = gear.addendum_mm + d / 2.0 * (1.0 - math.cos(half))
    return ChordalSize(d * math.sin(half), height, half)
