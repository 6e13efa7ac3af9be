"""Pairs of gears at odd centre distances, and readings that come alone or late; figures by hand. Lengths mm."""

from __future__ import annotations

import math

import pytest
from tests.designs_feet import riding, riser
from tests.sharp.test_sharp_card import row

from trivet.record import replace
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.measured import _spacings, _train, _with_thickness
from trivet.solve.mesh_geometry import (
    alike,
    backlash_mm,
    centre_distance_for_backlash_mm,
    mesh_geometry,
    shift_sum_for_centre_distance,
    thinning_for_backlash_mm,
    working_angle_rad,
)
from trivet.solve.train import solve_train

A20 = math.radians(20.0)
SMALL, LARGE = ToothGeometry(16, 5.0), ToothGeometry(24, 5.0)
# Sum of the base radii.
TOUCHING = 100.0 * math.cos(A20)


# Centre distances.
def test_distances_that_no_pair_can_have() -> None:
    for distance in (-5.0, 0.0, 0.5, TOUCHING - 1e-6):
        assert working_angle_rad(SMALL, LARGE, distance) is None and mesh_geometry(SMALL, LARGE, distance) is None
        assert shift_sum_for_centre_distance(SMALL, LARGE, distance) is None and thinning_for_backlash_mm(SMALL, LARGE, distance, 0.4) is None
    assert working_angle_rad(SMALL, LARGE, TOUCHING) == pytest.approx(0.0, abs=1e-6)
    assert working_angle_rad(SMALL, LARGE, 100.0) == pytest.approx(A20) and working_angle_rad(SMALL, LARGE, 102.0) == pytest.approx(math.acos(TOUCHING / 102.0))
    # A hundredth of the size: the same angles.
    tiny = [replace(item, module_mm=0.05) for item in (SMALL, LARGE)]
    assert working_angle_rad(tiny[0], tiny[1], 1.0) == pytest.approx(A20) and working_angle_rad(tiny[0], tiny[1], 0.9) is None


@pytest.mark.parametrize(
    ("facts", "same"),
    [
        # To five digits: 5 and 5.00004 mm, 0.34907 and 0.349069 rad.
        ({}, True), ({"module_mm": 5.00004}, True), ({"module_mm": 5.0001}, False), ({"pressure_angle_rad": A20 * 1.000009}, True),
        ({"pressure_angle_rad": A20 * 1.00002}, False), ({"teeth": 99, "profile_shift": 0.5, "thinning_mm": 0.3}, True),
    ],
)  # fmt: skip
def test_teeth_that_can_mesh(facts: dict[str, float], same: bool) -> None:
    other = replace(LARGE, **facts)
    assert alike(SMALL, other) is alike(other, SMALL) is same


def test_where_contact_begins() -> None:
    """12 and 40 teeth on standard centres: the large gear's tip begins inside the base circle of the small one."""
    small, large = ToothGeometry(12, 5.0), ToothGeometry(40, 5.0)
    found = mesh_geometry(small, large, 130.0)
    assert found is not None
    line = 130.0 * math.sin(A20)
    pulls = line - math.sqrt(105.0**2 - large.base_radius_mm**2), line - math.sqrt(35.0**2 - small.base_radius_mm**2)
    assert pulls[0] < 0.0 < pulls[1] and found.start_pull_mm == pytest.approx(pulls)
    assert found.start_radius_mm == pytest.approx((small.base_radius_mm, math.hypot(large.base_radius_mm, pulls[1])))
    assert found.interference_mm == pytest.approx((35.0 - math.hypot(small.base_radius_mm, line), 105.0 - math.hypot(large.base_radius_mm, line)))
    # Clearance of 0.25 modules, 2 modules of working depth; radii as the teeth.
    assert found.tip_clearance_mm == pytest.approx((1.25, 1.25)) and found.working_depth_mm == pytest.approx(10.0)
    assert found.working_radii_mm == pytest.approx((30.0, 100.0)) and found.path_mm == pytest.approx(line - sum(pulls))
    assert found.contact_ratio == pytest.approx(found.path_mm / (5.0 * math.pi * math.cos(A20)))
    swapped = mesh_geometry(large, small, 130.0)
    assert swapped is not None and swapped.start_pull_mm == found.start_pull_mm[::-1] and swapped.tip_limit_mm == found.tip_limit_mm[::-1]
    assert swapped.start_radius_mm == found.start_radius_mm[::-1]


@pytest.mark.parametrize("thinned", [(0.0, 0.0), (0.3, 0.1), (-0.2, 0.0)])
@pytest.mark.parametrize("wanted", [0.0, 0.4, 3.0])
def test_distance_of_a_wanted_backlash(thinned: tuple[float, float], wanted: float) -> None:
    one, other = replace(SMALL, thinning_mm=thinned[0]), replace(LARGE, thinning_mm=thinned[1])
    distance = centre_distance_for_backlash_mm(one, other, wanted)
    assert distance is not None
    angle = working_angle_rad(one, other, distance)
    assert angle is not None and backlash_mm(one, other, distance, angle) == pytest.approx(wanted, abs=1e-8)
    # Without thinning and backlash on standard centres, and farther apart for more.
    assert (distance > 100.0) == (wanted > sum(thinned)) or distance == pytest.approx(100.0)


def test_backlash_that_touching_base_circles_have_already() -> None:
    """Teeth thinned by 4.5 each leave some even at the least distance that there is."""
    one, other = replace(SMALL, thinning_mm=4.5), replace(LARGE, thinning_mm=4.5)
    least = backlash_mm(one, other, TOUCHING, 0.0)
    # 2 A/40 (pi − (pi − 9/5) − 40 inv 20°).
    assert least == pytest.approx(2.0 * TOUCHING / 40.0 * (1.8 - 40.0 * (math.tan(A20) - A20)))
    assert centre_distance_for_backlash_mm(one, other, least - 1e-6) is None
    assert centre_distance_for_backlash_mm(one, other, least + 1e-3) == pytest.approx(TOUCHING, abs=0.1)


# Readings.
@pytest.mark.parametrize(("kind", "title", "by"), [("span", "", 0.1), ("tip", "", -0.2), ("bore", "bore for pin of west, 8 mm", 0.05)])
def test_one_reading_alone_changes_the_train(kind: str, title: str, by: float) -> None:
    made = riser(riding())
    train = solve_train(made)
    found, apart = _train(made, train, (row(kind, "r", ("west",), title),), {"r": by})
    assert apart == () and [item.id for item in found.gears if item != train.gear(item.id)] == ["west"]
    west, old = found.gear("west"), train.gear("west")
    was, now = old.geometry, west.geometry
    changed = (now.thinning_mm - was.thinning_mm, now.tip_shortening_mm - was.tip_shortening_mm, west.hole_mm - old.hole_mm)
    wanted = {"span": (-0.1 / math.cos(A20), 0.0, 0.0), "tip": (0.0, 0.1, 0.0), "bore": (0.0, 0.0, 0.05)}[kind]
    assert changed == pytest.approx(wanted)
    # All meshes of the gear, and no other, are worked out again.
    if kind == "tip":
        again = [mesh.id for mesh in found.meshes if mesh != next(item for item in train.meshes if item.id == mesh.id)]
        assert sorted(again) == sorted(mesh.id for mesh in train.meshes if "west" in (mesh.a, mesh.b))


def test_a_thickness_after_other_readings() -> None:
    made = riser(riding())
    rows = (row("span", "s", ("west",)), row("thickness", "u", ("ply",), nominal=17.8), row("thickness", "t", ("gears",), nominal=17.8))
    found = _with_thickness(made, rows, {"s": (9.0,), "t": (17.6,)}, {"s": 0.1, "t": -0.2})
    assert found.sheets[0] == made.sheets[0] and found.sheets[1].thickness.mean == pytest.approx(17.6)


def test_holes_that_were_not_measured() -> None:
    first, second = "hole for the insert of corner.nw, 13.50 mm", "hole for the drive bolt crank, 8.40 mm"
    rows = (row("hole", "h1", ("deck",), first), row("hole", "h2", ("deck",), second), row("spacing", "c", ("a-b", first, second)))
    assert _spacings(rows, {"h2": 0.06, "c": 0.5}) == {"a-b": pytest.approx(0.47)} and _spacings(rows, {"c": 0.5}) == {"a-b": 0.5}
