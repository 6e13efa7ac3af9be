"""Webs, tabs, cuts from both faces, machines' work areas, plates and discs: each figure by hand or by a second calculation. Lengths mm."""

from __future__ import annotations

import math
from fractions import Fraction
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import design, gear, mm, q
from tests.designs_feet import JAM, TEE, riding, riser
from tests.part_samples import parts_of

from trivet.model.base import Ref
from trivet.model.shop import Machine
from trivet.model.tabs import Tabs
from trivet.model.train import DriveNut, Web
from trivet.record import replace
from trivet.solve.contour import Contour, Vertex
from trivet.solve.contour_shapes import circle, polygon, rectangle
from trivet.solve.feature import Feature, Round, Stroke
from trivet.solve.nest_records import Stock
from trivet.solve.part_features import PartFeatures
from trivet.solve.plan import disc_gap_mm, inside, plates_gap_mm, to_edge_mm
from trivet.solve.plate import Stiffness, plate_sags_mm, sheet_stiffness
from trivet.solve.segment import Segment
from trivet.solve.solid import Solid
from trivet.solve.solid_grid import SolidGrid, gap_mm
from trivet.solve.solve import solve
from trivet.solve.split_faces import _about, _face, _half_mm, _nut, _pair, flip_wander_mm
from trivet.solve.tab_place import TabPlace
from trivet.solve.tabs import _round_apart, height_mm, longest_run_mm, refusal, tab_places, width_mm
from trivet.solve.web_fit import _instead
from trivet.solve.web_openings import WebRoom, web_openings, web_room
from trivet.solve.work_area import area_of, boxes_of, cut_down, fits, machines_of, whole_sheets
from trivet.units import Quantity


def deck(outline: Contour, **facts: Any) -> PartFeatures:
    """A board of 17.8 with that edge."""
    return replace(parts_of(riser(riding()))["deck"], outline=outline, **facts)


@pytest.mark.parametrize(
    ("bottom", "module", "bore", "recess", "hub", "rim"),
    [(60, 4, 8, 0, 12, 52), (60, 2, 8, 0, 12, 54), (60, 3, 8, 11, 17, 54), (60, 3.5, 30, 0, 45, 53), (60, 4, 4, 0, 8, 52), (20, 4, 10, 3, 15, 12)],
)
def test_room_of_a_web(bottom: float, module: float, bore: float, recess: float, hub: float, rim: float) -> None:
    """A rim of 6 or two modules; a hub of 1.5 bores, or 6 round the bore or what is let in (common practice, no source)."""
    room = web_room(bottom, module, bore, recess)
    assert (room.hub_mm, room.rim_mm, room.width_mm) == (hub, rim, rim - hub)


@pytest.mark.parametrize(
    ("count", "width", "hub", "rim", "cutter"),
    [(5, 10, 20, 60, 6), (3, 12, 15, 45, 4), (6, 8, 30, 80, 6), (2, 10, 12, 40, 6), (12, 20, 10, 100, 6), (4, 16, 5, 60, 8),
     (6, 8, 10, 60, 6), (6, 8, 11.2, 60, 6), (4, 16, 12.9, 60, 8)],
)  # fmt: skip
def test_openings_are_what_spokes_and_hub_leave_a_cutter(count: int, width: float, hub: float, rim: float, cutter: float) -> None:
    """Disc less spokes, opened by the cutter; less the hub too where that reaches further in than the hub's edge."""
    import shapely

    r = cutter / 2.0
    disc, centre = shapely.Point(0, 0).buffer(rim, quad_segs=400), shapely.Point(0, 0)
    turns = [2.0 * math.pi * k / count for k in range(count)]
    spokes = [shapely.affinity.rotate(shapely.box(0, -width / 2, rim + 9, width / 2), t, (0, 0), use_radians=True) for t in turns]

    def opened(shape: Any) -> Any:
        return shape.buffer(-r, quad_segs=200).buffer(r, quad_segs=200)

    wanted = opened(disc - shapely.union_all(spokes))
    if wanted.distance(centre) < hub - 1e-3:
        wanted = opened(disc - shapely.union_all(spokes) - centre.buffer(hub, quad_segs=400))
    web = Web(form="spokes", count=q(count), size=mm(width))
    found = web_openings(web, WebRoom(hub, rim), cutter)
    shapes = [shapely.Polygon(item.points(0.001)) for item in found if isinstance(item, Contour)]
    assert len(shapes) == count and shapely.union_all(shapes).symmetric_difference(wanted).area < 0.004 * wanted.length


def test_spokes_that_leave_nothing() -> None:
    def opened(count: int, width: str, hub: float, rim: float, cutter: float = 4.0) -> int:
        return len(web_openings(Web(form="spokes", count=q(count), size=mm(width)), WebRoom(hub, rim), cutter))

    assert opened(1, "10", 20, 60) == 0 and opened(2, "10", 20, 60) == 2
    assert opened(4, "40", 5, 20) == 0 and opened(4, "40", 5, 19) == 0
    # The ring between hub and rim takes a cutter of 4, or not quite.
    assert opened(3, "10", 40, 44) == 3 and opened(3, "10", 40, 43.9) == 0
    # Holes: the first towards +x, all on the middle of the room.
    holes = web_openings(Web(form="holes", count=q(4), size=mm(10)), WebRoom(10, 30), 4.0)
    at = [(round(item.x_mm, 9) + 0.0, round(item.y_mm, 9) + 0.0) for item in holes if isinstance(item, Round)]
    assert at == [(20, 0), (0, 20), (-20, 0), (0, -20)]


@pytest.mark.parametrize(
    ("count", "hub", "rim", "cutter", "instead"),
    [
        # On a middle of 20: six are 20 apart and leave 14; five 23.5, 17.5; four 28.3, and the room's 20.
        (6, 10, 30, 4, (6, 14.0)), (6, 10, 30, 14.5, (5, 17.5)), (6, 10, 30, 18, (4, 20.0)), (6, 10, 30, 20.5, (None, None)),
        # On 21: three leave 30.37, two 36; one only needs the room's 38. Fewer than three are not proposed to who asked for more.
        (5, 2, 40, 25, (3, 30.0)), (5, 2, 40, 30.5, (None, None)), (2, 2, 40, 30.5, (2, 36.0)), (1, 2, 40, 37, (1, 38.0)),
        # 60 at most: 200 sin 3° = 10.47 less 6.
        (100, 90, 110, 4, (60, 4.0)),
    ],
)  # fmt: skip
def test_holes_that_would_find_room(count: int, hub: float, rim: float, cutter: float, instead: tuple[Any, Any]) -> None:
    state: Any = SimpleNamespace(cutter_diameter_mm=cutter)
    assert _instead(Web(form="holes", count=q(count), size=mm(99)), WebRoom(hub, rim), state) == instead


@pytest.mark.parametrize(
    ("count", "size", "hub", "rim"), [(5, "60", 20, 60), (9, "38.5", 30, 60), (12, "200", 40, 70), (4, "12.7", 20, 22), (6, "5.5", 10, 60)]
)
def test_spokes_that_would_find_room(count: int, size: str, hub: float, rim: float) -> None:
    """The widest whole millimetre down from what was asked; fewer spokes only where no width of 6 or more does."""
    state: Any = SimpleNamespace(cutter_diameter_mm=6.0)
    found, width = _instead(Web(form="spokes", count=q(count), size=mm(size)), WebRoom(hub, rim), state)

    def opens(number: int, wide: int) -> bool:
        return bool(web_openings(Web(form="spokes", count=q(number), size=mm(wide)), WebRoom(hub, rim), 6.0))

    every = [(n, w) for n in range(count, 2, -1) for w in range(int(min(float(size), 2 * rim)), 5, -1) if opens(n, w)]
    assert (found, width) == (every[0] if every else (None, None))


def test_tabs_of_a_rectangle_by_hand() -> None:
    """100 by 40: four lie at 35, 105, 175 and 245 of 280; the second and the fourth half a millimetre on, 3 clear of the corner."""
    part = deck(rectangle(0, 0, 100, 40))
    found = tab_places(part, Tabs(count=q(4)))
    runs = [tuple(round(v, 6) for v in (tab.run.x0, tab.run.y0, tab.run.x1, tab.run.y1)) for tab in found]
    assert runs == [(32.5, 0, 37.5, 0), (100, 3, 100, 8), (67.5, 40, 62.5, 40), (0, 37, 0, 32)]
    assert [tab.height_mm for tab in found] == [8.9] * 4 and longest_run_mm(part) == 94.0
    assert [tab.height_mm for tab in tab_places(part, Tabs(count=q(1), height=mm(3)))] == [3.0]
    assert height_mm(part, Tabs(count=q(1), height=mm(3))) == 3.0 and width_mm(part, Tabs(count=q(1), width=mm(7))) == 7.0
    # One of 94 fills a long side but for 3 at either end; a short side of 40 holds none.
    assert [len(tab_places(part, Tabs(count=q(n), width=mm(w)))) for n, w in ((2, 41), (4, "44.1"), (2, 94), (2, "94.1"))] == [2, 2, 2, 0]


@pytest.mark.parametrize(("a", "b", "apart"), [(1, 9, 2), (9, 1, 2), (3, 5, 2), (0, 5, 5), (2, 8, 4)])
def test_distance_round_an_edge(a: float, b: float, apart: float) -> None:
    assert _round_apart(a, b, 10.0) == apart


def test_tabs_on_bows() -> None:
    """Two on a round of 20, a quarter and three quarters round; one on an inward bow of 130 about (50, 180), 5.5 from its start."""
    (one, other) = tab_places(deck(circle(0, 0, 20)), Tabs(count=q(2)))
    half = 2.5 / 20.0
    assert (one.run.x0, one.run.y0) == pytest.approx((20 * math.sin(half), 20 * math.cos(half)))
    assert (other.run.x1, other.run.y1) == pytest.approx((20 * math.sin(half), -20 * math.cos(half)))
    assert one.run.bulge == pytest.approx(math.tan(half / 2))
    # A bow carries a tab of half its radius at the most.
    assert longest_run_mm(deck(circle(0, 0, 20))) == 10.0
    assert [len(tab_places(deck(circle(0, 0, 20)), Tabs(count=q(2), width=mm(w)))) for w in ("10", "10.1")] == [2, 0]
    bowed = deck(polygon([(0, 0), (100, 0), (100, 60, -0.2), (0, 60)]))
    (tab,) = tab_places(bowed, Tabs(count=q(1)))
    start = math.atan2(-120, 50)
    for x, y, along in ((tab.run.x0, tab.run.y0, 3.0), (tab.run.x1, tab.run.y1, 8.0)):
        assert (x, y) == pytest.approx((50 + 130 * math.cos(start - along / 130), 180 + 130 * math.sin(start - along / 130)))
    assert tab.run.bulge == pytest.approx(-math.tan(5 / 130 / 4))


@pytest.mark.parametrize(("land", "width"), [(2.39, 5.0), (2.41, 2.01), (5.39, 4.99), (5.5, 5.0)])
def test_width_of_a_tab_on_a_tip(land: float, width: float) -> None:
    """0.2 stay free at either end of a tip; a bridge under 2 is none (common practice, no source): the usual 5 is then said to be too wide."""
    half, root = land / 2 / 50, 40.0
    tip = [(50 * math.cos(t), 50 * math.sin(t)) for t in (-half, half)]
    edge = Contour((Vertex(*tip[0], math.tan(half / 2)), Vertex(*tip[1]), Vertex(0, root), Vertex(-root, 0), Vertex(0, -root)))
    part = deck(edge, kind="gear")
    assert longest_run_mm(part) == pytest.approx(land - 0.4) and width_mm(part, Tabs(count=q(2))) == pytest.approx(width, abs=1e-6)
    assert len(tab_places(part, Tabs(count=q(1)))) == (1 if width < 5.0 or land > 5.4 else 0)


def test_tabs_that_are_refused_say_by_how_much() -> None:
    made = design((gear("hub", 16, (100, 100), drive=True, tabs=Tabs(count=q(4), width=mm(8))), gear("free", 30, (300, 100))))
    derived, parts = solve(made), parts_of(made)
    state = next(item for item in derived.train.gears if item.id == "hub")
    found = refusal(made, parts["hub"])
    assert found is not None and (found.part, found.asked_mm, found.placed) == ("hub", 8.0, 0)
    assert found.tip_land_mm == pytest.approx(state.geometry.tip_land_mm, abs=1e-3)
    assert found.longest_mm == pytest.approx(state.geometry.tip_land_mm - 0.4, abs=1e-3) and refusal(made, parts["free"]) is None


def test_moves_of_a_tab() -> None:
    tab = TabPlace(Segment(1, 2, 4, 6, 0.3), 5.0)
    assert tab.moved(10, -20) == TabPlace(Segment(11, -18, 14, -14, 0.3), 5.0)
    assert tab.mirrored_x(5) == TabPlace(Segment(6, 6, 9, 2, 0.3), 5.0)
    run = tab.turned(math.pi / 2).run
    assert (run.x0, run.y0, run.x1, run.y1, run.bulge) == pytest.approx((-2, 1, -6, 4, 0.3))


def cut(operation: Any, face: Any, depth: float | None, shape: Any) -> Feature:
    return Feature(operation, face, depth, shape, "t", "b")


def test_cuts_from_both_faces() -> None:
    bore, wide = cut("bore", "topside", None, Round(5, 6, 9)), cut("bore", "topside", None, Round(5, 6, 14))
    below, above = cut("counterbore", "underside", 5.0, Round(5, 6, 18)), cut("counterbore", "topside", 5.0, Round(5, 6, 17))
    deep, off = cut("counterbore", "underside", 3.0, Round(5, 6, 30)), cut("counterbore", "topside", 5.0, Round(5.001, 6, 20))
    square = cut("pocket", "topside", 5.0, rectangle(-4, -2, 18, 16))
    part = deck(rectangle(0, 0, 90, 60), features=(wide, bore, deep, below, above, off, square), datum="underside")
    # Cut through from the datum face, the underside: what comes from the topside is the other.
    assert _face(part, bore) == "underside" and _face(part, below) == "underside" and _face(part, above) == "topside"
    assert _pair(part, (5, 6), 8.0, 16.0) == (bore, square) and _pair(part, (5, 6), 9.5, 17.0) == (wide, above)
    flipped = replace(part, datum="topside")
    assert _pair(flipped, (5, 6), 8.0, 17.5) == (bore, below) and _pair(flipped, (5, 6), 8.0, 18.5) == (bore, deep)
    assert _pair(flipped, (5, 6), 8.0, 31.0) is None and _pair(flipped, (5, 6), 15.0, 17.5) is None and _pair(flipped, (7, 6), 8, 9) is None
    assert _half_mm(bore, (5, 6)) == 4.5 and _half_mm(square, (5, 6)) == 8.0 and _half_mm(square, (4, 6)) == 8.0
    assert _about(square, (5, 6)) and not _about(square, (5, 6.001)) and not _about(off, (5, 6)) and _about(off, (5.00105, 6))
    assert not _about(cut("engrave", "topside", 1.0, Round(5, 6, 2)), (5, 6))
    assert not _about(cut("opening", "topside", None, rectangle(-4, -2, 18, 16)), (5, 6)) and not _about(replace(square, shape=Stroke(4, 6, 6, 6)), (5, 6))


def test_how_far_a_second_face_lies_off() -> None:
    # A flip doubles 0.15, and dowels with 0.1 of slide shift by half of it.
    assert flip_wander_mm(0.15) == pytest.approx(0.35) and flip_wander_mm(0.0) == pytest.approx(0.05)
    assert _nut(DriveNut(hardware=TEE, side="above"), 8.0) == (10.0, 22.0)
    assert _nut(DriveNut(hardware=JAM, side="above"), 8.0) == (8.0, 13.0)


def test_work_areas() -> None:
    # A box that may only be turned a quarter changes its sides.
    part = deck(rectangle(3, 4, 50, 20))
    assert boxes_of(part, (0.0, 180.0)) == {(50, 20)} and boxes_of(part, (90.0, 270.0)) == {(20, 50)}
    assert boxes_of(part, (0.0, 90.0)) == {(50, 20), (20, 50)} and boxes_of(part, (0.0, 90.0), 33.0) == {(33, 33)}
    stock = Stock(100, 60, None, False)
    assert fits({(80, 40)}, stock, 10) and not fits({(80.1, 40)}, stock, 10) and not fits({(80, 40.1)}, stock, 10)
    assert not fits({(40, 80)}, stock, 10) and fits({(40, 80), (70, 30)}, stock, 10) and not fits((), stock, 10)
    machine = Machine(name=Ref("m"), work_area_width=Quantity(Fraction(600), "mm"), work_area_height=Quantity(Fraction(400), "mm"))
    assert area_of(machine) == (600, 400)
    # Lying along the sheet the area gives one panel of 600 by 400; across it two of 400 by 500: more of the sheet, unless that bars a part.
    sheet = Stock(900, 500, 3, False)
    across, along = cut_down(sheet, machine, [], 10), cut_down(sheet, machine, [{(560, 300)}], 10)
    assert (across.width_mm, across.height_mm, across.per_sheet, across.count) == (400, 500, 2, 6)
    assert (along.width_mm, along.height_mm, along.per_sheet, along.count, along.cut_from_mm) == (600, 400, 1, 3, (900, 500))
    assert cut_down(Stock(600, 400, None, True), machine, [], 10) == Stock(600, 400, None, True)
    panels = [Stock(400, 600, None, False, 3)] * 3
    assert [whole_sheets(panels + more) for more in ([], panels[:1], [Stock(400, 600, None, False, 2)], [Stock(9, 9, 1, True)])] == [1, 2, 2, 1]
    made = design((gear("hub", 20, (0, 0), drive=True, machine=Ref("m")), gear("nw", 20, (90, 0), machine=Ref("bare"))))
    assert machines_of(made.model_copy(update={"machines": (machine, Machine(name=Ref("bare")))})) == {"hub": machine}


ANGLE = ((0, 0), (40, 0), (40, 15), (15, 15), (15, 30), (0, 30))


@pytest.mark.parametrize(
    ("point", "within", "away"),
    [((5, 5), True, 5), ((20, 20), False, 5), ((43, 19), False, 5), ((-3, -4), False, 5), ((14, 20), True, 1), ((30, 14), True, 1), ((15, 40), False, 10)],
)
def test_points_and_discs_beside_an_angle(point: tuple[float, float], within: bool, away: float) -> None:
    assert inside(point, ANGLE) == within and inside(point, ANGLE[::-1]) == within and to_edge_mm(point, ANGLE) == pytest.approx(away)
    assert disc_gap_mm(point, 2.0, polygon(ANGLE)) == pytest.approx((-away if within else away) - 2.0)
    assert to_edge_mm((5, 0), ((0, 0), (0, 0), (3, 0))) == 2.0


@pytest.mark.parametrize(
    ("other", "gap"),
    [
        # The deepest corners: (37, 5) is 3 from the end, (8, 9) 8 from the left; of the angle (15, 30) is 75 from the left of the last.
        (rectangle(43, 19, 9, 9), 5.0), (rectangle(20, 18, 9, 9), 3.0), (rectangle(37, 2, 9, 3), -3.0), (rectangle(3, 4, 5, 5), -8.0),
        # Only edges cross: a bar over the upright leg, whose boxes' middle lies 2 deep in it.
        (rectangle(-9, 18, 33, 4), -2.0), (rectangle(-60, -50, 200, 200), -75.0),
    ],
)  # fmt: skip
def test_plates_beside_an_angle(other: Contour, gap: float) -> None:
    assert plates_gap_mm(polygon(ANGLE), other) == pytest.approx(gap) and plates_gap_mm(other, polygon(ANGLE)) == pytest.approx(gap)


def test_edges_that_only_cross_overlap_by_a_hair() -> None:
    # Two thin bars crossed over the notch of an angle: no corner in the other, nor the middle of what their boxes share.
    bar = polygon([(10, 34), (44, 10), (45, 11), (11, 35)])
    assert plates_gap_mm(polygon(ANGLE), bar) == pytest.approx(-0.01)


def solid(x: float, y: float, radius: float, plate: Contour | None = None) -> Solid:
    return Solid("gear", "p", "s", x, y, radius, 0.0, 1.0, plate=plate)


def test_gaps_and_neighbours() -> None:
    disc, plate = solid(0, 0, 5), solid(20, 0, 6, rectangle(16, -4, 8, 8))
    assert (gap_mm(disc, solid(6, 8, 3)), gap_mm(disc, plate), gap_mm(plate, disc)) == pytest.approx((2, 11, 11))
    assert gap_mm(plate, solid(0, 0, 6, rectangle(0, -4, 9, 8))) == pytest.approx(7)
    # Boxes of 5 and 3 within a margin of 2 of one another: nearer than 10 along both axes.
    solids = [solid(9.9, 9.9, 3), solid(10.1, 0, 3), solid(0, -10.1, 3), solid(-9.9, 0, 3), solid(0, 0, 9000)]
    assert list(SolidGrid(solids, 2.0).near(disc)) == [solids[0], solids[3], solids[4]]
    assert list(SolidGrid(solids, 2.0).near(solid(5000, 5000, 9000))) == solids and list(SolidGrid((), 2.0).near(disc)) == []


def test_twist_and_cross_bending_of_a_plate() -> None:
    """Three corners held and the fourth pushed: w = P a b/(4 D) by the energy of pure twist, D = G t³/12."""
    bending = sheet_stiffness(9000.0, 6000.0, 600.0, 12.0)
    assert (bending.x, bending.y, bending.coupling, bending.twisting) == (9000 * 144, 6000 * 144, 0.0, 600 * 144)
    (sag,) = plate_sags_mm(400, 300, bending, [(0, 0), (400, 0), (0, 300)], [([(20.0, 400, 300)], (400, 300))])
    assert abs(sag) == pytest.approx(20.0 * 400 * 300 / (4 * 600 * 144), rel=0.01)
    # A narrow strip free to curl across bends as with D (1 − 0.3²) (Poisson's effect): F L³/48 over that and its width.
    strip = Stiffness(1e6, 1e6, 0.3e6, 0.35e6)
    (sag,) = plate_sags_mm(1000, 40, strip, [(0, 0), (1000, 0), (0, 40), (1000, 40)], [([(5.0, 500, y) for y in (4, 12, 20, 28, 36)], (500, 20))])
    assert sag == pytest.approx(25.0 * 1000**3 / (48 * 1e6 * 0.91 * 40), rel=0.015)
