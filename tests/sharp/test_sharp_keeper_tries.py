"""A keeper with each of the screws that may hold it: depths, lengths, counts and what stated places lack; sums written out. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import mm, q
from tests.designs_feet import PAN, ST6, hex_screw

from trivet.model.base import Band, Ref
from trivet.model.base import Point as Step
from trivet.model.foot import Keeper
from trivet.model.hardware import Screw
from trivet.model.keeper import KeeperScrews, StandOff
from trivet.model.outline import Outline
from trivet.record import replace
from trivet.solve import keeper_holds
from trivet.solve.keeper_places import Plate, _best_of_each_way, _corners, _round_the_axis, _Spot, _spots, fault_at
from trivet.solve.keeper_state import KeeperState
from trivet.solve.solid import Solid

PLATE = Outline("rectangle", 170.0, 120.0)
SOLID = Solid("keeper", "corner.nw.keeper", "nw", 200.0, 150.0, 104.0, -38.0, -20.0, plate=None)
LONG = hex_screw(ST6, PAN, stock=(45.0,))
SLEEVE = StandOff(form="sleeve", diameter=mm(8))


def named(text: str) -> Any:
    return Of(text=text)


def screws(*kinds: Screw, **facts: Any) -> KeeperScrews:
    return KeeperScrews(screws=kinds or (LONG,), stand_offs=(SLEEVE,) * max(1, len(kinds)), **facts)


def tried(held: KeeperScrews, high: float = -20.0, board: float = 18.0, cutter: float = 4.0, near: Any = None) -> tuple[list[KeeperState], list[Any]]:
    """Of a keeper between 17 and 19 thick under a board that varies as much; its gears reach 50 and 60."""
    asked: list[Any] = []

    def near_it(*given: Any) -> Any:
        asked.append(given)
        return near or (lambda point: "")

    sheets = tuple(Of(name=named(name), thickness=Band(size, size - 1.0, size + 1.0)) for name, size in (("thin", 6.0), ("ply", 18.0)))
    design: Any = Of(sheets=sheets, shop=Of(depth_mm=0.2), have=(), units="mm")
    gears = [Of(id="nw", shaft="", tip_radius_mm=50.0), Of(id="sw", shaft="", tip_radius_mm=90.0), Of(id="under", shaft="nw", tip_radius_mm=60.0)]
    state = Of(gear=Of(under=named("deck")), cutter_diameter_mm=cutter)
    outline, thick = Outline("rectangle", 400.0, 300.0), Band(board, board - 1.0, board + 1.0)
    placed = tuple((Of(name=named(name), outline=outline, x_mm=0.0, y_mm=0.0), z) for name, z in (("lid", 40.0), ("deck", 0.0)))
    boards = tuple(Of(board=item, z_under_mm=z, thickness=thick) for item, z in placed)
    derived: Any = Of(train=Of(gear=lambda name: state, gears=gears), boards=boards)
    foot: Any = Of(id="corner.nw", gear="nw", x_mm=200.0, y_mm=150.0, foot=Of(keeper=Keeper(stock=Ref("ply"), outline=PLATE, screws=held)))
    obstacles: Any = Of(near=near_it)
    return list(keeper_holds._tried(design, derived, foot, replace(SOLID, high_mm=high), obstacles)), asked


def test_what_follows_of_one_screw() -> None:
    """Head 5.5 deep: from 19 - 5.3 + 20 + 1.5 · 6.25 = 43.075 to 17 - 5.7 + 20 + 17 - 1 = 47.3; of 45, 1.925 more than needed."""
    ((found,), ((solid, body, board, depth),)) = tried(screws())
    assert (found.id, found.foot, found.gear, found.board, found.gears) == ("corner.nw.keeper", "corner.nw", "nw", "deck", ("nw", "under"))
    assert (found.height_mm, found.least_mm, found.most_mm, found.length_mm, found.recess_mm) == pytest.approx((20.0, 43.075, 47.3, 45.0, 5.5))
    assert found.fits and found.holds and found.in_wood_mm == pytest.approx(1.925 + 9.375)
    # At its deepest 45 less 17 - 5.7 + 20 lies in the wood: 13.7, up to the next half.
    assert found.pilot_depth_mm == depth == 14.0
    assert (found.clearance_mm, found.recess_diameter_mm, found.pilot_mm, found.tip_mm) == pytest.approx((6.75, 13.0, 4.7, 60.0))
    assert (found.wanted, len(found.places), found.lacking, found.faults, len(found.assumed)) == (4, 4, "", (), 3)
    # A stand-off of 8 with its screw, from the keeper's underside to the end of its pilot hole.
    assert (solid.high_mm, board) == (-20.0, "deck")
    assert body == replace(SOLID, kind="stand_off", radius_mm=4.0, high_mm=14.0)
    for x, y in found.places:
        assert abs(abs(x - 200.0) - 76.5) <= 8.0 and abs(abs(y - 150.0) - 51.5) <= 8.0, "near the plate's corners, 6.5 of recess and 2 of wood in"


@pytest.mark.parametrize(
    ("facts", "given", "wanted"),
    [
        # No half is lost to rounding, and half a millimetre is left over the hole.
        ({"length": mm("44.8")}, {}, {"pilot_depth_mm": 13.5}), ({"length": mm("44.81")}, {}, {"pilot_depth_mm": 14.0}),
        ({"length": mm("45.3")}, {"board": 12.0}, {"pilot_depth_mm": 11.5}), ({"length": mm("45.3")}, {"board": 14.0}, {"pilot_depth_mm": 13.5}),
        ({}, {"high": -21.0}, {"length_mm": 45.0, "pilot_depth_mm": 13.0}),
        # With its head 8 deep 45 fits at 24: 45 less 17 - 8.2 + 24. At 30 none does: as short as it may be, 53.075 less 17 - 5.7 + 30.
        ({}, {"high": -24.0}, {"length_mm": 45.0, "recess_mm": 8.0, "pilot_depth_mm": 12.5}),
        ({}, {"high": -30.0}, {"length_mm": None, "fits": False, "recess_mm": 5.5, "pilot_depth_mm": 12.0, "in_wood_mm": 9.375}),
        ({"length": mm(20)}, {}, {"pilot_depth_mm": 0.5, "in_wood_mm": 0.0, "fits": False}),
        ({"length": mm(36)}, {}, {"pilot_depth_mm": 5.0, "in_wood_mm": 36.0 - 43.075 + 9.375, "fits": False}),
        ({"drill": mm(5)}, {"cutter": 16.0}, {"pilot_mm": 5.0, "recess_diameter_mm": 16.0}), ({"count": q(3)}, {}, {"wanted": 3}),
        ({"places": (Step(80.0, 0.0), Step(-80.0, 0.0))}, {}, {"wanted": 2, "places": ((280.0, 150.0), (120.0, 150.0)), "lacking": ""}),
    ],
)  # fmt: skip
def test_what_follows_of_other_facts(facts: dict[str, Any], given: dict[str, Any], wanted: dict[str, Any]) -> None:
    ((found, *_), _) = tried(screws(**facts), **given)
    assert {name: getattr(found, name) for name in wanted} == {
        name: value if value is None or isinstance(value, tuple | str) else pytest.approx(value) for name, value in wanted.items()
    }


def test_screws_that_fit_before_those_that_do_not() -> None:
    short, longer = replace(LONG, standard="short", stock_mm=(20.0,)), replace(LONG, standard="longer", stock_mm=(44.0,))

    def kinds(*given: Screw) -> list[str]:
        return [item.screw.standard for item in tried(screws(*given))[0]]

    assert kinds(short, longer, LONG) == ["longer", LONG.standard] and kinds(longer, short) == ["longer"]
    assert kinds(short, replace(short, standard="shorter")) == ["short"]


def test_no_height_no_screw() -> None:
    assert tried(screws(), high=0.0)[0] == [] == tried(screws(), high=1.0)[0]
    assert len(tried(screws(), high=-0.5)[0]) == 1


def test_what_stated_places_lack() -> None:
    """Teeth to 60, 1 beside them and 4 of stand-off: from 65 on; 6.5 and 2 to the plate's edge at 85."""
    places = (Step(70.0, 0.0), Step(60.0, 0.0), Step(80.0, 0.0), Step(0.0, -51.0), Step(-70.0, 0.0))
    ((found,), _) = tried(screws(places=places), near=lambda point: "the west" if point[0] < 200.0 else "")
    assert found.faults == (("", 0.0), ("teeth", pytest.approx(5.0)), ("edge", pytest.approx(3.5)), ("teeth", pytest.approx(14.0)), ("the west", 0.0))
    assert found.places[3] == (200.0, 99.0) and tried(screws())[0][0].faults == ()


def test_what_is_in_the_way_of_all_places() -> None:
    ((found,), _) = tried(screws(), near=lambda point: "the west")
    assert (found.places, found.lacking, found.wanted, found.holds) == ((), "the west", 4, False)
    ((two,), _) = tried(screws(), near=lambda point: "" if abs(point[1] - 150.0) < 2.0 else "the west")
    assert (len(two.places), two.lacking, two.assumed[0][:8]) == (2, "", "2 screws")


KEPT, WOOD = Band(18.0, 17.0, 19.0), Band(10.0, 9.0, 11.0)


@pytest.mark.parametrize(
    ("head", "error", "keeper", "height", "facts", "wanted"),
    [
        # A head let in by less than the error: 19 + 20 + 9.375, 17 - 0.3 + 20 + 16 and 17 - 0.3. One let in by half a millimetre.
        (4.6, 0.2, KEPT, 20.0, {"recessed": mm("0.1")}, (0.1, 48.375, 52.7, 16.7, 50.0)),
        (4.6, 0.2, KEPT, 20.0, {"recessed": mm("0.5")}, (0.5, 48.075, 52.3, 16.3, 50.0)),
        # As long as it may be and as short as it may be, to the hair.
        (4.6, 0.2, KEPT, 20.0, {"length": mm("47.3")}, (5.5, 43.075, 47.3, 11.3, 47.3)),
        (4.6, 0.2, KEPT, 20.0, {"length": mm("43.075")}, (5.5, 43.075, 47.3, 11.3, 43.075)),
        # A head of whole halves: 4.5 and a half, no more.
        (4.5, 0.2, KEPT, 20.0, {}, (5.0, 43.575, 47.8, 11.8, 45.0)),
        # Of a thin keeper half stays: 4 deep leaves 9 - 4.2. Of a thick one 6: 17 - 10.5 - 0.5, no less.
        (1.0, 0.2, WOOD, 13.4, {}, (4.0, 29.975, 34.2, 4.8, 30.0)), (4.6, 0.5, KEPT, 31.6, {}, (10.5, 49.975, 53.6, 6.0, 50.0)),
    ],
)  # fmt: skip
def test_how_deep_a_head_is_let_in(
    head: float, error: float, keeper: Band, height: float, facts: dict[str, Any], wanted: tuple[float, ...]
) -> None:
    design: Any = Of(shop=Of(depth_mm=error), have=(), units="mm")
    screw = hex_screw(ST6, replace(PAN, height_mm=head, height_max_mm=head), stock=(30.0, 45.0, 50.0))
    found = keeper_holds._length(design, screws(screw, **facts), screw, keeper, height, KEPT)
    assert (found.recess, found.least, found.most, found.under_head, found.length) == pytest.approx(wanted) and found.fits


def test_the_longest_that_fits_where_none_is_ample() -> None:
    assert keeper_holds._bought((60.0, 45.0, 40.0, 42.0, 50.0), 39.5, 46.0, 4.0) == 45.0


def test_edge_of_a_round_board() -> None:
    board: Any = Of(outline=Outline("circle", 200.0, 200.0), x_mm=10.0, y_mm=20.0)
    edge = keeper_holds._edge(board)
    assert all(math.dist(at, (110.0, 120.0)) == pytest.approx(100.0) for at in edge)
    # Chords stay within 0.05 of the arc: 100 (1 - cos(pi/n)).
    middles = [((x0 + x1) / 2.0, (y0 + y1) / 2.0) for (x0, y0), (x1, y1) in zip(edge, (*edge[1:], edge[0]), strict=True)]
    assert all(0.0 < 100.0 - math.dist(at, (110.0, 120.0)) <= 0.05 for at in middles) and len(edge) < 200


@pytest.mark.parametrize(("turn", "found"), [(10.0, True), (45.0, True), (60.0, True), (85.0, True), (12.0, False), (61.6, False)])
def test_sectors_turn_by_five_degrees(turn: float, found: bool) -> None:
    """Four screws 6.43 from the axis keep 4.5 from their sectors' borders only in the middle of them, within 0.6 degrees."""
    radius = 4.5 / math.sin(math.radians(44.4))
    spots = [_Spot((float(k), 0.0), math.radians((turn + 45.0 + 90.0 * k) % 360.0), radius, 4.0) for k in range(4)]
    plate: Any = Of(apart_mm=9.0)
    assert sorted(_round_the_axis(plate, spots, 4)) == ([(float(k), 0.0) for k in range(4)] if found else [])
    # Other spots nearer a border do not take their place, whichever comes first.
    aside = [replace(item, point=(9.0, 9.0), angle=item.angle + math.radians(2.0), score=9.0) for item in spots]
    for order in ([*spots, *aside], [*aside, *spots]):
        assert (9.0, 9.0) not in _round_the_axis(plate, order, 4)


BOARD = ((0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (0.0, 200.0))
NARROW = Plate(100.0, 50.0, Outline("rectangle", 120.0, 60.0), BOARD, 20.0, 4.0, 3.0)


@pytest.mark.parametrize(
    ("width", "height", "count"),
    [(11.0, 60.0, 4), (10.0, 60.0, 0), (9.0, 60.0, 0), (60.0, 11.0, 4), (60.0, 10.0, 0), (60.0, 9.0, 0), (12.5, 60.0, 12)],
)
def test_corners_of_a_narrow_plate(width: float, height: float, count: int) -> None:
    """5 in from each side, then half a millimetre more each time, as long as anything is left."""
    assert len(list(_corners(replace(NARROW, outline=Outline("rectangle", width, height))))) == count


@pytest.mark.parametrize(("edge", "fault", "by"), [(155.0, "", 0.0), (155.5, "", 0.5), (154.999, "board", 0.001), (154.5, "board", 0.5)])
def test_five_to_the_boards_edge(edge: float, fault: str, by: float) -> None:
    board = ((0.0, 0.0), (edge, 0.0), (edge, 200.0), (0.0, 200.0))
    assert fault_at(replace(NARROW, board=board), (150.0, 50.0)) == (fault, pytest.approx(by, abs=1e-9))


def test_room_of_a_spot_counts_up_to_four() -> None:
    # Past the teeth at 25, and at the other end before 55.
    points = ((120.0, 50.0), (128.26, 50.0), (150.5, 50.0), (140.0, 50.0), (153.0, 50.0))
    found, why = _spots(NARROW, iter(points), lambda point: "the west" if point[0] == 153.0 else "")
    assert [(item.point, item.score) for item in found] == [(points[1], 3.3), (points[2], 4.0), (points[3], 4.0)] and why == "the west"
    assert [item.radius for item in found] == pytest.approx([28.26, 50.5, 40.0]) and {item.angle for item in found} == {0.0}


@pytest.mark.parametrize(
    ("first", "second", "replaced"),
    [(50.0, 50.0, False), (50.0, 50.0004, False), (50.0006, 50.0006, False), (50.0, 50.004, True), (50.004, 50.004, False), (50.0, 50.0006, True)],
)
def test_of_equal_spots_the_first(first: float, second: float, replaced: bool) -> None:
    """Equal to a thousandth of a millimetre."""
    one, other = _Spot((1.0, 1.0), 0.0, first, 4.0), _Spot((2.0, 2.0), 0.0, second, 4.0)
    assert _best_of_each_way([one, other]) == [other if replaced else one]


def around(*spots: tuple[float, ...], number: int = 2) -> list[float]:
    """Angles that are chosen, in order, of spots by (angle, radius, score), 50 and 4 unless stated; 9 apart."""
    plate: Any = Of(apart_mm=9.0)
    whole = [(*item, *(50.0, 4.0)[len(item) - 1 :]) for item in spots]
    made = [_Spot((angle, 0.0), math.radians(angle), radius, score) for angle, radius, score in whole]
    return [x for x, _ in _round_the_axis(plate, made, number)]


@pytest.mark.parametrize(
    ("spots", "chosen"),
    [
        # Halves from 0 on: of equals the one nearer to the middle at 90. The far one stands so that both leave turns alike.
        (((10.0,), (30.0,), (200.0,)), [30.0, 200.0]), (((60.0,), (100.0,), (260.0,)), [100.0, 260.0]), (((100.0,), (120.0,), (290.0,)), [100.0, 290.0]),
        # The first of turns that do as well: those at 175 deg would take 88.
        (((88.0,), (91.0,), (269.5,)), [91.0, 269.5]),
        # Of two as near to the middle the first.
        (((85.0,), (95.0,), (270.0,)), [85.0, 270.0]), (((95.0,), (85.0,), (270.0,)), [95.0, 270.0]),
        # The farther from the axis before the nearer to the middle, but for less than a thousandth.
        (((85.0, 50.0004), (91.0,), (268.0,)), [91.0, 268.0]), (((85.0, 50.004), (91.0,), (268.0,)), [85.0, 268.0]),
        # Three quarters of a turn without a screw is the most, on either side.
        (((0.0,), (90.0,)), [90.0, 0.0]), (((180.0,), (269.0,)), []), (((0.0,), (89.0,)), []), (((180.0,), (270.0,)), [180.0, 270.0]),
        # A turn of the sectors that leaves more does not end the search.
        (((0.0,), (89.0, 50.0, 3.0), (200.0, 50.0, 2.0)), [200.0, 0.0]),
    ],
)  # fmt: skip
def test_which_spots_are_chosen_of_several(spots: tuple[tuple[float, ...], ...], chosen: list[float]) -> None:
    assert around(*spots) == chosen
