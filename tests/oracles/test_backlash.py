"""Backlash against published formulas, worked figures and outlines turned against each other."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.oracles.polygon_sweep import mesh_sweep

from trivet.record import replace
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import (
    MeshGeometry,
    centre_distance_for_backlash_mm,
    mesh_geometry,
    standard_centre_distance_mm,
    thinning_for_backlash_mm,
    tight_centre_distance_mm,
)


def opened(a: ToothGeometry, b: ToothGeometry, by_mm: float) -> MeshGeometry:
    mesh = mesh_geometry(a, b, tight_centre_distance_mm(a, b) + by_mm)
    assert mesh is not None
    return mesh


@pytest.mark.parametrize(("degrees", "per_backlash"), [(14.5, 1.933), (20.0, 1.374)])
def test_first_order_centre_change(degrees: float, per_backlash: float) -> None:
    # QTC Metric Gears, p. 388, eq. 14-2 and 14-3 (seen): jn = 2 dA sin a, jt = 2 dA tan a, dA = 1.933 j (14.5 deg),
    # 1.374 j (20 deg). They are first-order, so tried at a thousandth: the next term is under 1e-4 of the first.
    angle = math.radians(degrees)
    mesh = opened(ToothGeometry(20, 3.0, angle), ToothGeometry(40, 3.0, angle), 0.001)
    assert 0.001 / mesh.backlash_mm == pytest.approx(per_backlash, abs=6e-4)
    assert mesh.backlash_mm == pytest.approx(0.002 * math.tan(angle), rel=2e-4)
    assert mesh.normal_backlash_mm == pytest.approx(0.002 * math.sin(angle), rel=2e-4)


def test_lower_angle_needs_41_per_cent_more() -> None:
    # QTC, p. 388 (seen): 14.5 deg needs 41 % more centre change than 20 deg for one backlash. Half a per cent.
    found = [
        0.001 / opened(ToothGeometry(20, 3.0, math.radians(d)), ToothGeometry(40, 3.0, math.radians(d)), 0.001).backlash_mm
        for d in (14.5, 20.0)
    ]
    assert found[0] / found[1] == pytest.approx(1.41, abs=0.005)


@pytest.mark.parametrize(
    ("first", "second", "module", "by", "jt", "jn", "turn_first", "turn_second"),
    [
        # Derived elsewhere and checked by turning polygons of the real involutes against each other; no published figure.
        # Printed digits.
        (20, 40, 3.0, 0.10, 0.073179, 0.068690, 0.139607, 0.069804),
        (20, 40, 3.0, 0.25, 0.184386, 0.172786, 0.351175, 0.175587),
        (20, 40, 3.0, 0.50, 0.373521, 0.349056, 0.709432, 0.354716),
        (20, 40, 3.0, 1.00, 0.765763, 0.711674, 1.446428, 0.723214),
        (20, 30, 5.0, 0.25, 0.183716, 0.172292, 0.210103, 0.140069),
        (12, 24, 6.0, 0.30, 0.221263, 0.207343, 0.351175, 0.175587),
    ],
)
def test_exact_backlash_of_opened_centres(
    first: int, second: int, module: float, by: float, jt: float, jn: float, turn_first: float, turn_second: float
) -> None:
    mesh = opened(ToothGeometry(first, module), ToothGeometry(second, module), by)
    assert mesh.backlash_mm == pytest.approx(jt, abs=6e-7)
    assert mesh.normal_backlash_mm == pytest.approx(jn, abs=6e-7)
    turned = [math.degrees(t) for t in mesh.angular_backlash_rad]
    assert turned == pytest.approx([turn_first, turn_second], abs=6e-7)


def test_thinned_pair() -> None:
    # m 5, 20/30, both thinned 0.10 on standard centres: 0.2 (QTC eq. 14-1, seen: the sum of what both are thinned);
    # 0.152789 deg at the larger gear (polygons 0.15283).
    mesh = opened(ToothGeometry(20, 5.0, thinning_mm=0.1), ToothGeometry(30, 5.0, thinning_mm=0.1), 0.0)
    assert mesh.backlash_mm == pytest.approx(0.2)
    assert math.degrees(mesh.angular_backlash_rad[1]) == pytest.approx(0.152789, abs=6e-7)


def test_opened_shifted_pair() -> None:
    # SDP/SI Table 4-3 pair opened by 0.25: 0.248153; 2 dA tan a with the rack's angle would be 27 % low. Worked elsewhere.
    mesh = opened(ToothGeometry(12, 3.0, profile_shift=0.6), ToothGeometry(24, 3.0, profile_shift=0.36), 0.25)
    assert mesh.backlash_mm == pytest.approx(0.248153, abs=1e-6)
    assert mesh.normal_backlash_mm == pytest.approx(0.221888, abs=1e-6)


def test_one_thinned_tooth_of_an_industrial_drive() -> None:
    # ISO/TR 10064-2 (formula from memory), worked: m 5, A 125: jn 0.18167, jt 0.19333, each tooth thinned 0.09666.
    total = thinning_for_backlash_mm(ToothGeometry(20, 5.0), ToothGeometry(30, 5.0), 125.0, 0.18167 / math.cos(math.radians(20.0)))
    assert total is not None
    assert total / 2.0 == pytest.approx(0.09666, abs=1e-5)


@settings(derandomize=True, deadline=None, max_examples=150)
@given(
    st.integers(8, 60),
    st.integers(8, 60),
    st.sampled_from([14.5, 20.0, 25.0]),
    st.floats(-0.3, 0.6),
    st.floats(-0.3, 0.6),
    st.floats(-0.2, 1.0),
    st.floats(0.0, 0.8),
)
def test_thinning_gives_the_backlash_asked(
    first: int, second: int, degrees: float, x1: float, x2: float, by: float, wanted: float
) -> None:
    angle = math.radians(degrees)
    a, b = ToothGeometry(first, 4.0, angle, x1), ToothGeometry(second, 4.0, angle, x2)
    distance = tight_centre_distance_mm(a, b) + by
    total = thinning_for_backlash_mm(a, b, distance, wanted)
    if total is None:
        assert distance < a.base_radius_mm + b.base_radius_mm
        return
    mesh = mesh_geometry(replace(a, thinning_mm=0.3 * total), replace(b, thinning_mm=0.7 * total), distance)
    assert mesh is not None
    assert mesh.backlash_mm == pytest.approx(wanted, abs=1e-9)


def test_on_standard_centres_thinning_is_the_backlash() -> None:
    a, b = ToothGeometry(18, 4.0), ToothGeometry(36, 4.0)
    assert thinning_for_backlash_mm(a, b, standard_centre_distance_mm(a, b), 0.4) == pytest.approx(0.4)
    assert thinning_for_backlash_mm(a, b, 90.0, 0.4) is None


def test_centre_distance_for_a_backlash() -> None:
    a, b = ToothGeometry(20, 3.0), ToothGeometry(40, 3.0)
    # The 0.25 mm case of the table above, read backwards.
    assert centre_distance_for_backlash_mm(a, b, 0.184386) == pytest.approx(90.25, abs=2e-6)


@pytest.mark.parametrize(
    ("first", "second", "module", "thinning", "by"),
    [(20, 30, 5.0, 0.1, 0.0), (20, 40, 3.0, 0.0, 0.5), (16, 40, 4.0, 0.1, 0.0), (14, 14, 6.0, 0.15, 0.1)],
)
def test_shapes_turned_against_each_other_have_it(first: int, second: int, module: float, thinning: float, by: float) -> None:
    # Flanks stay within 0.002 mm of the involute on each of four flanks, and touching is told at 0.0002 mm².
    a, b = (ToothGeometry(z, module, thinning_mm=thinning) for z in (first, second))
    mesh = opened(a, b, by)
    sweep = mesh_sweep(a, b, mesh.centre_distance_mm, 0.25 * module)
    assert sweep.overlap_mm2 == 0.0
    assert sweep.backlash_mm == pytest.approx(mesh.backlash_mm, abs=0.006)
