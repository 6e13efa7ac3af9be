"""What is measured on a gear and what its cutter may be: laws of the involute and figures by hand. Lengths mm."""

from __future__ import annotations

import itertools
import math

import pytest

from trivet.solve.cutter_limit import TIP_CLEARANCE_MM, _bottom_radius, _flank_radius, cutter_limit
from trivet.solve.flank_arcs import _arc, flank_arcs
from trivet.solve.gear_measure import exact_span_teeth, ideal_pin_mm, over_pins, span_contact_radius_mm, span_mm, span_teeth
from trivet.solve.gear_size import ToothGeometry, least_teeth
from trivet.solve.mesh_geometry import mesh_geometry, standard_centre_distance_mm
from trivet.solve.root_form import root_form

TWENTY = math.radians(20.0)
INVOLUTE = math.tan(TWENTY) - TWENTY


def flank(gear: ToothGeometry, pull: float) -> tuple[float, float]:
    """A point of the anticlockwise flank of a tooth on +x, so far along the tangent from the base circle."""
    turn = gear.base_half_angle_rad - pull / gear.base_radius_mm
    c, s = math.cos(turn), math.sin(turn)
    return gear.base_radius_mm * c - pull * s, gear.base_radius_mm * s + pull * c


@pytest.mark.parametrize("teeth", [12, 17, 24, 41])
@pytest.mark.parametrize("shift", [-0.3, 0.0, 0.4])
def test_an_ideal_pin_touches_on_the_shifted_circle(teeth: int, shift: float) -> None:
    gear = ToothGeometry(teeth, 4.0, profile_shift=shift)
    found = over_pins(gear, ideal_pin_mm(gear))
    assert found.contact_radius_mm == pytest.approx(2.0 * teeth + 4.0 * shift, abs=1e-6)
    # On the axis of a space, 180/z turned from the tooth; the flank is nearest to its middle there by half its diameter.
    radius = gear.base_radius_mm / math.cos(found.pressure_angle_rad)
    middle = radius * math.cos(gear.half_pitch_angle_rad), radius * math.sin(gear.half_pitch_angle_rad)
    near = min(math.dist(middle, flank(gear, k * 0.002)) for k in range(20000))
    assert near == pytest.approx(ideal_pin_mm(gear) / 2.0, abs=1e-5)


def test_pin_for_a_space_that_ends_below_the_base_circle() -> None:
    """A shift so deep that the circle lies inside the base circle: the pin touches where the flanks begin, tangent to both: 2 b tan h."""
    deep = ToothGeometry(8, 4.0, profile_shift=-0.6)
    gap = deep.half_pitch_angle_rad - deep.base_half_angle_rad
    assert ideal_pin_mm(deep) == pytest.approx(2.0 * deep.base_radius_mm * math.tan(gap))


@pytest.mark.parametrize(("teeth", "pin"), [(20, 6.0), (20, 7.5), (21, 6.5), (33, 8.0)])
def test_size_over_pins(teeth: int, pin: float) -> None:
    """A pin's middle lies on the axis of a space where the nearest point of the flank is half a pin away: found by trying."""
    gear = ToothGeometry(teeth, 4.0, profile_shift=0.1, thinning_mm=0.3)
    points = [flank(gear, k * 0.01) for k in range(4000)]
    c, s = math.cos(gear.half_pitch_angle_rad), math.sin(gear.half_pitch_angle_rad)
    low, high = gear.root_radius_mm, gear.tip_radius_mm + 12.0
    for _ in range(30):
        radius = (low + high) / 2.0
        near = min(math.dist((radius * c, radius * s), point) for point in points)
        low, high = (radius, high) if near < pin / 2.0 else (low, radius)
    found = over_pins(gear, pin)
    touch = min(points, key=lambda point: math.dist((low * c, low * s), point))
    across = 2.0 * low * (math.cos(math.pi / 2.0 / teeth) if teeth % 2 else 1.0) + pin
    assert found.over_pins_mm == pytest.approx(across, abs=2e-4) and found.contact_radius_mm == pytest.approx(math.hypot(*touch), abs=0.02)


def test_teeth_to_span() -> None:
    """(z/pi) [sec a √((1 + 2x/z)² − cos² a) − inv a − (2x/z) tan a] + 1/2; without the root where a deep shift leaves none."""
    deep = ToothGeometry(8, 4.0, profile_shift=-0.6)
    assert exact_span_teeth(deep) == pytest.approx(8.0 / math.pi * (0.15 * math.tan(TWENTY) - INVOLUTE) + 0.5)
    assert span_teeth(deep) == 2
    # Unshifted z a/180 + 1/2: 27 teeth 3.5, so 4; 26 teeth 3.39, so 3; 6 teeth 1.17, and no fewer than 2.
    assert [exact_span_teeth(ToothGeometry(z, 4.0)) for z in (27, 26, 6)] == pytest.approx([3.5, 26 / 9 + 0.5, 6 / 9 + 0.5])
    assert [span_teeth(ToothGeometry(z, 4.0)) for z in (28, 26, 6, 14, 19)] == [4, 3, 2, 2, 3]
    # Opposite flanks along the tangent of the base circle: (k − 1) base pitches and a tooth on the base circle.
    gear = ToothGeometry(30, 4.0, profile_shift=0.2, thinning_mm=0.3)
    base = 2.0 * gear.base_radius_mm * gear.base_half_angle_rad
    assert [span_mm(gear, k) for k in (2, 4)] == pytest.approx([(k - 1) * math.pi * 4.0 * math.cos(TWENTY) + base for k in (2, 4)])
    # Held evenly each jaw touches half the span from the base circle's tangent point.
    assert span_contact_radius_mm(gear, 4) ** 2 == pytest.approx(gear.base_radius_mm**2 + span_mm(gear, 4) ** 2 / 4.0)


def test_sizes_of_a_tooth() -> None:
    """Module 4, 25 teeth, shifted by 0.25, thinned by 0.2, tips 0.3 shorter."""
    gear = ToothGeometry(25, 4.0, profile_shift=0.25, thinning_mm=0.2, tip_shortening_mm=0.3)
    assert (gear.addendum_mm, gear.dedendum_mm, gear.whole_depth_mm) == pytest.approx((4.7, 4.0, 8.7))
    assert (gear.tip_radius_mm, gear.root_radius_mm, gear.base_pitch_mm) == pytest.approx((54.7, 46.0, 4.0 * math.pi * math.cos(TWENTY)))
    assert gear.thickness_mm == pytest.approx(2.0 * math.pi + 2.0 * math.tan(TWENTY) - 0.2)
    assert gear.least_shift == pytest.approx(1.0 - 12.5 * math.sin(TWENTY) ** 2)
    assert least_teeth(TWENTY) == pytest.approx(2.0 / math.sin(TWENTY) ** 2) and least_teeth(TWENTY, 0.8) == pytest.approx(0.8 * least_teeth(TWENTY))
    # Half its thickness along the flank: the point there stands at that angle.
    x, y = flank(gear, 12.0)
    assert gear.half_angle_at(math.hypot(x, y)) == pytest.approx(math.atan2(y, x))
    assert gear.thickness_at(math.hypot(x, y)) == pytest.approx(2.0 * math.hypot(x, y) * math.atan2(y, x))
    assert gear.tip_land_mm == pytest.approx(gear.thickness_at(54.7)) and gear.reached_tip_radius_mm == 54.7
    assert gear.tip_pull_mm == pytest.approx(math.sqrt(54.7**2 - gear.base_radius_mm**2))
    pointed = ToothGeometry(10, 4.0, profile_shift=0.9)
    assert pointed.tip_land_mm < 0.0 and pointed.reached_tip_radius_mm == pointed.pointed_radius_mm < pointed.tip_radius_mm
    assert pointed.half_angle_at(pointed.pointed_radius_mm) == pytest.approx(0.0, abs=1e-9)
    below = ToothGeometry(40, 4.0, addendum_coefficient=-1.5)
    assert below.tip_radius_mm < below.base_radius_mm and below.tip_pull_mm == 0.0
    default = ToothGeometry(20, 1.0)
    assert (default.pressure_angle_rad, default.tip_radius_mm, default.root_radius_mm, default.thickness_mm) == pytest.approx((TWENTY, 11.0, 8.75, math.pi / 2))


def test_a_cutter_whose_mate_digs_below_the_base_circle() -> None:
    """The tip of 80 teeth passes below the base circle of 10: then the flank must be whole down to that circle."""
    small, large = ToothGeometry(10, 4.0, thinning_mm=0.1), ToothGeometry(80, 4.0, thinning_mm=0.1)
    distance = standard_centre_distance_mm(small, large)
    mesh, limit = mesh_geometry(small, large, distance), cutter_limit(small, large, distance)
    assert mesh is not None and limit is not None and mesh.start_pull_mm[0] < 0.0
    assert limit.flank_diameter_mm > 0.0 and root_form(small, limit.flank_diameter_mm / 2.0).contact_pull_mm == pytest.approx(0.0, abs=1e-6)
    assert limit.flank_diameter_mm == 2.0 * _flank_radius(small, 0.0)
    assert limit.diameter_mm == min(limit.flank_diameter_mm, limit.bottom_diameter_mm)
    assert limit.binds == ("flank" if limit.flank_diameter_mm <= limit.bottom_diameter_mm else "bottom")
    # More room under the tips is a smaller cutter.
    default, wider = cutter_limit(large, small, distance), cutter_limit(large, small, distance, 0.5)
    assert default is not None and wider is not None and wider.bottom_diameter_mm < default.bottom_diameter_mm
    assert default == cutter_limit(large, small, distance, TIP_CLEARANCE_MM) and TIP_CLEARANCE_MM == 0.1


@pytest.mark.parametrize(("first", "second"), [(20, 40), (40, 20), (30, 30)])
def test_a_cutter_at_its_limit_leaves_what_the_mate_needs(first: int, second: int) -> None:
    """The flank is whole from where contact starts; the round bottoms 0.1 below the mate's tips, or stands on the root circle."""
    a, b = ToothGeometry(first, 4.0, thinning_mm=0.2), ToothGeometry(second, 4.0, thinning_mm=0.2)
    distance = 2.0 * (first + second) + 0.1
    mesh, limit = mesh_geometry(a, b, distance), cutter_limit(a, b, distance)
    assert mesh is not None and limit is not None and mesh.start_pull_mm[0] > 0.0
    flank_form, bottom_form = (root_form(a, mm / 2.0) for mm in (limit.flank_diameter_mm, limit.bottom_diameter_mm))
    assert flank_form.contact_pull_mm == pytest.approx(mesh.start_pull_mm[0], abs=1e-6)
    assert bottom_form.full_round and bottom_form.bottom_radius_mm == pytest.approx(distance - b.tip_radius_mm - 0.1, abs=1e-6)
    assert limit.diameter_mm == min(limit.flank_diameter_mm, limit.bottom_diameter_mm)


def test_cutters_at_their_borders() -> None:
    gear = ToothGeometry(20, 4.0, thinning_mm=0.4)
    # Deeper than its own root no cutter goes; at the root's own depth a sharp corner would.
    assert _bottom_radius(gear, gear.root_radius_mm - 0.01) == 0.0 and _bottom_radius(gear, -1.0) == 0.0
    assert _bottom_radius(gear, gear.root_radius_mm) > 0.0
    # Many teeth close on their base circle: no cutter reaches it.
    many = ToothGeometry(120, 4.0)
    assert many.half_pitch_angle_rad < many.base_half_angle_rad and _flank_radius(many, 0.0) == 0.0
    # Where the root lies inside the base circle too it opens only so far out that the tangent turns by more than the tooth closes.
    deep = ToothGeometry(120, 4.0, dedendum_coefficient=5.0)
    closed = deep.base_half_angle_rad - deep.half_pitch_angle_rad
    roll = next(k * 0.001 for k in range(1, 1000) if math.tan(k * 0.001 - closed) > k * 0.001)
    assert _flank_radius(deep, (roll - 0.002) * deep.base_radius_mm) == 0.0 < _flank_radius(deep, (roll + 0.002) * deep.base_radius_mm)


@pytest.mark.parametrize(("teeth", "thinning", "pull"), [(20, 2.0, 3.0), (20, 2.0, 1.0), (30, 2.5, 4.0), (16, 2.5, 2.0)])
def test_a_cutter_on_the_root_circle(teeth: int, thinning: float, pull: float) -> None:
    """Its middle lies its radius over the root circle and as far along the tangent as the flank's end and its radius: (f + r)² = b² + (p + r)²."""
    gear = ToothGeometry(teeth, 4.0, thinning_mm=thinning)
    r, b, f = _flank_radius(gear, pull), gear.base_radius_mm, gear.root_radius_mm
    assert (f + r) ** 2 == pytest.approx(b**2 + (pull + r) ** 2)
    form = root_form(gear, r)
    assert not form.full_round and form.contact_pull_mm == pytest.approx(pull)


def test_a_cutter_between_straight_flanks() -> None:
    """Below the base circle both flanks point to the axis: r = (d + r) sin of the gap's half angle."""
    gear = ToothGeometry(8, 4.0, thinning_mm=1.5)
    gap = math.sin(gear.half_pitch_angle_rad - gear.base_half_angle_rad)
    for deepest in (11.1, 11.4, 11.9):
        r = _bottom_radius(gear, deepest)
        assert r == pytest.approx((deepest + r) * gap) and root_form(gear, r).contact == "radial"


@pytest.mark.parametrize("teeth", [8, 12, 20, 60])
def test_a_cutter_rests_on_both_flanks(teeth: int) -> None:
    """With its middle on the axis of a space and its lowest point at a depth, its distance from the flank is its radius."""
    gear = ToothGeometry(teeth, 4.0, thinning_mm=0.3)
    for deepest in (gear.root_radius_mm + 0.2, gear.root_radius_mm + 1.5, gear.pitch_radius_mm):
        r = _bottom_radius(gear, deepest)
        c, s = math.cos(gear.half_pitch_angle_rad), math.sin(gear.half_pitch_angle_rad)
        middle = ((deepest + r) * c, (deepest + r) * s)
        half = gear.base_half_angle_rad
        # Below the base circle the flank is straight towards the middle.
        side = [(k / 4000.0 * gear.base_radius_mm * math.cos(half), k / 4000.0 * gear.base_radius_mm * math.sin(half)) for k in range(4000)]
        near = min(math.dist(middle, point) for point in (*side, *(flank(gear, k * 0.01) for k in range(5000))))
        assert r > 0.0 and near == pytest.approx(r, abs=1e-4)


def test_a_flank_without_length() -> None:
    found = flank_arcs(40.0, 0.1, 12.0, 12.0)
    assert len(found.nodes) == 1 and found.nodes[0][2] == 0.0 and found.deviation_mm == 0.0
    assert _arc(40.0, 0.1, 0.3, 0.3) == (0.0, 0.0)


@pytest.mark.parametrize("teeth", [12, 40])
def test_ends_of_a_flank_lie_on_its_involute(teeth: int) -> None:
    gear = ToothGeometry(teeth, 6.0, thinning_mm=0.3)
    found = flank_arcs(gear.base_radius_mm, gear.base_half_angle_rad, gear.tip_pull_mm, 2.0)
    pulls = [math.sqrt(math.hypot(x, y) ** 2 - gear.base_radius_mm**2) for x, y, _ in found.nodes]
    assert pulls == sorted(pulls, reverse=True) and (pulls[0], pulls[-1]) == pytest.approx((gear.tip_pull_mm, 2.0))
    assert [(x, y) for x, y, _ in found.nodes] == [pytest.approx(flank(gear, pull), abs=1e-6) for pull in pulls]
    # Over equal rolls, where that holds as well as the longest arcs do.
    steps = [one - other for one, other in itertools.pairwise(pulls)]
    assert len(steps) > 1 and steps == pytest.approx([steps[0]] * len(steps), rel=1e-6)


def test_arcs_keep_back_what_coordinates_are_rounded_by() -> None:
    """Of the 0.002 allowed a ten-thousandth stays; near it one arc more is taken."""
    found = [flank_arcs(60.0, 0.1, 12.0 + k * 0.4, 6.0) for k in range(40)]
    assert max(item.deviation_mm for item in found) <= 0.0019
    counts = [len(item.nodes) - 1 for item in found]
    assert counts == sorted(counts) and counts[-1] > counts[0]
