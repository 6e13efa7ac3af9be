"""Pairs of gears against published tables and textbook examples."""

from __future__ import annotations

import math

import pytest

from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import (
    MeshGeometry,
    mesh_geometry,
    shift_sum_for_centre_distance,
    tight_centre_distance_mm,
)


def gear(
    teeth: int, module: float, degrees: float = 20.0, shift: float = 0.0, shortening: float = 0.0, addendum: float = 1.0
) -> ToothGeometry:
    return ToothGeometry(teeth, module, math.radians(degrees), shift, addendum_coefficient=addendum, tip_shortening_mm=shortening)


def at(a: ToothGeometry, b: ToothGeometry, distance: float | None = None) -> MeshGeometry:
    mesh = mesh_geometry(a, b, tight_centre_distance_mm(a, b) if distance is None else distance)
    assert mesh is not None
    return mesh


def test_shifted_pair() -> None:
    # SDP/SI, Table 4-3 = KHK, Table 4.3 (from memory, many digits reproduced): m 3, 20 deg, z 12/24, x 0.6/0.36, tips
    # shortened by (x1 + x2 - y) m = 0.12671 m. Tolerance: half the last printed digit.
    short = 0.12671 * 3.0
    a, b = gear(12, 3.0, shift=0.6, shortening=short), gear(24, 3.0, shift=0.36, shortening=short)
    mesh = at(a, b)
    assert math.degrees(mesh.working_angle_rad) == pytest.approx(26.0886, abs=5e-5)
    assert mesh.centre_distance_mm == pytest.approx(56.4999, abs=5e-5)
    assert [2 * r for r in mesh.working_radii_mm] == pytest.approx([37.667, 75.333], abs=5e-4)
    assert (2 * a.tip_radius_mm, 2 * b.tip_radius_mm) == pytest.approx((44.840, 79.400), abs=5e-4)
    assert (2 * a.root_radius_mm, 2 * b.root_radius_mm) == pytest.approx((32.100, 66.660), abs=5e-4)
    assert a.whole_depth_mm == pytest.approx(6.370, abs=5e-4)
    # Not claimed by the publications: worked elsewhere in double precision.
    assert mesh.contact_ratio == pytest.approx(1.202102, abs=1e-5)
    assert mesh.tip_clearance_mm == pytest.approx((0.75, 0.75), abs=1e-4)
    assert (a.tip_land_mm, b.tip_land_mm) == pytest.approx((1.264020, 2.213246), abs=1e-4)
    assert mesh.backlash_mm == pytest.approx(0.0, abs=1e-9)
    assert mesh.tip_limit_mm == pytest.approx((30.0573, 41.9731), abs=5e-5)
    assert max(mesh.interference_mm) < 0.0


def test_unshortened_tips_of_the_shifted_pair() -> None:
    # ISO 21771 leaves the shortening open; unshortened values of the same pair worked elsewhere. Printed digits.
    a, b = gear(12, 3.0, shift=0.6), gear(24, 3.0, shift=0.36)
    mesh = at(a, b)
    assert (2 * a.tip_radius_mm, 2 * b.tip_radius_mm) == pytest.approx((45.600, 80.160))
    assert mesh.tip_clearance_mm == pytest.approx((0.36987, 0.36987), abs=5e-6)
    assert mesh.contact_ratio == pytest.approx(1.34780, abs=5e-6)


def test_shifts_from_a_centre_distance() -> None:
    # SDP/SI, Table 4-4 = KHK, Table 4.4 (from memory): A 56.4999 gives x1 + x2 = 0.9600. Tolerance 1e-4: the centre
    # distance is printed to 4 decimals only. At 56.5 worked elsewhere: 0.960056.
    a, b = gear(12, 3.0), gear(24, 3.0)
    assert shift_sum_for_centre_distance(a, b, 56.4999) == pytest.approx(0.9600, abs=1e-4)
    assert shift_sum_for_centre_distance(a, b, 56.5) == pytest.approx(0.960056, abs=5e-7)
    assert shift_sum_for_centre_distance(a, b, 50.0) is None


def test_second_shifted_pair() -> None:
    # KHK, "Profile Shifted Gears" (inputs seen: m 3, z 10/60, x 0.5/0); outputs worked elsewhere to 5 decimals.
    a, b = gear(10, 3.0, shift=0.5), gear(60, 3.0)
    mesh = at(a, b)
    assert math.degrees(mesh.working_angle_rad) == pytest.approx(22.01759, abs=5e-6)
    assert mesh.centre_distance_mm == pytest.approx(106.42978, abs=5e-6)


def test_spread_centres_of_an_inch_pair() -> None:
    # Shigley, example 13-1 (statement seen, answers from memory): 16/40 teeth, P 2, 14 in opened to 14.25 in. New pitch
    # diameters 8.143 and 20.357 in; pressure angle printed 22.56 deg (the book rounds twice; exact is 22.6005), so 0.05.
    a, b = gear(16, 12.7), gear(40, 12.7)
    mesh = at(a, b, 14.25 * 25.4)
    assert [2 * r / 25.4 for r in mesh.working_radii_mm] == pytest.approx([8.143, 20.357], abs=5e-4)
    assert math.degrees(mesh.working_angle_rad) == pytest.approx(22.56, abs=0.05)
    assert math.degrees(mesh.working_angle_rad) == pytest.approx(22.6005, abs=5e-4)
    assert (a.base_radius_mm / 25.4, b.base_radius_mm / 25.4) == pytest.approx((3.76, 9.40), abs=5e-3)
    assert a.base_pitch_mm / 25.4 == pytest.approx(1.48, abs=5e-3)
    # Worked elsewhere, not in the book.
    assert mesh.contact_ratio == pytest.approx(1.140000, abs=1e-6)
    assert at(a, b).contact_ratio == pytest.approx(1.606134, abs=1e-6)
    assert mesh.backlash_mm / 25.4 == pytest.approx(0.197008, abs=1e-6)
    assert mesh.normal_backlash_mm / 25.4 == pytest.approx(0.181880, abs=1e-6)


def test_interference_of_the_standard_pair() -> None:
    # m 3, 12/24 standard: the gear's tip at 39 passes its limit 38.542237, the pinion's at 21 stays below 25.044089.
    # Worked elsewhere from ra <= sqrt(rb² + (A sin aw)²) (Shigley 13.7, Khurmi 12.17, from memory).
    mesh = at(gear(12, 3.0), gear(24, 3.0))
    assert mesh.tip_limit_mm == pytest.approx((25.044089, 38.542237), abs=5e-7)
    assert mesh.interference_mm == pytest.approx((21.0 - 25.044089, 39.0 - 38.542237), abs=1e-6)
    assert mesh.start_pull_mm[0] < 0.0 < mesh.start_pull_mm[1]
    assert mesh.contact_ratio == pytest.approx(1.51112, abs=5e-6)


@pytest.mark.parametrize(
    ("ratio", "least"),
    [
        # Bevan, Theory of Machines, ex. 4(b) and 4(c), p. 334 (a published copy of the worked example, seen): fewest teeth of a
        # standard 20 deg pinion with an equal gear 13, with one three times as large 15.
        (1, 13),
        (3, 15),
    ],
)
def test_fewest_teeth_against_a_gear(ratio: int, least: int) -> None:
    assert max(at(gear(least, 4.0), gear(least * ratio, 4.0)).interference_mm) <= 0.0
    assert max(at(gear(least - 1, 4.0), gear((least - 1) * ratio, 4.0)).interference_mm) > 0.0


@pytest.mark.parametrize(("pinion", "largest"), [(13, 16), (14, 26), (15, 45), (16, 101), (17, 1309)])
def test_largest_gear_for_a_pinion(pinion: int, largest: int) -> None:
    # Shigley, section 13.7, eq. 13-12 (from memory): largest gear a standard 20 deg pinion runs with. Whole numbers.
    assert max(at(gear(pinion, 1.0), gear(largest, 1.0)).interference_mm) <= 0.0
    assert max(at(gear(pinion, 1.0), gear(largest + 1, 1.0)).interference_mm) > 0.0


@pytest.mark.parametrize(("teeth", "shift", "ratio"), [(24, 0.0, 1.60), (24, 0.1, 1.50), (24, 0.2, 1.41), (24, 0.3, 1.32)])
def test_contact_ratio_falls_with_spread(teeth: int, shift: float, ratio: float) -> None:
    # 24/24 at 20 deg, centres spread by so many modules; worked elsewhere, printed to 2 decimals, so half a digit.
    assert at(gear(teeth, 5.0), gear(teeth, 5.0), (teeth + shift) * 5.0).contact_ratio == pytest.approx(ratio, abs=5e-3)


def test_centres_too_near_for_any_mesh() -> None:
    assert mesh_geometry(gear(20, 4.0), gear(20, 4.0), 75.0) is None
    assert mesh_geometry(gear(20, 4.0), gear(20, 4.0), 0.0) is None


def test_working_depth() -> None:
    # By definition the tips overlap by ra1 + ra2 - A: 2 m on standard centres, less by the spread.
    mesh = at(gear(20, 4.0), gear(30, 4.0), 100.4)
    assert mesh.working_depth_mm == pytest.approx(7.6)
    assert mesh.tip_clearance_mm == pytest.approx((1.4, 1.4))
