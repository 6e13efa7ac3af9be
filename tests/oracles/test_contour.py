"""Contours with arcs against plane geometry and against polygons of fine chords."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trivet.solve.as_cut import as_cut_inner, as_cut_outer, narrow_area_mm2
from trivet.solve.contour import Contour, Vertex
from trivet.solve.contour_faults import contour_faults, duplicate_contours
from trivet.solve.contour_shapes import circle, hexagon, polygon, rectangle, relieved, slot

numbers = st.floats(-50.0, 50.0)
bulges = st.one_of(st.just(0.0), st.floats(-2.0, 2.0).filter(lambda b: abs(b) > 0.01))
contours = st.lists(st.tuples(numbers, numbers, bulges), min_size=2, max_size=7).map(
    lambda vs: Contour(tuple(Vertex(*v) for v in vs))
)
law = settings(derandomize=True, deadline=None, max_examples=80)

ELL = polygon([(0, 0), (40, 0), (40, 15), (15, 15), (15, 30), (0, 30)])
# A pocket with a line meeting an arc at an angle, and an arc meeting an arc.
BOWED = polygon([(0, 0), (40, 0, 0.3), (40, 30, 0.2), (0, 30)])


def test_areas_of_plane_figures() -> None:
    assert circle(3.0, 4.0, 5.0).area_mm2 == pytest.approx(25.0 * math.pi)
    assert rectangle(1.0, 2.0, 30.0, 20.0, 4.0).area_mm2 == pytest.approx(600.0 - (4.0 - math.pi) * 16.0)
    assert slot(0.0, 0.0, 30.0, 8.0, 0.4).area_mm2 == pytest.approx(22.0 * 8.0 + 16.0 * math.pi)
    assert hexagon(0.0, 0.0, 13.0).area_mm2 == pytest.approx(169.0 * math.sqrt(3.0) / 2.0)


def test_lengths_and_bounds_of_plane_figures() -> None:
    assert circle(3.0, 4.0, 5.0).length_mm == pytest.approx(10.0 * math.pi)
    assert circle(3.0, 4.0, 5.0).rotated(0.7, (3.0, 4.0)).bounds == pytest.approx((-2.0, -1.0, 8.0, 9.0))
    reach = 11.0 * math.cos(0.5) + 4.0
    assert slot(0.0, 0.0, 30.0, 8.0, 0.5).bounds[2] == pytest.approx(reach)
    assert rectangle(1.0, 2.0, 30.0, 20.0, 40.0).bounds == pytest.approx((1.0, 2.0, 31.0, 22.0))


def test_hexagon_across_corners() -> None:
    x0, y0, x1, y1 = hexagon(0.0, 0.0, 13.0).bounds
    assert x1 - x0 == pytest.approx(13.0 / math.cos(math.pi / 6.0))
    assert y1 - y0 == pytest.approx(13.0)


@law
@given(contours, st.floats(-4.0, 4.0), numbers, numbers)
def test_moves_keep_area_and_length(contour: Contour, angle: float, dx: float, dy: float) -> None:
    moved = contour.rotated(angle, (dx, dy)).translated(dy, dx)
    assert moved.area_mm2 == pytest.approx(contour.area_mm2, abs=1e-6)
    assert moved.length_mm == pytest.approx(contour.length_mm)
    assert contour.mirrored_x(dx).area_mm2 == pytest.approx(contour.area_mm2, abs=1e-6)
    assert contour.mirrored_y(dy).area_mm2 == pytest.approx(contour.area_mm2, abs=1e-6)
    assert contour.reversed().area_mm2 == pytest.approx(-contour.area_mm2, abs=1e-6)


@law
@given(contours, numbers)
def test_mirrored_or_reversed_twice_is_itself(contour: Contour, axis: float) -> None:
    for twice in (
        contour.mirrored_x(axis).mirrored_x(axis),
        contour.mirrored_y(axis).mirrored_y(axis),
        contour.reversed().reversed(),
    ):
        for v, w in zip(contour.vertices, twice.vertices, strict=True):
            assert (v.x, v.y, v.bulge) == pytest.approx((w.x, w.y, w.bulge), abs=1e-9)


@law
@given(contours)
def test_exact_area_and_bounds_against_fine_chords(contour: Contour) -> None:
    points = contour.points(1e-5)
    twice = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True))
    assert contour.area_mm2 == pytest.approx(twice / 2.0, abs=1e-5 * contour.length_mm + 1e-9)
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    assert contour.bounds == pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=2.1e-5)


def test_circles_are_recognised() -> None:
    assert circle(3.0, 4.0, 5.0).as_circle() == pytest.approx((3.0, 4.0, 5.0))
    assert rectangle(0.0, 0.0, 8.0, 8.0, 4.0).as_circle() == pytest.approx((4.0, 4.0, 4.0))
    assert slot(0.0, 0.0, 9.0, 8.0).as_circle() is None


@pytest.mark.parametrize(
    ("vertices", "kind"),
    [
        (((0, 0), (10, 0), (10, 10), (10, 10.0005)), "points-too-close"),
        (((0, 0), (10, 0), (10, 10), (0, 0)), "points-too-close"),
        (((0, 0), (10, 10), (10, 0), (0, 12)), "crosses-itself"),
        (((0, 0), (10, 0), (20, 0)), "no-area"),
        (((0, 0, 1.0), (10, 0, -1.0)), "no-area"),
        (((0, 0), (10, 0)), "too-few-points"),
        (((0, 0), (math.nan, 0), (3, 3)), "not-finite"),
        # Only the arc crosses: its chord would not.
        (((0, 0), (40, 0), (40, 10, -1.0), (0, 10)), "crosses-itself"),
    ],
)
def test_faults(vertices: tuple[tuple[float, ...], ...], kind: str) -> None:
    shape = Contour(tuple(Vertex(*v) for v in vertices))
    assert kind in {fault.kind for fault in contour_faults(shape)}


def test_sound_contours_have_no_faults() -> None:
    for shape in (circle(0, 0, 4), rectangle(0, 0, 30, 20, 4), slot(0, 0, 30, 8), hexagon(0, 0, 13, 0.0, 3.0), ELL, BOWED):
        assert contour_faults(shape) == ()


def test_duplicates_are_found_whatever_their_start_and_sense() -> None:
    square = rectangle(0.0, 0.0, 10.0, 10.0)
    again = Contour(square.vertices[2:] + square.vertices[:2]).reversed()
    turned = circle(5.0, 5.0, 5.0).rotated(0.4, (5.0, 5.0))
    shapes = (square, circle(5.0, 5.0, 5.0), again, rectangle(0.0, 0.0, 10.0, 10.1), turned)
    assert duplicate_contours(shapes) == ((0, 2), (1, 4))


@pytest.mark.parametrize(
    ("degrees", "bite", "past_wall"),
    [
        # Plane geometry, in cutter radii: bite along the wall and past it for an interior angle.
        (90, 1.414214, 0.292893),
        (120, 1.0, 0.133975),
        (108, 1.175571, 0.190983),
        (60, 1.732051, 0.5),
    ],
)
def test_relieved_corner(degrees: int, bite: float, past_wall: float) -> None:
    half = math.radians(degrees) / 2.0
    wedge = polygon([(0.0, 0.0), (50.0 * math.cos(half), -50.0 * math.sin(half)), (50.0 * math.cos(half), 50.0 * math.sin(half))])
    cut = relieved(wedge, 1.0)
    assert len(cut.vertices) == 6
    # The corner at the origin lies on its relief, whose ends are `bite` up each wall.
    ends = [math.hypot(v.x, v.y) for v in cut.vertices if math.hypot(v.x, v.y) < 5.0]
    assert ends == pytest.approx([bite, bite], abs=1e-6)
    assert min(math.hypot(x, y) for x, y in cut.points(1e-6)) < 2e-3
    lowest = max(-x * math.sin(half) - y * math.cos(half) for x, y in cut.points(1e-6) if math.hypot(x, y) < 3.0)
    assert lowest == pytest.approx(past_wall, abs=1e-5)


def test_walls_too_short_for_relief_stay_sharp() -> None:
    # Two bites of 1.414 r along a wall: 5.66 mm at r 2.
    assert relieved(rectangle(0.0, 0.0, 5.6, 30.0), 2.0) == rectangle(0.0, 0.0, 5.6, 30.0)
    assert len(relieved(rectangle(0.0, 0.0, 5.7, 30.0), 2.0).vertices) == 8


def test_shallow_corners_leave_no_points_too_close() -> None:
    nearly_straight = polygon([(0, 0), (20, 0.004), (40, 0), (40, 20), (0, 20)])
    assert contour_faults(as_cut_outer(nearly_straight, 1.0).contour) == ()
    assert contour_faults(as_cut_inner(rectangle(0, 0, 20, 6.0005), 3.0).contour) == ()


@pytest.mark.parametrize("r", [1.0, 2.0, 3.175])
@pytest.mark.parametrize(
    "shape",
    [
        ELL,
        BOWED,
        hexagon(0, 0, 13),
        rectangle(0, 0, 20, 12, 0.5),
        rectangle(0, 0, 20, 12),
        rectangle(0, 0, 20, 12, 5.0),
        slot(0, 0, 30, 8, 0.3),
    ],
)
def test_pocket_as_cut_is_the_polygon_shrunk_and_grown(shape: Contour, r: float) -> None:
    from shapely import Polygon

    cut = as_cut_inner(shape, r)
    assert cut.unreached == ()
    true = Polygon(shape.points(0.0002)).buffer(-r, quad_segs=200).buffer(r, quad_segs=200)
    assert Polygon(cut.contour.points(0.0002)).exterior.hausdorff_distance(true.exterior) < 0.001
    assert narrow_area_mm2(shape, r, inside=True) < 0.001 * shape.length_mm


@pytest.mark.parametrize("r", [1.0, 3.175])
@pytest.mark.parametrize(
    "shape",
    [
        ELL,
        polygon([(0, 0), (40, 0), (40, 30, -0.35), (0, 30)]),
        polygon([(0, 0), (60, 0), (60, 30, 0.6), (30, 30, 0.6), (0, 30)]),
        polygon([(0, 0), (60, 0), (60, 30), (40, 30), (40, 20.5, -0.41421356), (39.5, 20), (20, 20), (20, 30), (0, 30)]),
    ],
)
def test_part_as_cut_is_the_polygon_grown_and_shrunk(shape: Contour, r: float) -> None:
    from shapely import Polygon

    cut = as_cut_outer(shape, r)
    assert cut.unreached == ()
    true = Polygon(shape.points(0.0002)).buffer(r, quad_segs=200).buffer(-r, quad_segs=200)
    assert Polygon(cut.contour.points(0.0002)).exterior.hausdorff_distance(true.exterior) < 0.001


def test_a_sharp_hexagon_corner_loses_0_155_r() -> None:
    # Plane geometry: the cutter stands r/cos 30 deg from the corner, so r (1/cos 30 deg - 1) stays.
    cut = as_cut_inner(hexagon(0.0, 0.0, 13.0), 3.0).contour
    reach = max(math.hypot(x, y) for x, y in cut.points(1e-5))
    assert 13.0 / math.sqrt(3.0) - reach == pytest.approx(0.1547 * 3.0, abs=1e-3)


@pytest.mark.parametrize(
    ("shape", "r"), [(circle(0, 0, 2.0), 3.0), (slot(0, 0, 30, 5), 3.0), (rectangle(0, 0, 20, 5), 3.0), (hexagon(0, 0, 5.0), 3.0)]
)
def test_what_a_cutter_does_not_fit_into_is_said(shape: Contour, r: float) -> None:
    cut = as_cut_inner(shape, r)
    assert cut.unreached
    assert cut.contour.area_mm2 == pytest.approx(shape.area_mm2)


def test_a_cutter_that_just_fits() -> None:
    cut = as_cut_inner(rectangle(0.0, 0.0, 20.0, 6.0), 3.0)
    assert cut.unreached == ()
    assert cut.contour.area_mm2 == pytest.approx(14.0 * 6.0 + 9.0 * math.pi)


def test_a_neck_narrower_than_the_cutter_shows_as_area() -> None:
    neck = polygon([(0, 0), (20, 0), (20, 9), (30, 9), (30, 0), (50, 0), (50, 20), (30, 20), (30, 11), (20, 11), (20, 20), (0, 20)])
    assert narrow_area_mm2(neck, 3.0, inside=True) > 15.0
