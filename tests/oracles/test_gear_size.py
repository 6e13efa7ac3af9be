"""Sizes of single gears against published tables and worked examples."""

from __future__ import annotations

import math

import pytest

from trivet.solve.gear_measure import (
    chordal_size,
    exact_span_teeth,
    ideal_pin_mm,
    over_pins,
    span_contact_radius_mm,
    span_mm,
    span_teeth,
)
from trivet.solve.gear_size import ToothGeometry, least_teeth


def gear(
    teeth: int, module: float, degrees: float = 20.0, shift: float = 0.0, thinning: float = 0.0, shortening: float = 0.0
) -> ToothGeometry:
    return ToothGeometry(teeth, module, math.radians(degrees), shift, thinning, tip_shortening_mm=shortening)


@pytest.mark.parametrize(
    ("teeth", "pitch", "base", "tip", "root"),
    [
        # SDP/SI, Elements of Metric Gear Technology, Table 4-1, p. T-34 (set-up seen, figures from memory); m 3, 20 deg.
        # Tolerance: half the last printed digit.
        (12, 36.000, 33.8289, 42.000, 28.500),
        (24, 72.000, 67.6579, 78.000, 64.500),
    ],
)
def test_standard_pair_diameters(teeth: int, pitch: float, base: float, tip: float, root: float) -> None:
    g = gear(teeth, 3.0)
    assert 2 * g.pitch_radius_mm == pytest.approx(pitch, abs=5e-4)
    assert 2 * g.base_radius_mm == pytest.approx(base, abs=5e-5)
    assert 2 * g.tip_radius_mm == pytest.approx(tip, abs=5e-4)
    assert 2 * g.root_radius_mm == pytest.approx(root, abs=5e-4)
    assert (g.addendum_mm, g.dedendum_mm) == (3.0, 3.75)


def test_basic_rack_proportions() -> None:
    # SDP/SI, p. T-9 (seen): addendum 1.00 m, dedendum 1.25 m; whole depth 2.25 m in a second handbook (seen). Exact.
    g = gear(30, 1.0)
    assert (g.addendum_mm, g.dedendum_mm, g.whole_depth_mm) == pytest.approx((1.0, 1.25, 2.25))


def test_chordal_thickness_example() -> None:
    # SDP/SI, p. T-81, Table 10-1 (seen): m 10, 20 deg, z 12, x +0.3, ha 13. Tolerance: half the last printed digit.
    g = gear(12, 10.0, shift=0.3)
    size = chordal_size(g)
    assert g.thickness_mm == pytest.approx(17.8918, abs=5e-5)
    assert math.degrees(size.half_angle_rad) == pytest.approx(8.54270, abs=5e-6)
    assert size.thickness_mm == pytest.approx(17.8256, abs=5e-5)
    assert size.height_mm == pytest.approx(13.6657, abs=5e-5)


def test_reference_thickness_of_a_rack() -> None:
    # SDP/SI, Table 10-1 (seen): m 3 rack, thickness 4.7124; every unshifted gear has the rack's. Half a printed digit.
    assert gear(40, 3.0).thickness_mm == pytest.approx(4.7124, abs=5e-5)


def test_crest_width_example() -> None:
    # KHK Gear Technical Reference, crest width (from memory): m 2, z 16, x +0.3: db 30.07016, da 37.2, crest 1.03762.
    # Tolerance: half the last printed digit.
    g = gear(16, 2.0, shift=0.3)
    assert 2 * g.base_radius_mm == pytest.approx(30.07016, abs=5e-6)
    assert 2 * g.tip_radius_mm == pytest.approx(37.2, abs=5e-2)
    assert math.degrees(g.half_angle_at(g.tip_radius_mm)) == pytest.approx(1.59815, abs=5e-6)
    assert g.tip_land_mm == pytest.approx(1.03762, abs=5e-6)


@pytest.mark.parametrize(
    ("degrees", "exact", "whole"),
    [
        # SDP/SI, p. T-36, eq. 4-1 (seen): 32 teeth at 14.5 deg, 18 at 20 deg. Shigley 13.7 (from memory): 12 at 25 deg.
        # The exact values are 2/sin² a worked by calculator to 5 decimals.
        (14.5, 31.90294, 32),
        (20.0, 17.09726, 18),
        (25.0, 11.19782, 12),
    ],
)
def test_least_teeth(degrees: float, exact: float, whole: int) -> None:
    found = least_teeth(math.radians(degrees))
    assert found == pytest.approx(exact, abs=5e-6)
    assert math.ceil(found) == whole


@pytest.mark.parametrize(
    ("teeth", "degrees", "shift"),
    [
        # KHK, "Undercutting" (formula from memory), worked by calculator to 5 decimals.
        (8, 20.0, 0.53209),
        (10, 20.0, 0.41511),
        (12, 20.0, 0.29813),
        (16, 20.0, 0.06418),
        (12, 14.5, 0.62386),
        (10, 25.0, 0.10697),
    ],
)
def test_least_shift(teeth: int, degrees: float, shift: float) -> None:
    assert gear(teeth, 3.0, degrees).least_shift == pytest.approx(shift, abs=5e-6)


def test_span_of_a_shifted_gear() -> None:
    # SDP/SI, Table 10-9 = KHK, Table 5.10 (from memory): m 3, 20 deg, z 24, x +0.4: k 3.78787, W over 4 teeth 32.8266.
    g = gear(24, 3.0, shift=0.4)
    assert exact_span_teeth(g) == pytest.approx(3.78787, abs=5e-6)
    assert span_teeth(g) == 4
    assert span_mm(g, 4) == pytest.approx(32.8266, abs=5e-5)
    assert span_mm(g, 5) - span_mm(g, 4) == pytest.approx(g.base_pitch_mm)


@pytest.mark.parametrize(
    ("teeth", "degrees", "spanned", "printed"),
    [
        # Base-tangent tables for m 1, x 0 (from memory for z 20, 24, 30 at 20 deg; the rest worked from the formula seen in
        # a gear handbook's extract). Tolerance: half the last printed digit.
        (20, 20.0, 3, 7.6604),
        (24, 20.0, 3, 7.7165),
        (30, 20.0, 4, 10.7526),
        (18, 20.0, 3, 7.6324),
        (36, 20.0, 5, 13.7888),
        (48, 20.0, 6, 16.9090),
        (20, 14.5, 3, 7.7112),
        (30, 14.5, 4, 10.8064),
    ],
)
def test_span_tables(teeth: int, degrees: float, spanned: int, printed: float) -> None:
    assert span_mm(gear(teeth, 1.0, degrees), spanned) == pytest.approx(printed, abs=5e-5)


def test_thinning_lowers_the_span_by_its_normal_share() -> None:
    # Jaws close along the common normal: plane geometry.
    difference = span_mm(gear(24, 3.0), 3) - span_mm(gear(24, 3.0, thinning=0.2), 3)
    assert difference == pytest.approx(0.2 * math.cos(math.radians(20.0)))


def test_jaws_touch_on_the_flanks() -> None:
    for teeth in range(8, 120):
        g = gear(teeth, 4.0)
        assert g.base_radius_mm < span_contact_radius_mm(g, span_teeth(g)) < g.tip_radius_mm


def test_size_over_pins() -> None:
    # KHK, Tables 5.14 and 5.15 = SDP/SI, Tables 10-13 and 10-14 (from memory): m 1, z 20, x 0: ideal pin 1.7245, and
    # over 1.7 pins f 24.1350 deg, M 22.2941. Tolerance: half the last printed digit; the ideal pin's fourth decimal is
    # printed one up (1.72445 worked).
    g = gear(20, 1.0)
    assert ideal_pin_mm(g) == pytest.approx(1.7245, abs=1e-4)
    size = over_pins(g, 1.7)
    assert math.degrees(size.pressure_angle_rad) == pytest.approx(24.1350, abs=5e-5)
    assert size.over_pins_mm == pytest.approx(22.2941, abs=5e-5)


@pytest.mark.parametrize(
    ("teeth", "module", "pin", "size"),
    [
        # Worked from the same formula in double precision, no published figure; odd tooth counts. mm, and inches for P 1.
        (21, 1.0, 1.7, 23.235939),
        (24, 1.0, 1.728, 26.399685),
        (25, 1.0, 1.728, 27.351054),
    ],
)
def test_size_over_pins_of_odd_counts(teeth: int, module: float, pin: float, size: float) -> None:
    assert over_pins(gear(teeth, module), pin).over_pins_mm == pytest.approx(size, abs=1e-6)


@pytest.mark.parametrize(
    ("teeth", "shift", "radius"),
    [
        # Worked by bisection elsewhere, in modules; no published pointed-tooth example is known. Tolerance: printed digits.
        (12, 0.0, 7.40234),
        (12, 0.6, 7.71067),
        (10, 0.5, 6.60316),
        (24, 0.0, 13.58670),
        (40, 0.0, 21.71715),
    ],
)
def test_pointed_radius(teeth: int, shift: float, radius: float) -> None:
    assert gear(teeth, 1.0, shift=shift).pointed_radius_mm == pytest.approx(radius, abs=6e-6)


@pytest.mark.parametrize(
    ("teeth", "land"),
    [
        # Worked elsewhere in modules, 20 deg, x 0; no published figure. Tolerance: printed digits.
        (12, 0.62090),
        (17, 0.67408),
        (20, 0.69488),
        (24, 0.71555),
        (40, 0.76066),
    ],
)
def test_tip_land(teeth: int, land: float) -> None:
    assert gear(teeth, 1.0).tip_land_mm == pytest.approx(land, abs=6e-6)


@pytest.mark.parametrize(("teeth", "shift"), [(8, 0.5662), (10, 0.6996), (12, 0.8202), (16, 1.0341)])
def test_a_pointed_tooth_shows_by_its_tip_land(teeth: int, shift: float) -> None:
    # Shift at which the unshortened tip land falls to 0, worked elsewhere to 4 decimals; no published figure.
    assert gear(teeth, 1.0, shift=shift - 2e-4).tip_land_mm > 0.0
    past = gear(teeth, 1.0, shift=shift + 2e-4)
    assert past.tip_land_mm < 0.0
    assert past.reached_tip_radius_mm < past.tip_radius_mm


@pytest.mark.parametrize(("teeth", "pin"), [(12, 1.7), (24, 1.8), (40, 2.0)])
def test_a_pin_touches_on_the_tangent_of_the_base_circle(teeth: int, pin: float) -> None:
    """Derived: flank and pin share a normal, which touches the base circle, so their radii are told apart along it by half a pin."""
    g = gear(teeth, 1.0)
    size = over_pins(g, pin)
    to_pin = g.base_radius_mm * math.tan(size.pressure_angle_rad)
    to_flank = math.sqrt(size.contact_radius_mm**2 - g.base_radius_mm**2)
    assert to_pin - to_flank == pytest.approx(pin / 2)
