"""Outlines of gears laid over each other: the teeth that are looked at, and overlaps that any cutter or side must give alike. Lengths mm."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
from tests.sharp.test_sharp_cut import TEETH

from trivet.solve.gear_outline import gear_outline
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.outline_overlap import _teeth_near_mesh, _turn, _turned, outline_overlap_mm2
from trivet.solve.root_form import root_form

A, B = ToothGeometry(20, 4.0, thinning_mm=0.2), ToothGeometry(30, 4.0, thinning_mm=0.2)


def wedge(towards: float, window: float, radius: float) -> shapely.Polygon:
    """From the middle out, so much each side of a direction."""
    turns = [towards - window + 2.0 * window * k / 400 for k in range(401)]
    return shapely.Polygon([(0.0, 0.0), *((radius * math.cos(t), radius * math.sin(t)) for t in turns)])


@pytest.mark.parametrize("towards", [0.0, math.pi])
@pytest.mark.parametrize("teeth", [15, 17, 20, 30, 61, 120])
def test_three_teeth_and_a_half_each_side(teeth: int, towards: float) -> None:
    """Seven half pitches each way as the gear is, closed well under its roots; a tooth at 0 or, seen from the other gear, a space."""
    made = ToothGeometry(teeth, 4.0, thinning_mm=0.2)
    points = _teeth_near_mesh(made, 1.0, towards)
    half = math.pi / teeth
    *near, last, first = points
    turns = [(math.atan2(y, x) - towards + math.pi) % (2.0 * math.pi) - math.pi for x, y in near]
    assert max(turns) <= 7.0 * half + 1e-9 and min(turns) >= -7.0 * half - 1e-9 and all(b > a - 1e-9 for a, b in pairwise(turns))
    assert max(turns) > 6.5 * half and min(turns) < -6.5 * half
    for at, end in ((last, near[-1]), (first, near[0])):
        assert math.hypot(*at) == pytest.approx(0.8 * made.root_radius_mm) and math.atan2(at[1], at[0]) == pytest.approx(math.atan2(end[1], end[0]))
    # A tooth points along the first one's direction; the second one has a space there.
    along = [math.hypot(x, y) for (x, y), turn in zip(near, turns, strict=True) if abs(turn) < 0.1 * half]
    assert max(along) == pytest.approx(made.tip_radius_mm, abs=0.01) if towards == 0.0 else max(along) < made.pitch_radius_mm
    whole = shapely.Polygon(gear_outline(made, 1.0, towards + (half if towards else 0.0)).contour.points(0.0005))
    looked_at = wedge(towards, 6.4 * half, 2.0 * made.tip_radius_mm).difference(shapely.Point(0, 0).buffer(0.81 * made.root_radius_mm))
    part = shapely.Polygon(points)
    assert part.is_valid and part.symmetric_difference(whole).intersection(looked_at).area < 1e-6


@pytest.mark.parametrize("teeth", [5, 8, 13])
def test_of_few_teeth_all_are_looked_at(teeth: int) -> None:
    made = ToothGeometry(teeth, 4.0, thinning_mm=0.2)
    for towards in (0.0, math.pi):
        phase = towards + (math.pi / teeth if towards else 0.0)
        assert _teeth_near_mesh(made, 1.0, towards) == tuple(gear_outline(made, 1.0, phase).contour.points(0.0005))


def test_each_gear_has_its_own_cutter() -> None:
    """A cutter of 2.5 leaves fillets in the gear of 30 that the other's tips touch; in that of 20 it does not. Either may come first."""
    fillets = outline_overlap_mm2(A, B, 100.0, (1.0, 2.5))
    assert fillets > 5e-4 and outline_overlap_mm2(B, A, 100.0, (2.5, 1.0)) == pytest.approx(fillets, rel=0.05)
    for radii in ((1.0, 1.0), (2.5, 1.0)):
        assert outline_overlap_mm2(A, B, 100.0, radii) == 0.0 and outline_overlap_mm2(B, A, 100.0, radii[::-1]) == 0.0


def test_the_largest_overlap_of_a_pitch() -> None:
    """Where a pinion is pressed into a wheel most is over as its tooth stands on the line of centres; moved on a whole pitch all is alike."""
    pinion, wheel = ToothGeometry(13, 4.0, thinning_mm=0.2), ToothGeometry(60, 4.0, thinning_mm=0.2)
    first, second = _teeth_near_mesh(pinion, 1.0, 0.0), _teeth_near_mesh(wheel, 1.0, math.pi)

    def over(share: float) -> float:
        one = _turned(first, 2.0 * math.pi * share / 13, 0.0)
        return float(one.intersection(_turned(second, -2.0 * math.pi * share / 60, 145.4)).area)

    found = outline_overlap_mm2(pinion, wheel, 145.4, (1.0, 1.0))
    every = [over(k / 48 - 0.5) for k in range(48)]
    assert found == pytest.approx(max(every), rel=0.02) and max(every) > 2.0 * every[0]
    assert over(-0.5) == pytest.approx(over(0.5), rel=0.02)


def test_turns_and_shifts_of_points() -> None:
    shape = _turned(((1.0, 0.0), (3.0, 0.0), (1.0, 1.0)), math.pi / 2.0, 10.0)
    assert [(round(x, 9), round(y, 9)) for x, y in list(shape.exterior.coords)[:3]] == [(10, 1), (10, 3), (9, 1)]
    assert [_turn(math.radians(angle)) for angle in (0, 170, 190, -170, -190, 370)] == pytest.approx(
        [math.radians(angle) for angle in (0, 170, -170, -170, 170, 10)]
    )


def made_of(sizes: tuple[float, ...], scale: float = 1.0) -> ToothGeometry:
    z, m, shift, thinning, addendum, dedendum = sizes
    return ToothGeometry(int(z), m * scale, math.radians(20.0), shift, thinning * scale, addendum, dedendum)


@pytest.mark.parametrize("scale", [0.01, 0.03, 40.0])
@pytest.mark.parametrize(("sizes", "cutter", "contact", "full"), TEETH)
def test_a_root_of_another_size_is_alike(sizes: tuple[float, ...], cutter: float, contact: str, full: bool, scale: float) -> None:
    """Gear and cutter so many times as large: every length too, and no angle changes."""
    one, other = root_form(made_of(sizes), cutter), root_form(made_of(sizes, scale), cutter * scale)
    assert (other.contact, other.full_round, other.centre_angle_rad) == (contact, full, pytest.approx(one.centre_angle_rad))
    for name in ("centre_radius_mm", "bottom_radius_mm", "contact_radius_mm", "contact_pull_mm"):
        assert getattr(other, name) == pytest.approx(scale * getattr(one, name), rel=1e-9, abs=1e-9 * scale)


@pytest.mark.parametrize("cutter", [2.60, 2.64, 2.67])
def test_a_cutter_whose_middle_stands_over_the_base_circle(cutter: float) -> None:
    """20 teeth of module 4: from 2.59 on the middle is over the base circle, and to 2.684 the cutter still touches the radial line below it."""
    form = root_form(made_of((20, 4.0, 0.0, 1.2, 1.0, 1.25)), cutter)
    base = 40.0 * math.cos(math.radians(20.0))
    assert (form.contact, form.full_round, form.contact_pull_mm) == ("radial", False, 0.0)
    assert form.centre_radius_mm == pytest.approx(35.0 + cutter) and form.centre_radius_mm > base
    assert form.contact_radius_mm == pytest.approx(math.sqrt((35.0 + cutter) ** 2 - cutter**2)) and form.contact_radius_mm < base


@pytest.mark.parametrize("cutter", [3.0, 5.0, 7.0])
def test_a_cutter_on_a_tips_corner_stands_in_the_space(cutter: float) -> None:
    """Of short thin teeth only the corners of the tips are touched: the cutter's middle lies beyond the corner, a radius from it."""
    made = made_of((20, 5.0, 0.0, 6.0, 0.1, 0.2))
    form = root_form(made, cutter)
    corner = made.half_angle_at(made.tip_radius_mm)
    assert form.contact == "tip" and corner < form.centre_angle_rad <= math.pi / 20
    x, y = (form.centre_radius_mm * part(form.centre_angle_rad - corner) for part in (math.cos, math.sin))
    assert math.hypot(x - made.tip_radius_mm, y) == pytest.approx(cutter)


@pytest.mark.parametrize("sizes", [(3, 1.0, 0.0, 0.0, 1.0, 1.6), (4, 1.0, 0.0, 0.0, 1.0, 2.0), (4, 1.0, 0.0, 0.2, 1.0, 2.6), (5, 0.2, 0.0, 0.0, 0.2, 3.0)])
@pytest.mark.parametrize("cutter", [0.0, 0.02, 0.3, 2.0])
def test_teeth_cut_to_the_middle_give_a_root_all_the_same(sizes: tuple[float, ...], cutter: float) -> None:
    form = root_form(made_of(sizes), cutter)
    assert form.bottom_radius_mm >= 0.0 and form.centre_radius_mm == pytest.approx(form.bottom_radius_mm + cutter)
    assert all(math.isfinite(value) for value in (form.centre_angle_rad, form.contact_radius_mm, form.contact_pull_mm))
