"""Meshes measured on their outlines as cut: against closed forms, against polygons turned otherwise, and against published contact."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.oracles.polygon_sweep import mesh_sweep

from trivet.solve.as_cut_mesh import as_cut_mesh
from trivet.solve.as_cut_tooth import cut_tooth
from trivet.solve.cutter_limit import cutter_limit
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry, standard_centre_distance_mm

# Four flanks of arcs within 0.002 mm of the involute, along the working circle at 20 to 25 degrees, and points 0.05 mm apart.
BACKLASH_MM = 0.010
# Points 0.05 mm apart on either flank, of a base pitch of 9 mm or more, and phases a thousandth of a pitch apart.
CONTACT = 0.015


def pair(first: int, second: int, module: float, thinning: float = 0.0, **facts: float) -> tuple[ToothGeometry, ToothGeometry]:
    one, two = (ToothGeometry(z, module, thinning_mm=thinning, **facts) for z in (first, second))
    return one, two


@pytest.mark.parametrize(
    ("first", "second", "module", "thinning", "by"),
    [(20, 30, 5.0, 0.1, 0.0), (20, 40, 3.0, 0.0, 0.5), (16, 40, 4.0, 0.1, 0.0), (14, 14, 6.0, 0.15, 0.1), (16, 20, 6.0, 0.25, -0.3)],
)
def test_backlash_and_contact_are_the_closed_forms(first: int, second: int, module: float, thinning: float, by: float) -> None:
    """A fine cutter leaves the flanks alone: what is measured is the exact backlash and the contact ratio at that distance."""
    a, b = pair(first, second, module, thinning)
    mesh = mesh_geometry(a, b, standard_centre_distance_mm(a, b) + by)
    assert mesh is not None
    cut = as_cut_mesh(a, b, mesh.centre_distance_mm, (0.25 * module, 0.25 * module))
    assert cut.overlap_mm2 == 0.0
    assert cut.backlash_mm == pytest.approx(mesh.backlash_mm, abs=BACKLASH_MM)
    # The least over a pitch: flanks that stand out take from it, none adds.
    assert cut.backlash_mm <= mesh.backlash_mm + 0.0005
    assert cut.contact_ratio == pytest.approx(mesh.contact_ratio, abs=CONTACT)


@pytest.mark.parametrize(
    ("first", "second", "module", "addendum", "ratio", "by_publication"),
    [
        # Khurmi & Gupta, Theory of Machines, ex. 12.3, p. 398 (published copy): 30/80, m 12, addendum 10 mm: arc 55.61 over 37.70.
        (30, 80, 12.0, 10.0, 55.61 / (12.0 * math.pi), "1.475"),
        # Ex. 12.4, p. 399: 20/40, m 5: the pinion turns 29.43 degrees in contact, 18 degrees a pitch.
        (20, 40, 5.0, 5.0, 29.43 / 18.0, "29.43 degrees"),
        # Sarkar, illustration 1, p. 133 (published copy): 48/30, m 5: arc of contact 26.7.
        (48, 30, 5.0, 5.0, 26.7 / (5.0 * math.pi), "26.7"),
    ],
)
def test_contact_as_cut_is_the_textbooks(
    first: int, second: int, module: float, addendum: float, ratio: float, by_publication: str
) -> None:
    """Measured on the outlines: the turn in which one pair of flanks touches. Tolerance: that of the measurement."""
    a, b = pair(first, second, module, 0.3, addendum_coefficient=addendum / module)
    found = as_cut_mesh(a, b, standard_centre_distance_mm(a, b), (0.2 * module, 0.2 * module))
    assert found.contact_ratio == pytest.approx(ratio, abs=CONTACT), by_publication


@settings(derandomize=True, deadline=None, max_examples=12)
@given(
    st.integers(13, 40), st.integers(13, 40), st.sampled_from([20.0, 25.0]), st.floats(0.04, 0.3), st.floats(0.2, 1.3), st.floats(-0.4, 0.4)
)
def test_as_polygons_have_it(first: int, second: int, degrees: float, thinning: float, share: float, by: float) -> None:
    """Outlines laid over each other as polygons: the same overlap, the same play. Fat cutters, tight and wide centres among them."""
    a, b = pair(first, second, 4.0, thinning, pressure_angle_rad=math.radians(degrees))
    distance = standard_centre_distance_mm(a, b) + by
    limits = cutter_limit(a, b, distance), cutter_limit(b, a, distance)
    if limits[0] is None or limits[1] is None:
        return
    radius = share * min(limits[0].diameter_mm, limits[1].diameter_mm) / 2.0
    cut, sweep = as_cut_mesh(a, b, distance, (radius, radius)), mesh_sweep(a, b, distance, radius)
    # Both look at places of their own in a pitch, so slivers differ.
    assert cut.overlap_mm2 == pytest.approx(sweep.overlap_mm2, abs=0.02, rel=0.05)
    if cut.overlap_mm2 == sweep.overlap_mm2 == 0.0:
        # Polygons are looked at in six places of a pitch: where a tip just meets a fillet they may miss the tightest.
        assert cut.backlash_mm <= sweep.backlash_mm + 0.004
        assert cut.backlash_mm == pytest.approx(sweep.backlash_mm, abs=0.008 if share < 0.9 else 0.1)


@pytest.mark.parametrize(
    ("module", "cutter", "thinning", "overlap"),
    # Simulated elsewhere, 16/40 teeth: at m 4 a 4 mm cutter is clear, a 6 mm one overlaps by about 6.7 mm², unthinned 8.4; m 6 is clear
    # with 6.35 mm. Tolerance: the digits given.
    [(4.0, 4.0, 0.1, 0.0), (4.0, 6.0, 0.1, 6.7), (4.0, 6.0, 0.0, 8.4), (6.0, 6.35, 0.1, 0.0)],
)
def test_what_a_cutter_leaves_in_the_roots(module: float, cutter: float, thinning: float, overlap: float) -> None:
    a, b = pair(16, 40, module, thinning)
    found = as_cut_mesh(a, b, standard_centre_distance_mm(a, b), (cutter / 2.0, cutter / 2.0))
    assert found.overlap_mm2 == pytest.approx(overlap, abs=0.1)
    assert (found.backlash_mm == 0.0) is (overlap > 0.0)


def test_tips_that_interfere_take_contact_and_backlash() -> None:
    """The standard pair of 12 and 24 at m 3, 20 degrees: the gear's tip passes the tangent point by 0.458 mm (worked elsewhere: 38.542)."""
    a, b = pair(12, 24, 3.0, 0.05)
    mesh = mesh_geometry(a, b, 54.0)
    assert mesh is not None and mesh.interference_mm[1] == pytest.approx(39.0 - 38.542237, abs=1e-6)
    found = as_cut_mesh(a, b, 54.0, (0.2, 0.2))
    # From the tangent point on, the pinion's flank is not touched: so much of the path is lost, as closed forms have it.
    lost = (b.tip_pull_mm - mesh.centre_distance_mm * math.sin(mesh.working_angle_rad)) / a.base_pitch_mm
    assert 0.02 < lost < 0.12
    # The flank is so curved there that a corner next to it still counts as on it.
    assert found.contact_ratio < mesh.contact_ratio - 0.5 * lost
    assert found.backlash_mm < mesh.backlash_mm


def test_tips_that_reach_the_bottom_of_the_roots() -> None:
    """Teeth so thin that their flanks are clear, 1.2 mm nearer where the tips have 1 mm of room: wood below the root is wood."""
    a, b = pair(24, 30, 4.0, 2.5)
    clear, deep = (as_cut_mesh(a, b, 108.0 - by, (0.4, 0.4)) for by in (0.9, 1.2))
    assert clear.overlap_mm2 == 0.0 < clear.backlash_mm
    assert deep.overlap_mm2 == pytest.approx(mesh_sweep(a, b, 106.8, 0.4).overlap_mm2, rel=0.05)
    assert deep.overlap_mm2 > 0.05 and deep.backlash_mm == 0.0


def test_each_gear_has_its_own_cutter() -> None:
    """A fat cutter in the wheel's roots alone stops the pinion's tips; which gear is named first does not matter."""
    a, b = pair(16, 40, 4.0, 0.1)
    fine = as_cut_mesh(a, b, 112.0, (1.0, 1.0))
    both = as_cut_mesh(a, b, 112.0, (3.0, 3.0))
    one = as_cut_mesh(a, b, 112.0, (1.0, 3.0))
    assert fine.overlap_mm2 == 0.0 < one.overlap_mm2 < both.overlap_mm2
    assert as_cut_mesh(b, a, 112.0, (3.0, 1.0)) == one


def test_the_tooth_is_the_outlines() -> None:
    """Its width on the reference circle, its tip and its bottom; its boundary runs up a flank and over the tip."""
    gear = ToothGeometry(20, 5.0, thinning_mm=0.2)
    tooth = cut_tooth(gear, 1.5)
    at = next(k for k, radius in enumerate(tooth.radii) if radius >= 50.0)
    assert 2.0 * 50.0 * tooth.half_angles[at] == pytest.approx(5.0 * math.pi / 2.0 - 0.2, abs=0.05)
    assert tooth.tip_radius_mm == pytest.approx(55.0, abs=1e-9)
    assert tooth.bottom_radius_mm == pytest.approx(43.75, abs=1e-6)
    radius, angle = tooth.around
    assert radius[0] == tooth.bottom_radius_mm and radius[-1] == tooth.tip_radius_mm
    assert angle[-1] == pytest.approx(tooth.half_angles[-1]) and angle[0] == pytest.approx(-tooth.half_angles[0])
    assert sum(tooth.at_tip) * 0.1 < 2.0 * 55.0 * tooth.half_angles[-1] + 0.3
