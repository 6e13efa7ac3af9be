"""Textbook examples worked right through.

Read in a published copy of the books' worked examples (Python Textbook Companions): inputs and page numbers are
the books', printed results the copy's, agreeing with an independent calculation.
"""

from __future__ import annotations

import math

import pytest

from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import MeshGeometry, mesh_geometry, standard_centre_distance_mm


def pair(
    first: int,
    second: int,
    module: float,
    degrees: float = 20.0,
    addenda: tuple[float, float] | None = None,
) -> tuple[ToothGeometry, ToothGeometry, MeshGeometry]:
    heights = addenda or (module, module)
    a, b = (
        ToothGeometry(z, module, math.radians(degrees), addendum_coefficient=h / module)
        for z, h in zip((first, second), heights, strict=True)
    )
    mesh = mesh_geometry(a, b, standard_centre_distance_mm(a, b))
    assert mesh is not None
    return a, b, mesh


def test_khurmi_12_3() -> None:
    # Khurmi & Gupta, Theory of Machines, ex. 12.3, p. 398: 30/80, m 12, addendum 10 mm: path of contact 52.3, arc 55.61,
    # contact ratio 1.5 (1.47). Tolerance: half the last printed digit, the ratio to the second decimal.
    a, _, mesh = pair(30, 80, 12.0, addenda=(10.0, 10.0))
    assert mesh.path_mm == pytest.approx(52.3, abs=0.05)
    assert mesh.path_mm / math.cos(a.pressure_angle_rad) == pytest.approx(55.61, abs=0.005)
    assert mesh.contact_ratio == pytest.approx(1.47, abs=0.0055)


def test_khurmi_12_4() -> None:
    # ex. 12.4, p. 399: 20/40, m 5: the pinion turns 29.43 deg while a pair is in contact. Half the last printed digit.
    a, _, mesh = pair(20, 40, 5.0)
    arc = mesh.path_mm / math.cos(a.pressure_angle_rad)
    assert math.degrees(arc / a.pitch_radius_mm) == pytest.approx(29.43, abs=0.005)


def test_khurmi_12_6() -> None:
    # ex. 12.6, p. 401: 17/49, m 6: pinion 34.6 deg, gear 12 deg. Half the last printed digit.
    a, b, mesh = pair(17, 49, 6.0)
    arc = mesh.path_mm / math.cos(a.pressure_angle_rad)
    assert math.degrees(arc / a.pitch_radius_mm) == pytest.approx(34.6, abs=0.05)
    assert math.degrees(arc / b.pitch_radius_mm) == pytest.approx(12.0, abs=0.05)


def test_sarkar_1() -> None:
    # Sarkar, illustration 1, p. 133: 48/30, m 5: arc of contact 26.7. Half the last printed digit.
    a, _, mesh = pair(48, 30, 5.0)
    assert mesh.path_mm / math.cos(a.pressure_angle_rad) == pytest.approx(26.7, abs=0.05)


@pytest.mark.parametrize(("degrees", "path", "ratio"), [(14.5, 6.10350, 2.00672), (20.0, 4.98003, 1.68693)])
def test_bevan_6(degrees: float, path: float, ratio: float) -> None:
    # Bevan, ex. 6, p. 338: 28/45, in modules. The copy's results suffer from integer division, so these are
    # worked elsewhere from the book's inputs, to 5 decimals.
    _, _, mesh = pair(28, 45, 1.0, degrees)
    assert mesh.path_mm == pytest.approx(path, abs=5e-6)
    assert mesh.contact_ratio == pytest.approx(ratio, abs=5e-6)


@pytest.mark.parametrize(
    ("teeth", "module", "addenda", "path", "arc"),
    [
        # Addenda that use half of each limiting path (pinion's, gear's). Khurmi & Gupta, ex. 12.8, p. 406: 20/40, m 10,
        # addenda 16.2 and 6.5, path 51.3, arc 54.6. Sarkar, illustration 3, p. 134: 24/48, m 6, 11.7 and 4.7, arc 39.3
        # (path: arc cos 20 deg). The addenda go in as printed, to a tenth; 0.05 of each moves the path by up to 0.15.
        ((20, 40), 10.0, (16.2, 6.5), 51.3, 54.6),
        ((24, 48), 6.0, (11.7, 4.7), 36.9, 39.3),
    ],
)
def test_half_the_limiting_path(
    teeth: tuple[int, int], module: float, addenda: tuple[float, float], path: float, arc: float
) -> None:
    a, b, mesh = pair(*teeth, module, addenda=addenda)
    angle = a.pressure_angle_rad
    # The books overlook that both pinions are pointed below these addenda: their path takes the tip circle as designed.
    assert a.tip_land_mm < 0.0 < b.tip_land_mm
    unreached = math.sqrt(a.tip_radius_mm**2 - a.base_radius_mm**2) - a.tip_pull_mm
    assert mesh.path_mm + unreached == pytest.approx(path, abs=0.2)
    assert (mesh.path_mm + unreached) / math.cos(angle) == pytest.approx(arc, abs=0.2)
    assert mesh.start_pull_mm[0] == pytest.approx(a.pitch_radius_mm * math.sin(angle) / 2.0, abs=0.15)
    assert mesh.start_pull_mm[1] - unreached == pytest.approx(b.pitch_radius_mm * math.sin(angle) / 2.0, abs=0.15)


def test_pointed_before_the_limit() -> None:
    # Khurmi, ex. 12.12: 30/50, m 4, pinion addendum 4.643 modules from the interference limit; but a 30-tooth gear is
    # pointed 1.645 modules above its pitch circle (worked elsewhere), so the tooth cannot exist.
    a = ToothGeometry(30, 4.0, addendum_coefficient=4.643)
    assert a.tip_land_mm < 0.0
    assert (a.pointed_radius_mm - a.pitch_radius_mm) / 4.0 == pytest.approx(1.645, abs=5e-4)


def test_khurmi_13_2() -> None:
    # ex. 13.2, p. 433: 3 to 1, about 600 mm apart, circular pitch 25 mm: 38/114 teeth, diameters 302.39 and 907.2,
    # centres 604.79. Half the last printed digit (0.02 for 907.2, printed 907.2 where 907.18 is worked).
    a, b, _ = pair(38, 114, 25.0 / math.pi)
    assert 2 * a.pitch_radius_mm == pytest.approx(302.39, abs=0.005)
    assert 2 * b.pitch_radius_mm == pytest.approx(907.2, abs=0.05)
    assert standard_centre_distance_mm(a, b) == pytest.approx(604.79, abs=0.005)


def test_wentzell_11_3() -> None:
    # Wentzell, Machine Design, ex. 11.3, p. 231: P 8, 16/32: 2 in, 4 in, 3 in apart, circular pitch 0.39 in.
    a, b, _ = pair(16, 32, 25.4 / 8.0)
    assert (2 * a.pitch_radius_mm / 25.4, 2 * b.pitch_radius_mm / 25.4) == pytest.approx((2.0, 4.0))
    assert standard_centre_distance_mm(a, b) / 25.4 == pytest.approx(3.0)
    assert a.base_pitch_mm / math.cos(a.pressure_angle_rad) / 25.4 == pytest.approx(0.39, abs=0.005)


def test_sarkar_6() -> None:
    # Sarkar, illustration 6, p. 137: reverted train 16 to 1 on 150 mm: 15/60 at m 4 and 24/96 at m 2.5. Exact.
    for first, second, module in ((15, 60, 4.0), (24, 96, 2.5)):
        a, b, _ = pair(first, second, module)
        assert standard_centre_distance_mm(a, b) == pytest.approx(150.0)


def test_bevan_pitch_diameters() -> None:
    # Bevan, p. 320-321: 48 teeth at 0.75 in circular pitch: 11.459 in; P 4: 12 in; m 6: 288 mm. Printed digits.
    assert 2 * ToothGeometry(48, 0.75 * 25.4 / math.pi).pitch_radius_mm / 25.4 == pytest.approx(11.459, abs=5e-4)
    assert 2 * ToothGeometry(48, 25.4 / 4).pitch_radius_mm / 25.4 == pytest.approx(12.0)
    assert 2 * ToothGeometry(48, 6.0).pitch_radius_mm == pytest.approx(288.0)
