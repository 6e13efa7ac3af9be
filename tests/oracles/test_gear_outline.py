"""As-cut outlines against the same thing done by growing and shrinking polygons, and against their own tolerance."""

from __future__ import annotations

import math

import pytest
from sharp_gear import sharp_gear
from tests.oracles.polygon_sweep import mesh_sweep

from trivet.solve.contour_faults import contour_faults
from trivet.solve.flank_arcs import FLANK_TOLERANCE_MM
from trivet.solve.gear_outline import gear_outline
from trivet.solve.gear_size import ToothGeometry

# teeth, module, degrees, shift, cutter radius, thinning: fillets, full rounds, radial flanks, few teeth, pointed teeth,
# cutters that reach the radial flank only, the tip corners only, and a sharp one.
CASES = [
    (16, 4.0, 20.0, 0.0, 2.0, 0.1),
    (40, 4.0, 20.0, 0.0, 2.0, 0.1),
    (16, 4.0, 20.0, 0.0, 3.0, 0.1),
    (8, 5.0, 20.0, 0.0, 1.0, 0.0),
    (8, 5.0, 20.0, 0.5, 3.0, 0.0),
    (6, 6.0, 20.0, 0.0, 3.0, 0.2),
    (6, 6.0, 20.0, -0.3, 0.8, 0.2),
    (12, 3.0, 20.0, 0.6, 1.5, 0.0),
    (20, 5.0, 25.0, 0.0, 1.0, 0.0),
    (20, 5.0, 14.5, 0.0, 3.175, 0.3),
    (24, 4.0, 20.0, 0.0, 8.0, 0.0),
    (24, 4.0, 20.0, 0.0, 30.0, 0.0),
    (10, 4.0, 20.0, 0.8, 2.0, 0.0),
    (48, 6.0, 20.0, 0.0, 3.0, 0.4),
    (7, 6.0, 20.0, -0.3, 0.5, 0.0),
    (12, 5.0, 14.5, -0.4, 1.6, 0.5),
    (12, 5.0, 14.5, 0.0, 3.0, 0.0),
    (18, 4.0, 20.0, 0.0, 0.0, 0.0),
    (30, 3.0, 25.0, 0.2, 1.5875, 0.15),
    (6, 8.0, 14.5, 0.0, 2.0, 2.5),
]


def geometry(teeth: int, module: float, degrees: float, shift: float, thinning: float) -> ToothGeometry:
    return ToothGeometry(teeth, module, math.radians(degrees), shift, thinning)


@pytest.mark.parametrize(("teeth", "module", "degrees", "shift", "cutter", "thinning"), CASES)
def test_outline_is_the_sharp_one_grown_and_shrunk(
    teeth: int, module: float, degrees: float, shift: float, cutter: float, thinning: float
) -> None:
    # Both sides are chords: 0.0003 mm here, about as much there; so 3 um in distance for an outline within 2 um.
    from shapely import Polygon

    outline = gear_outline(geometry(teeth, module, degrees, shift, thinning), cutter)
    cut = sharp_gear(teeth, module, degrees, shift, thinning)
    if cutter:
        cut = cut.buffer(cutter, quad_segs=300).buffer(-cutter, quad_segs=300)
    ours = Polygon(outline.contour.points(0.0003))
    assert ours.exterior.hausdorff_distance(cut.exterior) < 0.003
    assert ours.symmetric_difference(cut).area < 0.002 * outline.contour.length_mm
    assert outline.contour.area_mm2 == pytest.approx(cut.area, abs=0.001 * outline.contour.length_mm)
    assert contour_faults(outline.contour) == ()


def test_shallow_teeth_under_a_fat_cutter() -> None:
    # Teeth 1.5 mm deep, 3 mm wide gaps and more: a 5 mm radius rests on the root circle and on the tip corners.
    from shapely import Polygon

    shallow = ToothGeometry(20, 5.0, thinning_mm=6.0, addendum_coefficient=0.1, dedendum_coefficient=0.2)
    outline = gear_outline(shallow, 5.0)
    cut = sharp_gear(20, 5.0, thinning=6.0, tip_radius=50.5, root_radius=49.0)
    cut = cut.buffer(5.0, quad_segs=300).buffer(-5.0, quad_segs=300)
    assert not outline.full_round
    assert Polygon(outline.contour.points(0.0003)).exterior.hausdorff_distance(cut.exterior) < 0.003


@pytest.mark.parametrize(("teeth", "module", "degrees", "shift", "cutter", "thinning"), CASES)
def test_arcs_stay_within_two_micrometres_of_the_involute(
    teeth: int, module: float, degrees: float, shift: float, cutter: float, thinning: float
) -> None:
    # Points of the arcs, above where the cutter touched, held against the exact polar angle of the flank at their radius.
    g = geometry(teeth, module, degrees, shift, thinning)
    outline = gear_outline(g, cutter)
    a = math.radians(degrees)
    base = module * teeth / 2.0 * math.cos(a)
    at_base = (math.pi / 2 + 2 * shift * math.tan(a) - thinning / module) / teeth + math.tan(a) - a
    low, high = max(base, outline.flank_start_radius_mm) + 1e-4, g.reached_tip_radius_mm - 0.005
    worst, met = 0.0, 0
    for x, y in outline.contour.points(0.00001):
        r, t = math.hypot(x, y), math.atan2(y, x)
        if not (low < r < high and 0.0 < t < math.pi / teeth):
            continue
        slope = math.acos(base / r)
        # Across the flank: the arc between the two, turned by the flank's slope to the radius.
        worst = max(worst, abs(t - at_base + math.tan(slope) - slope) * r * math.cos(slope))
        met += 1
    assert worst <= FLANK_TOLERANCE_MM
    assert outline.flank_deviation_mm <= FLANK_TOLERANCE_MM
    assert met > 20 or high <= low


@pytest.mark.parametrize(
    ("teeth", "module", "cutter"),
    [
        (12, 4.0, 2.0),
        (16, 4.0, 2.0),
        (24, 4.0, 2.0),
        (40, 4.0, 2.0),
        (60, 4.0, 2.0),
        (18, 5.0, 2.0),
        (36, 5.0, 3.0),
        (24, 6.0, 3.175),
        (72, 6.0, 3.175),
    ],
)
@pytest.mark.parametrize("degrees", [14.5, 20.0, 25.0])
def test_a_fifth_of_the_points_chords_would_need(teeth: int, module: float, cutter: float, degrees: float) -> None:
    contour = gear_outline(geometry(teeth, module, degrees, 0.0, 0.2), cutter).contour
    assert 5 * len(contour.vertices) <= contour.chord_count(FLANK_TOLERANCE_MM)


@pytest.mark.parametrize(("degrees", "times"), [(14.5, 4.7), (20.0, 5.0), (25.0, 4.5)])
@pytest.mark.parametrize("teeth", [12, 20, 40])
def test_small_modules_save_a_little_less(teeth: int, degrees: float, times: float) -> None:
    # Chords shrink with the root of a size, arcs with its cube root: at m 3 some gears fall just short of a fifth.
    contour = gear_outline(geometry(teeth, 3.0, degrees, 0.0, 0.2), 1.5875).contour
    assert times * len(contour.vertices) <= contour.chord_count(FLANK_TOLERANCE_MM)


def test_phase_turns_the_outline() -> None:
    g = geometry(17, 4.0, 20.0, 0.0, 0.1)
    for plain, turned in zip(
        gear_outline(g, 2.0).contour.rotated(0.3).vertices, gear_outline(g, 2.0, 0.3).contour.vertices, strict=True
    ):
        assert (plain.x, plain.y, plain.bulge) == pytest.approx((turned.x, turned.y, turned.bulge), abs=1e-9)


def test_a_tooth_stands_at_the_phase() -> None:
    x0, _, x1, _ = gear_outline(geometry(15, 4.0, 20.0, 0.0, 0.0), 2.0).contour.bounds
    # Odd count: a tip at +x, 30 + 4; a space at -x, whose neighbours' tip corners reach less far.
    assert x1 == pytest.approx(34.0)
    assert -34.0 < x0 < -33.0


def test_fat_cutter_leaves_one_round_above_the_root_circle() -> None:
    # Rack with 20 deg: full-round radius at 1.25 m depth is 0.47191 m (worked elsewhere); many teeth come close to it.
    many = geometry(400, 1.0, 20.0, 0.0, 0.0)
    assert not gear_outline(many, 0.465).full_round
    fat = gear_outline(many, 0.53)
    assert fat.full_round
    assert fat.bottom_radius_mm > many.root_radius_mm


@pytest.mark.parametrize(("thinning", "overlap"), [(0.1, 6.7), (0.0, 8.4)])
def test_overlap_of_a_cutter_too_fat(thinning: float, overlap: float) -> None:
    # m 4, 16/40, 6 mm cutter, simulated elsewhere: about 6.7 mm² thinned 0.1 each, 8.4 unthinned. Their step round the
    # pitch is not known, so 0.15.
    a, b = geometry(16, 4.0, 20.0, 0.0, thinning), geometry(40, 4.0, 20.0, 0.0, thinning)
    assert mesh_sweep(a, b, 112.0, 3.0).overlap_mm2 == pytest.approx(overlap, abs=0.15)


def test_overlap_against_whole_polygons_grown_and_shrunk() -> None:
    # The same mesh with polygons of this test's own, whole gears, at three places of the pitch.
    from shapely.affinity import rotate, translate

    shapes = [sharp_gear(z, 4.0, 20.0, 0.0, 0.1).buffer(3.0, quad_segs=64).buffer(-3.0, quad_segs=64) for z in (16, 40)]
    worst = 0.0
    for share in (-0.5, -0.25, 0.0, 0.25):
        first = rotate(shapes[0], 360.0 * share / 16, origin=(0, 0))
        # 40 teeth: half a turn brings a tooth to -x again, half a pitch more a space.
        second = rotate(shapes[1], 180.0 / 40 - 360.0 * share / 40, origin=(0, 0))
        worst = max(worst, first.intersection(translate(second, 112.0)).area)
    a, b = geometry(16, 4.0, 20.0, 0.0, 0.1), geometry(40, 4.0, 20.0, 0.0, 0.1)
    assert mesh_sweep(a, b, 112.0, 3.0, steps=4).overlap_mm2 == pytest.approx(worst, abs=0.03)


def test_interference_shows_as_overlap() -> None:
    # Standard 12/24, m 3: 0.00153 mm² of overlap, 0 with the gear's tip cut to 38.542 (polygons elsewhere, radial flank
    # below the base circle). Flanks 0.002 mm from the involute could hide or add as much, so both are tried thinned 0.01.
    pinion = ToothGeometry(12, 3.0, thinning_mm=0.01)
    full = mesh_sweep(pinion, ToothGeometry(24, 3.0, tip_shortening_mm=-0.3, thinning_mm=0.01), 54.0, 0.2)
    cut = mesh_sweep(pinion, ToothGeometry(24, 3.0, tip_shortening_mm=39.0 - 38.542, thinning_mm=0.01), 54.0, 0.2)
    assert full.overlap_mm2 > 0.0
    assert cut.overlap_mm2 == 0.0


def test_cost_is_linear_in_teeth() -> None:
    small, large = (gear_outline(geometry(z, 4.0, 20.0, 0.0, 0.2), 3.0).contour for z in (100, 200))
    assert len(large.vertices) <= 2.1 * len(small.vertices)
