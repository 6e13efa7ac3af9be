"""Contours as a cutter leaves them where single corners or edges fail: areas and places by plane geometry. Lengths mm."""

from __future__ import annotations

import math

import pytest

from trivet.solve.as_cut import AsCut, as_cut_inner, as_cut_outer, narrow_area_mm2
from trivet.solve.contour import Contour, Vertex
from trivet.solve.contour_shapes import circle, polygon, rectangle

# What a round of radius 1 takes of a corner that turns by t: tan(t/2) - t/2.
RIGHT, OBTUSE = 1.0 - math.pi / 4.0, math.tan(math.pi / 8.0) - math.pi / 8.0
FIT = "the cutter does not fit into this corner"


def bevelled(size: float, flat: float) -> Contour:
    """A square whose upper right corner is cut off by an edge `flat` long; nearest it are two corners of 45 degrees."""
    by = flat / math.sqrt(2.0)
    return polygon([(0.0, 0.0), (size, 0.0), (size, size - by), (size - by, size), (0.0, size)])


@pytest.mark.parametrize("flat", [2.6, 2.49, 2.4, 1.0])
@pytest.mark.parametrize("start", range(5))
def test_two_corners_on_an_edge_too_short_for_both(flat: float, start: int) -> None:
    """A cutter of 3 takes 3 tan 22.5 = 1.243 of the edge at either end: below 2.485 neither corner is cut, the others are."""
    made = bevelled(40.0, flat)
    turned = Contour(made.vertices[start:] + made.vertices[:start])
    found = as_cut_inner(turned, 3.0)
    area = 40.0**2 - flat**2 / 4.0
    by = flat / math.sqrt(2.0)
    if flat > 2.485:
        assert found.unreached == () and found.contour.area_mm2 == pytest.approx(area - 9.0 * (3.0 * RIGHT + 2.0 * OBTUSE))
    else:
        assert {(round(c.x_mm, 9), round(c.y_mm, 9), c.words) for c in found.unreached} == {
            (40.0, round(40.0 - by, 9), FIT), (round(40.0 - by, 9), 40.0, FIT)
        }  # fmt: skip
        assert found.contour.area_mm2 == pytest.approx(area - 27.0 * RIGHT)
    assert as_cut_outer(turned, 3.0) == AsCut(turned, ())


def test_an_edge_that_two_cuts_use_up() -> None:
    """Exactly as long as both rounds take: the edge is gone, and the arcs run on."""
    flat = 6.0 * math.tan(math.pi / 8.0)
    found = as_cut_inner(bevelled(40.0, flat), 3.0)
    assert found.unreached == () and len(found.contour.vertices) == 5 + 4
    longer = as_cut_inner(bevelled(40.0, flat + 0.0021), 3.0)
    assert len(longer.contour.vertices) == 5 + 5
    assert longer.contour.area_mm2 == pytest.approx(1600.0 - (flat + 0.0021) ** 2 / 4.0 - 9.0 * (3.0 * RIGHT + 2.0 * OBTUSE))


@pytest.mark.parametrize("start", range(8))
@pytest.mark.parametrize(("radius", "corner"), [(1.0, 3.0), (2.9, 3.0), (3.0, 3.0), (3.1, 3.0)])
def test_rounds_that_are_tighter_than_the_cutter(start: int, radius: float, corner: float) -> None:
    """Rounds of 1 and 2.9 are cut with 3 instead; rounds of 3 and more stay."""
    made = rectangle(5.0, 6.0, 40.0, 30.0, radius)
    turned = Contour(made.vertices[start:] + made.vertices[:start])
    found = as_cut_inner(turned, corner)
    left = max(radius, corner)
    assert found.unreached == () and found.contour.area_mm2 == pytest.approx(1200.0 - 4.0 * left**2 * RIGHT)
    assert found.contour.bounds == pytest.approx((5.0, 6.0, 45.0, 36.0)) and len(found.contour.vertices) == 8
    # From outside the rounds stand out: nothing is in the cutter's way.
    outside = as_cut_outer(turned, corner)
    assert outside.unreached == () and outside.contour.area_mm2 == pytest.approx(1200.0 - 4.0 * radius**2 * RIGHT)


def test_one_tight_round_that_is_not_reached() -> None:
    """A slot 4 wide with an end of radius 2 in a wide pocket: a cutter of 3 fits neither the slot's end nor its mouth's other side."""
    made = Contour((
        Vertex(0.0, 0.0), Vertex(40.0, 0.0), Vertex(40.0, 30.0), Vertex(22.0, 30.0), Vertex(22.0, 50.0, 1.0), Vertex(18.0, 50.0), Vertex(18.0, 30.0),
        Vertex(0.0, 30.0),
    ))  # fmt: skip
    found = as_cut_inner(made, 3.0)
    assert [(c.x_mm, c.y_mm, c.words) for c in found.unreached] == [(22.0, 50.0, FIT)]
    # As drawn there; the four corners of the pocket are cut.
    assert found.contour.area_mm2 == pytest.approx(1200.0 + 80.0 + 2.0 * math.pi - 36.0 * RIGHT)
    # It is the neck that the cutter does not get into, all of it but what reaches in at its mouth.
    t = 2.0 * math.asin(2.0 / 3.0)
    assert narrow_area_mm2(made, 3.0, inside=True) == pytest.approx(80.0 + 2.0 * math.pi - 4.5 * (t - math.sin(t)), abs=0.1)


@pytest.mark.parametrize("radius", [0.1, 0.5, 1.0, 2.5])
def test_fine_cutters_round_every_corner(radius: float) -> None:
    found = as_cut_inner(rectangle(0.0, 0.0, 20.0, 5.0), radius)
    assert found.unreached == () and found.contour.area_mm2 == pytest.approx(100.0 - 4.0 * radius**2 * RIGHT)
    assert len(found.contour.vertices) == (6 if radius == 2.5 else 8)


def test_a_round_with_one_flat_that_is_too_tight() -> None:
    made = Contour((Vertex(-2.0, 0.0), Vertex(2.0, 0.0, 1.0)))
    found = as_cut_inner(made, 3.0)
    assert [(c.x_mm, c.y_mm, c.words) for c in found.unreached] == [(-2.0, 0.0, "the cutter is wider than this round")]
    assert found.contour.area_mm2 == pytest.approx(2.0 * math.pi) and len(found.contour.vertices) == 2


def test_a_notch_that_is_too_narrow_from_outside() -> None:
    """Two wide and ten deep in an edge: a cutter of radius 3 reaches in by a segment whose chord is 2, and cuts nothing else off."""
    notched = polygon([(0, 0), (60, 0), (60, 30), (31, 30), (31, 20), (29, 20), (29, 30), (0, 30)])
    t = 2.0 * math.asin(1.0 / 3.0)
    assert narrow_area_mm2(notched, 3.0, inside=False) == pytest.approx(20.0 - 4.5 * (t - math.sin(t)), abs=0.1)
    found = as_cut_outer(notched, 3.0)
    assert {(c.x_mm, c.y_mm) for c in found.unreached} == {(31.0, 20.0), (29.0, 20.0)} and found.contour.area_mm2 == pytest.approx(1780.0)


@pytest.mark.parametrize("radius", [0.0, -1.0])
def test_a_cutter_without_a_diameter_leaves_everything(radius: float) -> None:
    for made in (rectangle(0.0, 0.0, 20.0, 5.0), rectangle(0.0, 0.0, 20.0, 5.0, 1.0), circle(7.0, 8.0, 2.0)):
        assert as_cut_outer(made, radius) == AsCut(made, ()) and as_cut_inner(made, radius).unreached == ()
        assert as_cut_inner(made, radius).contour.area_mm2 == pytest.approx(made.area_mm2)


def test_arcs_that_are_cut_short_keep_their_circle() -> None:
    """A half disc of 20 as a pocket: a cutter of 2 in its two corners touches the arc where its centre is 18 from the middle and 2 up."""
    made = Contour((Vertex(-20.0, 0.0), Vertex(20.0, 0.0, 1.0)))
    found = as_cut_inner(made, 2.0)
    assert found.unreached == () and len(found.contour.vertices) == 4
    aside = math.sqrt(18.0**2 - 2.0**2)
    at = [(round(v.x, 6), round(v.y, 6)) for v in found.contour.vertices]
    assert {(round(sign * aside, 6), 0.0) for sign in (-1, 1)} <= set(at)
    assert {(round(sign * aside * 20.0 / 18.0, 6), round(40.0 / 18.0, 6)) for sign in (-1, 1)} <= set(at)
    # Each corner loses what lies between the base, the arc of 20 and the arc of 2.
    t = math.asin(2.0 / 18.0)
    lost = 200.0 * t - aside * 2.0 / 2.0 - 2.0 * (math.pi / 2.0 + t)
    assert found.contour.area_mm2 == pytest.approx(200.0 * math.pi - 2.0 * lost)


def test_nothing_to_cut() -> None:
    assert as_cut_inner(Contour(()), 3.0).unreached == () and as_cut_outer(Contour(()), 3.0).contour.vertices == ()
