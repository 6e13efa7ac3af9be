"""Pieces of outlines and whole ones: each figure by plane geometry, so that a changed sign or term shows. Lengths mm."""

from __future__ import annotations

import math

import pytest

from trivet.solve.contour import Contour, Vertex
from trivet.solve.contour_faults import contour_faults, duplicate_contours
from trivet.solve.contour_shapes import circle, hexagon, polygon, rectangle, relieved, slot
from trivet.solve.segment import Segment

QUARTER = math.tan(math.pi / 8.0)
ELL = ((0, 0), (40, 0), (40, 15), (15, 15), (15, 30), (0, 30))


def arc(cx: float, cy: float, radius: float, start_deg: float, sweep_deg: float) -> Segment:
    """An arc from its centre, radius, start and sweep."""
    a, b = math.radians(start_deg), math.radians(start_deg + sweep_deg)
    return Segment(
        cx + radius * math.cos(a), cy + radius * math.sin(a), cx + radius * math.cos(b), cy + radius * math.sin(b),
        math.tan(math.radians(sweep_deg) / 4.0),
    )  # fmt: skip


ARCS = [(2, -3, 5, 20, 95), (2, -3, 5, 20, -95), (-4, 1, 7, 200, 250), (-4, 1, 7, 200, -250), (0, 0, 3, 10, 180), (1, 1, 2, 95, -30), (1, 1, 2, 95, 30)]


@pytest.mark.parametrize(("cx", "cy", "radius", "start", "sweep"), ARCS)
def test_an_arc_is_what_it_was_made_of(cx: float, cy: float, radius: float, start: float, sweep: float) -> None:
    piece = arc(cx, cy, radius, start, sweep)
    assert piece.is_arc and piece.centre == pytest.approx((cx, cy)) and piece.radius_mm == pytest.approx(radius)
    assert math.degrees(piece.sweep_rad) == pytest.approx(sweep)
    assert math.cos(piece.start_angle_rad - math.radians(start)) == pytest.approx(1.0)
    assert piece.length_mm == pytest.approx(radius * math.radians(abs(sweep)))
    sense = math.copysign(90.0, sweep)
    for at_end, angle in ((False, start + sense), (True, start + sweep + sense)):
        wanted = (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
        assert piece.direction(at_end) == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize(("cx", "cy", "radius", "start", "sweep"), ARCS)
@pytest.mark.parametrize("tolerance", [0.01, 0.3])
def test_chords_of_an_arc_are_even_and_as_few_as_may_be(
    cx: float, cy: float, radius: float, start: float, sweep: float, tolerance: float
) -> None:
    points = arc(cx, cy, radius, start, sweep).points(tolerance)
    count, turn = len(points), math.radians(abs(sweep))
    # A quarter turn and a little, 1.6 rad, is the most that one chord spans.
    fewest = math.ceil(turn / 1.6)
    assert radius * (1.0 - math.cos(turn / count / 2.0)) <= tolerance + 1e-9
    assert count == fewest or radius * (1.0 - math.cos(turn / (count - 1) / 2.0)) > tolerance
    assert len(arc(cx, cy, radius, start, sweep).points(20.0)) == fewest
    for k, (x, y) in enumerate(points):
        angle = math.radians(start + sweep * k / count)
        assert (x, y) == pytest.approx((cx + radius * math.cos(angle), cy + radius * math.sin(angle)))


@pytest.mark.parametrize(("cx", "cy", "radius", "start", "sweep"), ARCS)
@pytest.mark.parametrize("place", [(0.0, 0.0), (9.0, -2.0), (-9.0, 8.0), (2.5, -12.0), (-12.0, -3.0), (1.1, 9.0), (-1.0, 9.0)])
def test_nearest_point_of_an_arc(
    cx: float, cy: float, radius: float, start: float, sweep: float, place: tuple[float, float]
) -> None:
    turns = [math.radians(start + sweep * k / 4000.0) for k in range(4001)]
    known = min(math.dist(place, (cx + radius * math.cos(t), cy + radius * math.sin(t))) for t in turns)
    assert math.dist(place, arc(cx, cy, radius, start, sweep).nearest(*place)) == pytest.approx(known, abs=1e-4)


@pytest.mark.parametrize(
    ("place", "nearest"), [((5, 9), (5, 0)), ((-3, 4), (0, 0)), ((14, 1), (10, 0)), ((0, -2), (0, 0)), ((10, -2), (10, 0))]
)
def test_nearest_point_of_a_line(place: tuple[float, float], nearest: tuple[float, float]) -> None:
    # The same turned by the angle of a triangle of sides 3, 4 and 5.
    for c, s in ((1.0, 0.0), (0.8, 0.6)):
        line = Segment(1.0, 2.0, 1.0 + 10.0 * c, 2.0 + 10.0 * s, 0.0)
        (px, py), (nx, ny) = place, nearest
        found = line.nearest(1.0 + px * c - py * s, 2.0 + px * s + py * c)
        assert found == pytest.approx((1.0 + nx * c - ny * s, 2.0 + nx * s + ny * c))


def test_pieces_without_length_or_curve() -> None:
    line, none, curl = Segment(1, 2, 4, 6, 0.0), Segment(1, 2, 1, 2, 0.0), Segment(1, 2, 1, 2, 1.0)
    assert not line.is_arc and not none.is_arc and not curl.is_arc
    assert (line.radius_mm, line.sweep_rad, line.length_mm, line.chord_count(0.1)) == (math.inf, 0.0, 5.0, 0.0)
    assert line.points(0.1) == [(1, 2)] and line.extremes() == [(1, 2), (4, 6)]
    assert none.direction(True) == (0.0, 0.0) and none.nearest(7.0, 7.0) == (1, 2)
    assert Segment(0, 0, 0.5, 0, 0).nearest(0.4, 2) == (0.4, 0)
    assert line.direction(True) == line.direction(False) == pytest.approx((0.6, 0.8))
    # At 1 m of chord a bulge of 1e-12 stands out by 5e-10: still a line. Upright and level chords make arcs.
    assert not Segment(0, 0, 1000, 0, 1e-12).is_arc and Segment(0, 0, 1000, 0, 1.1e-12).is_arc and Segment(0, 0, 0, 9, -0.5).is_arc


def test_chords_that_an_arc_needs() -> None:
    # A chord whose sagitta is half the radius spans 120 degrees; one as high as the radius or more 180.
    assert arc(0, 0, 4, 0, 90).chord_count(2.0) == pytest.approx(0.75)
    assert arc(0, 0, 4, 0, -90).chord_count(9.0) == pytest.approx(0.5)
    # Four quarters at 0.6 rad a chord: 2.618 each, 10.47 in all, and four lines.
    shape = rectangle(0, 0, 30, 20, 4)
    assert shape.chord_count(4.0 * (1.0 - math.cos(0.3))) == 15 and shape.chord_count(4.0 * (1.0 - math.cos(math.pi / 16))) == 20


@pytest.mark.parametrize(
    ("start", "sweep", "sides"),
    [(-10, 20, "e"), (80, 20, "n"), (170, 20, "w"), (260, 20, "s"), (10, -20, "e"), (100, -20, "n"), (190, -20, "w"), (280, -20, "s"),
     (10, 70, ""), (80, -70, ""), (100, 240, "ws"), (-20, -240, "sw"), (45, 300, "nws")],
)  # fmt: skip
def test_where_an_arc_runs_level_or_upright(start: float, sweep: float, sides: str) -> None:
    at = {"e": (8, 2), "n": (3, 7), "w": (-2, 2), "s": (3, -3)}
    found = arc(3, 2, 5, start, sweep).extremes()[2:]
    assert sorted((round(x, 9), round(y, 9)) for x, y in found) == sorted((float(at[s][0]), float(at[s][1])) for s in sides)


def test_a_circle_is_of_one_sense_and_one_round() -> None:
    assert circle(3, 4, 5).reversed().as_circle() == pytest.approx((3, 4, 5))
    # Once and a quarter round and a quarter back: all on one circle, a whole turn in sum.
    assert Contour((Vertex(5, 0, 1.0), Vertex(-5, 0, 1.0), Vertex(5, 0, QUARTER), Vertex(0, 5, -QUARTER))).as_circle() is None
    assert Contour((Vertex(5, 0, 1.0), Vertex(-5, 0, 1.0)) * 2).as_circle() is None
    assert Contour(()).as_circle() is None and rectangle(0, 0, 9, 8, 4).as_circle() is None
    # Quarters of radii 5 and 5.6 by turns: centres √2 · 0.6 = 0.85 apart at neighbours.
    d = 0.6
    oval = Contour((Vertex(5, 0, QUARTER), Vertex(0, 5, QUARTER), Vertex(-5 - d, -d, QUARTER), Vertex(-d, -5 - d, QUARTER)))
    assert oval.as_circle(0.8) is None and oval.as_circle(0.5) is None
    found = oval.as_circle(1.0)
    assert found is not None and found[2] == pytest.approx(5.0)
    for d, round_enough in ((1e-7, True), (3e-6, False)):
        oval = Contour((Vertex(5, 0, QUARTER), Vertex(0, 5, QUARTER), Vertex(-5 - d, -d, QUARTER), Vertex(-d, -5 - d, QUARTER)))
        assert (oval.as_circle() is not None) == round_enough


def moved(contour: Contour) -> list[tuple[float, float, float]]:
    return [(round(v.x, 6) + 0.0, round(v.y, 6) + 0.0, round(v.bulge, 6) + 0.0) for v in contour.vertices]


def test_moves_corner_by_corner() -> None:
    """Three corners, a bow of 0.5 from the first to the second and of −0.25 from the third to the first."""
    shape = Contour((Vertex(1, 2, 0.5), Vertex(6, 3), Vertex(4, 9, -0.25)))
    assert moved(shape.translated(10, -20)) == [(11, -18, 0.5), (16, -17, 0), (14, -11, -0.25)]
    # A quarter turn about (3, 1): (x, y) goes to (3 − (y − 1), 1 + (x − 3)); about (0, 0) to (−y, x).
    assert moved(shape.rotated(math.pi / 2, (3, 1))) == [(2, -1, 0.5), (1, 4, 0), (-5, 2, -0.25)]
    assert moved(shape.rotated(math.pi / 2)) == [(-2, 1, 0.5), (-3, 6, 0), (-9, 4, -0.25)]
    # By the angle of a triangle of 3, 4, 5 about (1, 2): (5, 1) beyond it goes to (5 · 0.8 − 0.6, 5 · 0.6 + 0.8).
    assert moved(shape.rotated(math.atan2(3, 4), (1, 2)))[:2] == [(1, 2, 0.5), (4.4, 5.8, 0)]
    assert moved(shape.reversed()) == [(1, 2, 0.25), (4, 9, 0), (6, 3, -0.5)]
    assert moved(shape.mirrored_x(5)) == [(9, 2, -0.25), (6, 9, 0), (4, 3, 0.5)]
    assert moved(shape.mirrored_y(5)) == [(1, 8, -0.25), (4, 1, 0), (6, 7, 0.5)]
    assert moved(shape.mirrored_x()) == [(-1, 2, -0.25), (-4, 9, 0), (-6, 3, 0.5)]
    assert moved(shape.mirrored_y()) == [(1, -2, -0.25), (4, -9, 0), (6, -3, 0.5)]
    assert shape.anticlockwise() == shape and shape.reversed().anticlockwise() == shape


FAULTS = [
    (((0, 0), (10, 0), (10, 10), (10, 10.00099)), ["points-too-close"]),
    (((0, 0), (10, 0), (10, 10), (10, 10.00101)), []),
    (((0, 0), (2, 0), (1, 1.1e-6)), []),
    (((3, 4), (5, 4), (4, 4.0000009)), ["no-area"]),
    (((0, 0), (10, 0)), ["too-few-points"]),
    (((0, 0, 1.0),), ["too-few-points"]),
    ((), ["too-few-points"]),
    # Half a disc; and a bow so flat, 0.0005, that its chord stands for it: two points in all.
    (((0, 0), (10, 0, 1.0)), []),
    (((0, 0), (10, 0, 1e-4)), []),
    (((0, 0), (10, 0, math.inf)), ["not-finite"]),
]


@pytest.mark.parametrize(("corners", "kinds"), FAULTS)
def test_faults_at_their_borders(corners: tuple[tuple[float, ...], ...], kinds: list[str]) -> None:
    assert [fault.kind for fault in contour_faults(Contour(tuple(Vertex(*corner) for corner in corners)))] == kinds


def test_faults_say_where() -> None:
    def first(*corners: tuple[float, float]) -> tuple[float, float, str]:
        fault = contour_faults(Contour(tuple(Vertex(*corner) for corner in corners)))[0]
        return fault.x_mm, fault.y_mm, fault.words

    x, y, words = first((0, 0), (20, 10), (20, -2), (0, 8))
    assert (x, y) == pytest.approx((8, 4)) and words == "the outline crosses or touches itself near (8, 4) mm"
    assert first((0, 0), (9, 7), (9, 7.0004), (0, 9)) == (9, 7, "two neighbouring points are 0.0004 mm apart")
    assert first((3, 4), (5, 4), (4, 4.0000009))[:2] == (3, 4)
    assert first((0, 0), (9, 0))[:2] == (0, 0) and first((5, math.nan), (9, 0), (3, 3))[:2] == (0, 0)


@pytest.mark.parametrize(("notch", "same"), [(5.0025, True), (5.0035, False)])
def test_outlines_that_lie_on_one_another(notch: float, same: bool) -> None:
    # Boxes alike within 0.001; between the lines themselves that and two sagittas of 0.001.
    one, other = (polygon([(0, 0), (20, 0), (20, 20), (10, at), (0, 20)]) for at in (5.0, notch))
    far, again = rectangle(900, 0, 20, 20), rectangle(900, 0, 20, 20).reversed()
    assert duplicate_contours((far, other, one, again)) == (((0, 3), (1, 2)) if same else ((0, 3),))


@pytest.mark.parametrize(("by", "same"), [((0.0009, 0), True), ((0.0011, 0), False), ((0, 0.0009), True), ((0, -0.0011), False)])
def test_shifted_outlines_are_two(by: tuple[float, float], same: bool) -> None:
    assert duplicate_contours((rectangle(0, 0, 9, 9), rectangle(*by, 9, 9))) == (((0, 1),) if same else ())


def test_usual_outlines_corner_by_corner() -> None:
    flat = [(round(v.x, 6), round(v.y, 6), round(v.bulge, 6)) for v in slot(50, 20, 30, 8, math.pi / 2).vertices]
    assert flat == [(54, 9, 0), (54, 31, 1), (46, 31, 0), (46, 9, 1)]
    assert slot(1, 2, 8, 8) == circle(1, 2, 4) and rectangle(1, 2, 8, 6, -3) == rectangle(1, 2, 8, 6)
    assert rectangle(0, 0, 20, 12, 6).area_mm2 == pytest.approx(8 * 12 + 36 * math.pi) and len(rectangle(0, 0, 20, 12, 6).vertices) == 6
    turned = hexagon(5, -7, 26, math.radians(10))
    reach = 26 / math.sqrt(3)
    assert (turned.vertices[0].x, turned.vertices[0].y) == pytest.approx(
        (5 + reach * math.cos(math.radians(10)), -7 + reach * math.sin(math.radians(10)))
    )
    assert polygon(reversed(ELL)).area_mm2 == pytest.approx(825.0)


def test_reliefs_stand_at_their_corners() -> None:
    bite = 2.0 * math.sqrt(2.0)
    found = {(round(v.x, 6), round(v.y, 6), round(v.bulge, 6)) for v in relieved(rectangle(0, 0, 40, 30), 2.0).vertices}
    b = round(bite, 6)
    assert found == {
        (b, 0, 0), (40 - b, 0, 1), (40, b, 0), (40, 30 - b, 1), (40 - b, 30, 0), (b, 30, 1), (0, 30 - b, 0), (0, b, 1)
    }  # fmt: skip
    # Only the short wall on top keeps its two corners; arcs have none.
    short = relieved(polygon([(0, 0), (40, 0), (20, 30), (17, 30)]), 2.0)
    assert len(short.vertices) == 6 and {(20.0, 30.0), (17.0, 30.0)} <= {(v.x, v.y) for v in short.vertices}
    assert relieved(slot(0, 0, 30, 8), 1.0) == slot(0, 0, 30, 8)
    bowed = relieved(polygon([(0, 0), (40, 0, 0.3), (40, 30), (0, 30)]), 2.0)
    assert len(bowed.vertices) == 6 and {(40.0, 0.0, 0.3), (40.0, 30.0, 0.0)} <= {(v.x, v.y, v.bulge) for v in bowed.vertices}
