"""Printed figures of gear handbooks and textbooks that no other test holds."""

from __future__ import annotations

import math

import pytest
from scipy.optimize import brentq

from trivet.solve.gear_measure import ideal_pin_mm
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.involute import involute, pressure_angle_at
from trivet.solve.mesh_geometry import mesh_geometry, standard_centre_distance_mm, tight_centre_distance_mm


def test_crest_width_step_by_step() -> None:
    # KHK Gear Technical Reference, crest width (from memory): m 2, z 16, x +0.3, da 37.2: angle at the tip 36.06616 deg, its involute
    # 0.098835. Tolerance: half the last printed digit, the angle to the rounding of db 30.07016.
    g = ToothGeometry(16, 2.0, profile_shift=0.3)
    at_tip = pressure_angle_at(37.2 / 2, g.base_radius_mm)
    assert math.degrees(at_tip) == pytest.approx(36.06616, abs=2e-5)
    assert involute(at_tip) == pytest.approx(0.098835, abs=5e-7)


def test_ideal_pin_step_by_step() -> None:
    # KHK, Table 5.14 = SDP/SI, Table 10-13 (from memory): m 1, z 20, x 0: half the space's angle on the base circle 0.0636354, angle at
    # the pin's centre 0.4276057 rad. Tolerance: half the last printed digit.
    g = ToothGeometry(20, 1.0)
    space = g.half_pitch_angle_rad - g.base_half_angle_rad
    assert space == pytest.approx(0.0636354, abs=5e-8)
    found = brentq(lambda f: 2 * g.base_radius_mm * (math.tan(f) - f + space) - ideal_pin_mm(g), 0.1, 1.0)
    assert found == pytest.approx(0.4276057, abs=5e-8)


def test_centre_distance_factor_of_the_shifted_pair() -> None:
    # SDP/SI, Table 4-3 = KHK, Table 4.3 (from memory): m 3, 12/24, x 0.6/0.36: y 0.83329, inv aw 0.034316. Half the last printed digit.
    a, b = ToothGeometry(12, 3.0, profile_shift=0.6), ToothGeometry(24, 3.0, profile_shift=0.36)
    distance = tight_centre_distance_mm(a, b)
    mesh = mesh_geometry(a, b, distance)
    assert mesh is not None
    assert (distance - standard_centre_distance_mm(a, b)) / 3.0 == pytest.approx(0.83329, abs=5e-6)
    assert involute(mesh.working_angle_rad) == pytest.approx(0.034316, abs=5e-7)


def test_addendum_for_a_stated_arc_of_contact() -> None:
    # Sarkar, illustration 2 (published copy) = Khurmi & Gupta, ex. 12.2, p. 397: 40/40, m 6, arc of contact 1.75 circular pitches; the
    # addendum is printed 6.1 mm (6.14443 worked elsewhere from the same inputs). Half the last printed digit.
    def too_long(addendum: float) -> float:
        g = ToothGeometry(40, 6.0, addendum_coefficient=addendum / 6.0)
        mesh = mesh_geometry(g, g, 240.0)
        assert mesh is not None
        return mesh.path_mm / math.cos(g.pressure_angle_rad) - 1.75 * math.pi * 6.0

    found = brentq(too_long, 4.0, 8.0)
    assert found == pytest.approx(6.1, abs=0.05)
    assert found == pytest.approx(6.14443, abs=5e-6)


def test_circular_pitch_of_an_inch_pair() -> None:
    # Shigley, example 13-1 (statement seen, answer from memory): P 2: 1.571 in, along the reference circle from tooth to tooth.
    g = ToothGeometry(16, 25.4 / 2)
    assert 2 * math.pi * g.pitch_radius_mm / g.teeth / 25.4 == pytest.approx(1.571, abs=5e-4)
