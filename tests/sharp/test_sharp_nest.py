"""Nesting, step by step, on sheets small enough to lay by hand: shapes, places, costs, index holes, records. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

import pytest

from trivet.record import replace
from trivet.solve.contour import Contour
from trivet.solve.contour_shapes import circle, polygon, rectangle
from trivet.solve.nest import assembled, least_sheets, sheets_of
from trivet.solve.nest_apart import keeps_apart, nearness
from trivet.solve.nest_job import Jobs
from trivet.solve.nest_kept import NotKept, _used_too_often, kept_nest, kept_record, mark_of
from trivet.solve.nest_place import Bench, Laid, _corners, _cost, lay
from trivet.solve.nest_records import Job, Lying, Piece, Stock
from trivet.solve.nest_registration import _chosen, _places, _thinned, reserve_mm
from trivet.solve.nest_shapes import Grown, forbidden, grown

SQUARE, WIDE = rectangle(0, 0, 80, 80), rectangle(-40, -20, 80, 40)
ELL = polygon([(0, 0), (40, 0), (40, 15), (15, 15), (15, 30), (0, 30)])


def job(*pieces: Piece, stocks: tuple[Stock, ...] = (Stock(200, 100, None, False),), **facts: Any) -> Job:
    given: dict[str, Any] = {"spacing_mm": 10.0, "margin_mm": 10.0, "cutter_mm": 6.0, "dowel_mm": 8.0, "two_faced": frozenset(), "starts": 3}
    return Job("ply", "topside", pieces, stocks, **(given | facts))


def piece(name: str = "a", outline: Contour = SQUARE, turns: tuple[float, ...] = (0.0,), copy: int = 1, turned: float = 0.0) -> Piece:
    return Piece(name, copy, outline, turns, turned)


@pytest.mark.parametrize(("spacing", "reserve"), [(6.0, 9.5), (10.0, 9.5), (20.0, 14.5)])
def test_room_for_an_index_hole(spacing: float, reserve: float) -> None:
    # A dowel of 8 with 1 of room: 4.5, and 5 of wood to the edge or half the spacing to a part.
    assert reserve_mm(job(spacing_mm=spacing)) == reserve
    corners = _corners(9.5, Stock(600, 400, None, False))
    for corner, (x, y) in zip(corners, ((9.5, 9.5), (590.5, 9.5), (590.5, 381.0)), strict=True):
        turns = [math.degrees(math.atan2(v - y, u - x)) % 360.0 for u, v in corner.points]
        assert turns == pytest.approx([15.0 * k for k in range(24)], abs=1e-6) and corner.convex
        assert all(math.dist((x, y), point) == pytest.approx(9.5) for point in corner.points)
        assert corner.box == (x - 9.5, y - 9.5, x + 9.5, y + 9.5)
    assert [c.box[0] for c in _corners(9.5, Stock(12, 12, None, False))] == [0.0, 0.0, 0.0]


@pytest.mark.parametrize(
    ("used", "box"), [((150, 100, 450, 300), (128, 78, 472, 322)), ((10, 10, 590, 390), (10, 10, 590, 390)), ((10, 100, 300, 390), (10, 78, 322, 390))]
)
def test_places_for_index_holes(used: tuple[float, ...], box: tuple[float, ...]) -> None:
    """At most 4.5 + 6 + 12 beyond the parts, at least 4.5 + 5 from the edge, whole millimetres; off a part by 4.5 + 6 and 0.1."""
    x0, y0, x1, y1 = used
    small = rectangle(x0, y0, 40, 40)
    at = _places(job(spacing_mm=6.0), Stock(600, 400, None, False), (small,), (x0, y0, x1, y1))
    xs, ys = [x for x, _ in at], [y for _, y in at]
    assert (min(xs), min(ys), max(xs), max(ys)) == box
    away = [math.hypot(max(x0 - x, x - x0 - 40, 0), max(y0 - y, y - y0 - 40, 0)) for x, y in at]
    assert 10.6 - 0.01 <= min(away) < 17.0 and len(at) <= 470
    assert _places(job(), Stock(18, 400, None, False), (small,), (0, 0, 18, 400)) == []
    assert _places(job(), Stock(400, 19, None, False), (small,), (0, 0, 400, 19)) == []
    assert _places(job(), Stock(200, 100, None, False), (rectangle(0, 0, 200, 100),), (0, 0, 200, 100)) == []


def test_few_places_are_all_kept_and_in_order() -> None:
    import numpy

    assert _thinned(numpy.array([(5.0, 2.0), (1.0, 9.0), (5.0, 1.0)])) == [(1, 9), (5, 1), (5, 2)] and _thinned(numpy.zeros((0, 2))) == []
    every = numpy.array([(float(x), float(y)) for x in range(50) for y in range(40)])
    kept = _thinned(every)
    assert {(0, 0), (49, 0), (0, 39), (49, 39)} <= set(kept) and 334 <= len(kept) <= 334 + 64
    assert _chosen([(0.0, 0.0), (0.9, 0.0), (0.3, 0.5)], 0.0, 0.0) is None and _chosen([(0.0, 0.0), (9.0, 0.0)], 0.0, 0.0) is None


@pytest.mark.parametrize("turn", [0.0, 90.0, 30.0])
@pytest.mark.parametrize(("outline", "convex"), [(SQUARE, True), (ELL, False), (circle(5, 5, 20), True)])
def test_grown_outlines_hold_their_distance(outline: Contour, convex: bool, turn: float) -> None:
    import shapely

    found = grown(outline, 5.0, turn)
    shape = shapely.affinity.rotate(shapely.Polygon(outline.points(0.0005)), turn, (0, 0))
    assert found.convex == convex and found.box == pytest.approx(shape.bounds, abs=0.001)
    assert found.polygon().buffer(1e-4).contains(shape.buffer(5.0, quad_segs=200))
    # No more than chords of 0.02 and 5 (1 − cos(π/32)), and corners of 0.15 twice, add; a filled notch is no hull.
    assert shape.buffer(5.0 + 0.02 + 0.025 + 0.15 + 0.15, quad_segs=200).buffer(0.01).contains(found.polygon())
    assert all(round(v, 4) == v for point in found.points for v in point)
    wide = shapely.Polygon(ELL.points(1.0)).buffer(5.19, quad_segs=50)
    notch = wide.convex_hull.area / wide.area - 1.0
    assert notch > 0.08 and grown(ELL, 5.0, 0.0, notch + 0.004).convex and not grown(ELL, 5.0, 0.0, notch - 0.004).convex


def test_where_a_second_shape_must_not_lie() -> None:
    """A square of 4 beside an angle of 40 and 30, 15 wide: two boxes of 44 by 19 and 19 by 34 that share 19 by 19."""
    small = Grown(((0, 0), (4, 0), (4, 4), (0, 4)), True, (0, 0, 4, 4))
    big = Grown(((0, 0), (10, 0), (10, 9), (0, 9)), True, (0, 0, 10, 9))
    assert forbidden(big, small).bounds == (-4, -4, 10, 9) and forbidden(big, small).area == pytest.approx(14 * 13)
    ell = Grown(tuple((v.x, v.y) for v in ELL.vertices), False, ELL.bounds)
    found = forbidden(ell, small)
    assert found.bounds == pytest.approx((-4.03, -4.03, 40.03, 30.03)) and found.area == pytest.approx(1121.0 + 0.03 * 156.0, abs=0.3)
    # A square in the notch of an angle turned half round.
    around = forbidden(small, ell)
    assert around.bounds == pytest.approx((-40.03, -30.03, 4.03, 4.03)) and around.area == pytest.approx(found.area, abs=0.01)


def test_room_and_turns_on_an_empty_sheet() -> None:
    bench = Bench(job(piece(), piece("b", WIDE, (0.0, 90.0)), piece("c"), piece("d", rectangle(-40, -40, 80, 80), (0.0, 90.0, 180.0))))
    assert bench.keys == [0, 1, 0, 2] and (bench.turns(0), bench.turns(1), bench.turns(2)) == ([0.0], [0.0, 90.0], [0.0])
    shape = bench.shapes[0, 0.0]
    assert bench.room(shape, Stock(200, 120, None, False)).bounds == (10, 10, 110, 30)
    assert bench.room(shape, Stock(100, 100, None, False)).bounds == pytest.approx((10, 10, 10.001, 10.001))
    assert bench.room(shape, Stock(99.9995, 100, None, False)) is not None
    assert bench.room(shape, Stock(99.99, 100, None, False)) is None and bench.room(shape, Stock(100, 99.99, None, False)) is None
    import shapely

    free = Bench(bench.job, 14.5).room(shape, Stock(200, 120, None, False))
    # Kept free: round places of 14.5 at (14.5, 14.5), (185.5, 14.5) and (185.5, 91); the grown part lies 5.2 about it.
    open_at = [free.contains(shapely.Point(at)) for at in ((20, 20), (50, 20), (93, 12), (109, 20), (60, 11), (12, 29.9))]
    assert open_at == [False, True, False, False, True, False]


@pytest.mark.parametrize("upright", [False, True])
def test_two_squares_beside_one_another(upright: bool) -> None:
    stock = Stock(100, 210, 1, True) if upright else Stock(210, 100, 1, True)
    bench = Bench(job(piece(), piece("b"), piece("c"), stocks=(stock, Stock(100, 101, None, False))))
    found = lay(bench, (2, 0, 1))
    (n0, k0, x0, y0, t0), (n1, k1, x1, y1, _), (n2, k2, x2, y2, _) = found.spots
    assert (n0, k0, x0, y0, t0) == (0, 2, 10, 10, 0.0) and (n1, k1, n2, k2) == (0, 0, 1, 1) and (x2, y2) == (10, 10)
    assert (100.0 <= y1 <= 100.5 and x1 == 10) if upright else (100.0 <= x1 <= 100.5 and y1 == 10)
    assert found.stocks == (stock, Stock(100, 101, None, False)) and found.left_over == ()
    # Nothing left over, one whole sheet, two in all; the last one used to 90, both to 90 and 180 and a little.
    far = 80 + (y1 if upright else x1)
    assert found.cost == (0.0, 1.0, 2.0, 90.0, round(90.0 + far, 1))
    assert _cost(bench, [], (), (1, 2)) == (2.0, 0.0, 0.0, 0.0, 0.0)
    assert keeps_apart(bench.job, found) and lay(Bench(job(piece(), piece("b"), stocks=(Stock(100, 100, 1, False),))), (0, 1)).left_over == (1,)


@pytest.mark.parametrize(
    ("places", "words"),
    [
        (((10, 10), (100, 10)), ""),
        (((9.995, 10), (100, 10)), ""),
        (((9.98, 10), (100, 10)), "lays a part over the edge of its sheet"),
        (((10, 9.98), (100, 10)), "lays a part over the edge of its sheet"),
        (((10, 10), (110.02, 10)), "lays a part over the edge of its sheet"),
        (((10, 10), (100, 10.02)), "lays a part over the edge of its sheet"),
        (((10, 10), (99.995, 10)), ""),
        (((10, 10), (99.98, 10)), "lays parts too near to each other"),
        (((10, 10), (40, 10)), "lays parts too near to each other"),
    ],
)
def test_what_lies_too_near(places: tuple[tuple[float, float], ...], words: str) -> None:
    stock = Stock(200, 100, None, False)
    assert nearness(job(), stock, [SQUARE.translated(x, y) for x, y in places]) == words
    made = job(piece(), piece("b"))
    spots = tuple((0, k, x, y, 0.0) for k, (x, y) in enumerate(places))
    assert keeps_apart(made, Laid((stock,), spots, (), ())) == (words == "")


@pytest.mark.parametrize(
    ("stocks", "count"),
    [
        ((Stock(100, 100, None, False),), 2), ((Stock(100, 50, 1, True), Stock(100, 100, None, False)), 2),
        ((Stock(100, 95, 1, True), Stock(100, 100, None, False)), 1), ((Stock(100, 200, 1, True), Stock(100, 100, None, False)), 0),
        ((Stock(100, 50, None, False, 2),), 2), ((Stock(120, 160, None, False),), 1), ((Stock(100, 100, 1, True),), 0),
    ],
)  # fmt: skip
def test_least_sheets(stocks: tuple[Stock, ...], count: int) -> None:
    # Three squares of 80: 19200.
    assert least_sheets(job(piece(), piece("b"), piece("c"), stocks=stocks)) == count


def test_a_sheet_of_a_job() -> None:
    stock = Stock(300, 200, 2, False, 3, (900, 200))
    made = job(piece(), piece("b", WIDE, (0.0, 90.0), 2, 350.0), stocks=(stock,), two_faced=frozenset({"b"}), machine="m")
    laid = Laid((stock, stock), ((0, 0, 10, 10, 0.0), (1, 1, 60, 70, 90.0)), (), ())
    one, two = sheets_of(made, laid, 4)
    assert (one.number, two.number, one.name) == (5, 6, "ply-5") and (one.used_mm, two.used_mm) == ((10, 10, 90, 90), pytest.approx((40, 30, 80, 110)))
    assert one.lying == (Lying("a", 1, 10, 10, 0.0),) and two.lying == (Lying("b", 2, 60, 70, 80.0),)
    assert (one.area_mm2, two.area_mm2) == (6400, pytest.approx(3200)) and (one.two_faced, two.two_faced) == (False, True)
    assert one.holes == () and len(two.holes) == 3 and not one.no_room and not two.no_room
    told = (two.sheet, two.first_face, two.width_mm, two.height_mm, two.off_cut, two.spacing_mm, two.margin_mm, two.dowel_mm)
    assert told == ("ply", "topside", 300, 200, False, 10, 10, 8) and (two.machine, two.per_sheet, two.cut_from_mm) == ("m", 3, (900, 200))
    # Used as far as the parts and a margin reach along the longer side, over the whole breadth.
    assert one.share == pytest.approx(6400 / 60000) and one.used_share == pytest.approx(6400 / (100 * 200))
    tall = replace(one, width_mm=200, height_mm=300, used_mm=(10, 10, 190, 120))
    assert tall.used_share == pytest.approx(6400 / (130 * 200)) and replace(tall, height_mm=125).used_share == pytest.approx(6400 / (200 * 125))
    assert replace(tall, height_mm=200, used_mm=(10, 10, 50, 195)).used_share == pytest.approx(6400 / (60 * 200))
    assert replace(tall, height_mm=0, width_mm=0).used_share == 0.0 and replace(two, holes=()).no_room
    jobs = Jobs((made, replace(made, first_face="underside")), (), ("x",), ("y",))
    whole = assembled(jobs, {jobs.jobs[0]: laid, jobs.jobs[1]: Laid((stock,), ((0, 0, 10, 10, 0.0),), (1,), ())})
    assert [sheet.number for sheet in whole.sheets] == [1, 2, 3] and whole.left_over == (("ply", "b 2"),) and whole.came_from == "computed"
    assert whole.not_sized == ("x", "y") and whole.least_sheets == (("ply", 1), ("ply", 1))
    # Kept and read again it is the same; what is stated otherwise makes another mark.
    again = kept_nest(jobs, kept_record(jobs, whole))
    assert again == replace(whole, came_from="kept")
    others = [replace(made, **{name: value}) for name, value in (("spacing_mm", 10.001), ("margin_mm", 9.999), ("dowel_mm", 8.001), ("machine", ""))]
    others += [replace(made, stocks=(replace(stock, count=3),)), replace(made, pieces=(replace(made.pieces[0], copy=3), made.pieces[1]))]
    marks = {mark_of(replace(jobs, jobs=(item,))) for item in (made, *others)}
    assert len(marks) == 7 and mark_of(replace(jobs, jobs=(replace(made, spacing_mm=10.0004),))) in marks
    for spoilt in (None, {"form": 2}, {**kept_record(jobs, whole), "holds": "sha256:0"}):
        with pytest.raises(NotKept):
            kept_nest(jobs, spoilt)
    one_left = replace(stock, count=1)
    assert [_used_too_often(held, one_left) for held in ([one_left], [one_left] * 2, [stock, one_left])] == [False, True, False]
    assert not _used_too_often([replace(stock, count=None)] * 9, replace(stock, count=None))
    assert not _used_too_often([replace(one_left, off_cut=True)] * 2, replace(one_left, off_cut=True))


@pytest.mark.parametrize(("stock", "spot"), [((200, 100), (0, 0, 30, 50, 90.0)), ((100, 200), (0, 0, 50, 30, 0.0))])
def test_a_bar_lies_across_the_longer_way(stock: tuple[float, float], spot: tuple[float, ...]) -> None:
    # 80 by 40 about its middle, 10 from the edges: across the sheet it takes 50 of its length, along it 90.
    found = lay(Bench(job(piece("b", WIDE, (0.0, 90.0)), stocks=(Stock(*stock, None, False),))), (0,))
    assert found.spots == (spot,) and found.cost == (0.0, 1.0, 1.0, 50.0, 50.0)
