"""Cuts and corners piece by piece: moved and turned, how far apart, and the corner a cutter comes to first. Figures by plane geometry. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

import pytest

from trivet.solve.contour import Contour, Vertex
from trivet.solve.contour_shapes import circle, hexagon, polygon, rectangle, relieved, slot
from trivet.solve.corner_fillet import _crossings, _offset, _touch, corner_fillet
from trivet.solve.deviation import cut_deviation_mm, outline_deviation_mm
from trivet.solve.feature import Feature, Label, Round, Stroke, turned_point
from trivet.solve.segment import Segment
from trivet.source import SourceFile, Span

THIRTY = math.radians(30.0)
C, S = math.cos(THIRTY), math.sin(THIRTY)
CUTS: list[tuple[Any, Any, Any]] = [
    # As it is, shifted by (3, −4), and turned by 30 degrees about (0, 0).
    (Round(2.0, 5.0, 8.0), Round(5.0, 1.0, 8.0), Round(2 * C - 5 * S, 2 * S + 5 * C, 8.0)),
    (Stroke(1.0, 2.0, 6.0, 9.0), Stroke(4.0, -2.0, 9.0, 5.0), Stroke(C - 2 * S, S + 2 * C, 6 * C - 9 * S, 6 * S + 9 * C)),
    (Label(2.0, 5.0, "deck", 6.0, 10.0), Label(5.0, 1.0, "deck", 6.0, 10.0), Label(2 * C - 5 * S, 2 * S + 5 * C, "deck", 6.0, 40.0)),
    (
        Contour((Vertex(1.0, 2.0, 0.5), Vertex(6.0, 9.0))),
        Contour((Vertex(4.0, -2.0, 0.5), Vertex(9.0, 5.0))),
        Contour((Vertex(C - 2 * S, S + 2 * C, 0.5), Vertex(6 * C - 9 * S, 6 * S + 9 * C))),
    ),
]


def numbers(shape: Any) -> list[float]:
    """All coordinates and sizes of a cut."""
    if isinstance(shape, Contour):
        return [number for v in shape.vertices for number in (v.x, v.y, v.bulge)]
    if isinstance(shape, Round):
        return [shape.x_mm, shape.y_mm, shape.diameter_mm]
    if isinstance(shape, Stroke):
        return [shape.x1_mm, shape.y1_mm, shape.x2_mm, shape.y2_mm]
    return [shape.x_mm, shape.y_mm, shape.height_mm, shape.turn_deg]


@pytest.mark.parametrize(("shape", "moved", "turned"), CUTS)
def test_a_cut_moved_and_turned(shape: Any, moved: Any, turned: Any) -> None:
    item = Feature("engrave", "topside", 0.5, shape, "title", "because", 4.0)
    for found, wanted in ((item.moved(3.0, -4.0), moved), (item.turned(THIRTY), turned)):
        assert type(found.shape) is type(wanted) and numbers(found.shape) == pytest.approx(numbers(wanted))
        assert (found.operation, found.face, found.depth_mm, found.title, found.cutter_diameter_mm) == ("engrave", "topside", 0.5, "title", 4.0)
    assert turned_point(3.0, 4.0, math.pi / 2.0) == pytest.approx((-4.0, 3.0))


def test_what_a_feature_is() -> None:
    plain = Feature("bore", "topside", None, Round(0.0, 0.0, 4.0), "", "")
    assert plain.through and not plain.drilled and not plain.by_hand and plain.cutter_diameter_mm == 0.0
    sunk = Feature("bore", "topside", 3.0, Round(0.0, 0.0, 4.0), "", "", 4.1)
    assert not sunk.through and sunk.drilled
    assert not Feature("bore", "topside", 3.0, Round(0.0, 0.0, 4.0), "", "", 4.0).drilled
    assert not Feature("pocket", "topside", 3.0, circle(0.0, 0.0, 2.0), "", "", 9.0).drilled
    # Where it was written makes no other feature.
    text = SourceFile("f.trivet", "x" * 9)
    places = [Feature("bore", "topside", None, Round(0.0, 0.0, 4.0), "", "", origin=Span(text, at, at + 1)) for at in (1, 5)]
    assert places[0] == places[1]


BENT = Contour((Vertex(0, 0), Vertex(5, 0), Vertex(10, 0), Vertex(10, 6), Vertex(0, 6)))


def test_how_far_outlines_are_apart() -> None:
    # A point that slides along a straight side changes nothing; a corner pushed in by 5 lies nearer to a new side than to its own new place.
    slid = Contour((*BENT.vertices[:1], Vertex(8, 0), *BENT.vertices[2:]))
    assert outline_deviation_mm(BENT, slid) == pytest.approx(0.0, abs=1e-9)
    pushed = Contour((*BENT.vertices[:3], Vertex(7, 2), BENT.vertices[4]))
    assert outline_deviation_mm(BENT, pushed) == pytest.approx(18.0 / math.sqrt(13.0), abs=1e-6)
    # Less than what chords resolve: as far as the point went, beside a bow that stays.
    bow, ends = (Vertex(0, 0, 0.5), Vertex(10, 0)), (Vertex(10, 6), Vertex(0, 6))
    level = [Contour((*bow, ends[0], Vertex(x, 6), ends[1])) for x in (5.0, 5.001)]
    upright = [Contour((*bow, Vertex(10, y), *ends)) for y in (3.0, 3.001)]
    assert [outline_deviation_mm(*pair) for pair in (level, upright)] == pytest.approx([0.001, 0.001])
    # The same corners with one side bowed by 0.5 · 5/2.
    bowed = Contour((Vertex(0, 0, 0.5), *BENT.vertices[1:]))
    assert outline_deviation_mm(BENT, bowed) == pytest.approx(1.25, abs=0.003)
    assert outline_deviation_mm(BENT, BENT) == 0.0
    turn = math.radians(3.0)
    assert cut_deviation_mm(Label(0, 0, "ab", 10.0, 0.0), Label(0, 0, "ab", 10.0, 180.0)) == pytest.approx(math.pi * 10.0)
    assert cut_deviation_mm(Stroke(0, 0, 1, 1), Round(0, 0, 1)) is None and cut_deviation_mm(Round(0, 0, 1), Stroke(0, 0, 1, 1)) is None
    assert cut_deviation_mm(Label(0, 0, "ab", 10.0, 358.0), Label(3, 4, "ab", 10.0, 1.0)) == pytest.approx(5.0 + turn * 10.0)


def test_which_way_a_thin_outline_runs() -> None:
    thin = Contour((Vertex(0, 0), Vertex(1, 0.5), Vertex(1, 0)))
    assert thin.area_mm2 == pytest.approx(-0.25) and thin.anticlockwise() == thin.reversed()
    flat = Contour((Vertex(0, 0), Vertex(2, 0), Vertex(1, 0)))
    assert flat.anticlockwise() == flat


def test_chords_of_lines_and_arcs() -> None:
    """Three sides and a half disc of 5, whose turn of pi takes chords of 0.6: six, for 5.24."""
    shape = Contour((Vertex(0, 0), Vertex(20, 0, 1.0), Vertex(20, 10), Vertex(0, 10)))
    assert shape.chord_count(5.0 * (1.0 - math.cos(0.3))) == 3 + 6


def test_corner_radii_are_held_to_half_the_shorter_side() -> None:
    # Across 4 or 6: a slot upright or level, of area 4 · 8 + 4 π or 6 · 8 + 9 π; a square becomes a disc.
    upright, level, round_ = rectangle(1, 2, 4, 12, 5.0), rectangle(1, 2, 14, 6, 5.0), rectangle(0, 0, 6, 6, 9.0)
    assert upright.area_mm2 == pytest.approx(32.0 + 4.0 * math.pi) and level.area_mm2 == pytest.approx(48.0 + 9.0 * math.pi)
    assert upright.bounds == pytest.approx((1, 2, 5, 14)) and level.bounds == pytest.approx((1, 2, 15, 8))
    assert round_.as_circle() == pytest.approx((3.0, 3.0, 3.0)) and len(round_.vertices) == 4
    assert rectangle(0, 0, 9, 8, 0.5).area_mm2 == pytest.approx(72.0 - (4.0 - math.pi) / 4.0)
    assert slot(0, 0, 9, 8).area_mm2 == pytest.approx(8.0 + 16.0 * math.pi)
    # A relief of half a millimetre passes through its corner of 120 degrees: beyond each wall a segment of 60 degrees.
    relief = hexagon(0, 0, 26, 0.2, 0.5).area_mm2 - hexagon(0, 0, 26, 0.2).area_mm2
    assert relief == pytest.approx(12.0 * 0.5**2 / 2.0 * (math.pi / 3.0 - math.sqrt(3.0) / 2.0))


def test_of_two_places_the_one_at_the_corner() -> None:
    """A line along a chord of a disc of radius 10√2, 10 over its middle, and the disc's arc back below it: a cutter of 2 fits at both ends."""
    r, big = 2.0, 10.0 * math.sqrt(2.0)
    line = Segment(-30.0, 0.0, 0.0, 0.0, 0.0)
    end = math.radians(45.0 - 300.0)
    arc = Segment(0.0, 0.0, -10.0 + big * math.cos(end), -10.0 + big * math.sin(end), -math.tan(math.radians(300.0) / 4.0))
    x = -10.0 + math.sqrt((big - r) ** 2 - 8.0**2)
    found = corner_fillet(line, arc, r)
    assert found is not None and found.from_point == pytest.approx((x, 0.0)) and found.along_before == pytest.approx((x + 30.0) / 30.0)
    # Mirrored left and right and run the other way, the corner is where the arc ends.
    back = corner_fillet(Segment(-arc.x1, arc.y1, 0.0, 0.0, arc.bulge), Segment(0.0, 0.0, 30.0, 0.0, 0.0), r)
    assert back is not None and back.to_point == pytest.approx((-x, 0.0)) and back.along_after == pytest.approx(-x / 30.0)
    # And with the line first in a mirror up and down.
    down = corner_fillet(Segment(30.0, 0.0, 0.0, 0.0, 0.0), Segment(0.0, 0.0, -arc.x1, -arc.y1, arc.bulge), r)
    assert down is not None and down.from_point == pytest.approx((-x, 0.0))


def test_nearest_place_of_a_piece() -> None:
    line, arc = Segment(1.0, 1.0, 5.0, 4.0, 0.0), Segment(5.0, 0.0, 0.0, 5.0, math.tan(math.pi / 8.0))
    assert _touch(line, (1.0 + 2.0 - 0.6, 1.0 + 1.5 + 0.8)) == (pytest.approx((3.0, 2.5)), pytest.approx(0.5))
    assert _touch(arc, (3.0, 3.0)) == (pytest.approx((5 / math.sqrt(2), 5 / math.sqrt(2))), pytest.approx(0.5))
    assert _touch(arc, arc.centre) == ((5.0, 0.0), 0.0)
    # A line without length is touched nowhere.
    assert _touch(Segment(1.0, 1.0, 1.0, 1.0, 0.0), (4.0, 5.0))[1] > 1.0


def test_polygons_run_anticlockwise() -> None:
    assert polygon([(0, 0), (0, 1), (1, 0)]).area_mm2 == pytest.approx(0.5)


def near(points: list[tuple[float, float]]) -> list[Any]:
    return [pytest.approx(point, abs=1e-9) for point in points]


def test_paths_of_a_cutters_middle() -> None:
    """A radius to the right of a line; round an arc run left outside it, run right inside."""
    start, along, radius = _offset(Segment(1.0, 2.0, 5.0, 5.0, 0.0), 2.0)
    assert start == pytest.approx((1.0 + 2.0 * 0.6, 2.0 - 2.0 * 0.8)) and along == pytest.approx((0.8, 0.6)) and radius == 0.0
    quarter = math.tan(math.pi / 8.0)
    assert _offset(Segment(5.0, 0.0, 0.0, 5.0, quarter), 2.0) == (pytest.approx((0.0, 0.0), abs=1e-9), None, pytest.approx(7.0))
    assert _offset(Segment(0.0, 5.0, 5.0, 0.0, -quarter), 2.0) == (pytest.approx((0.0, 0.0), abs=1e-9), None, pytest.approx(3.0))


def test_where_two_paths_cross() -> None:
    """Lines; a line 3 off a round's middle, 4 along to either side of its foot; rounds of 17 and 10 that are 21 apart: 15 along and 8 aside."""
    slant, level = ((1.0, 2.0), (0.8, 0.6), 0.0), ((0.0, 8.0), (1.0, 0.0), 0.0)
    assert [_crossings(*pair) for pair in ((slant, level), (level, slant))] == [near([(9.0, 8.0)])] * 2
    assert _crossings(slant, ((7.0, -3.0), (0.8, 0.6), 0.0)) == [] and _crossings(slant, ((7.0, -3.0), (-0.8, -0.6), 0.0)) == []
    for radius, at in ((5.0, [(1.0, 2.0), (7.4, 6.8)]), (3.0, [(4.2, 4.4), (4.2, 4.4)]), (2.9, [])):
        ring = ((6.0, 2.0), None, radius + (1e-12 if radius == 3.0 else 0.0))
        for first, second in ((slant, ring), (ring, slant)):
            assert _crossings(first, second) == [pytest.approx(point, abs=1e-5) for point in at]
    one, other = ((1.0, 2.0), None, 17.0), ((1.0, 23.0), None, 10.0)
    assert _crossings(one, other) == near([(-7.0, 17.0), (9.0, 17.0)]) and _crossings(other, one) == near([(9.0, 17.0), (-7.0, 17.0)])
    # On one middle, too far apart, and one within the other.
    lost = (((1.0, 2.0), None, 9.0), ((1.0, 40.0), None, 10.0), ((1.0, 4.0), None, 5.0))
    assert [_crossings(one, item) for item in lost] == [[], [], []]


@pytest.mark.parametrize("turn", [-150.0, -90.0, -40.0])
def test_the_arc_that_a_cutter_leaves(turn: float) -> None:
    """Two sides of 30 that turn right: it touches them r tan(turn/2) from the corner and turns as much itself."""
    angle, r = math.radians(turn), 2.0
    found = corner_fillet(Segment(0.0, 0.0, 30.0, 0.0, 0.0), Segment(30.0, 0.0, 30.0 + 30.0 * math.cos(angle), 30.0 * math.sin(angle), 0.0), r)
    off = r * math.tan(-angle / 2.0)
    assert found is not None and found.bulge == pytest.approx(math.tan(angle / 4.0))
    assert found.from_point == pytest.approx((30.0 - off, 0.0))
    assert found.to_point == pytest.approx((30.0 + off * math.cos(angle), off * math.sin(angle)))
    assert (found.along_before, found.along_after) == pytest.approx((1.0 - off / 30.0, off / 30.0))


@pytest.mark.parametrize(("wide", "corners"), [(5.0, 4), (5.6, 4), (5.7, 8)])
def test_a_wall_must_hold_the_bites_of_both_its_corners(wide: float, corners: int) -> None:
    """A cutter of 2 bites 4 sin 45° = 2.83 along each wall: 5.66 in all."""
    assert len(relieved(rectangle(0, 0, 40, wide), 2.0).vertices) == corners


def test_inward_corners_are_not_relieved() -> None:
    """Four outward corners become two points each; one that bends inwards by 28 degrees and one on a straight side stay."""
    found = relieved(polygon([(0, 0), (20, 0), (40, 0), (40, 30), (20, 25), (0, 30)]), 2.0)
    assert len(found.vertices) == 10 and {(20.0, 0.0), (20.0, 25.0)} <= {(v.x, v.y) for v in found.vertices}
