"""Where and by what a keeper is held, function by function: each sum is written out. Lengths mm.

The plate of these tests is 120 by 60 round (100, 50): teeth to 20 from there, stand-offs of 4 and holes of 3 radius.
"""

from __future__ import annotations

import math
from itertools import combinations, islice
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import mm, q
from tests.designs_feet import PAN, ST6, TAPPING_STOCK, hex_screw

from trivet.model.base import Band, Ref
from trivet.model.base import Point as Place
from trivet.model.board import Counterbore, Dowel, Hole, MagnetPlace, Pocket
from trivet.model.design import Design
from trivet.model.hardware import Head, Magnet
from trivet.model.keeper import KeeperScrews, StandOff
from trivet.model.outline import Outline, Placed
from trivet.record import replace
from trivet.solve import keeper_holds, keeper_room
from trivet.solve.keeper_obstacles import _cuts, _gap_mm
from trivet.solve.keeper_places import Plate, _best_of_each_way, _corners, _rays, _round_the_axis, _Spot, fault_at, find_places

Point = tuple[float, float]
WIDE = ((0.0, 0.0), (300.0, 0.0), (300.0, 200.0), (0.0, 200.0))
PLATE = Plate(100.0, 50.0, Outline("rectangle", 120.0, 60.0), WIDE, 20.0, 4.0, 3.0)
TAPPING = hex_screw(ST6, PAN, stock=TAPPING_STOCK)


def to_x(x: float) -> tuple[Point, ...]:
    """A board's edge that ends at x."""
    return ((0.0, 0.0), (x, 0.0), (x, 200.0), (0.0, 200.0))


def test_room_round_a_screw() -> None:
    assert (PLATE.inset_mm, PLATE.apart_mm) == (5.0, 9.0)  # hole and 2 of wood; 2 · 4 + 1
    assert replace(PLATE, hole_mm=6.0).apart_mm == 14.0  # 2 · 6 + 2


@pytest.mark.parametrize(
    ("outline", "point", "away"),
    [
        (PLATE.outline, (100.0, 50.0), 30.0),
        (PLATE.outline, (155.0, 75.0), 5.0),
        (PLATE.outline, (157.0, 31.0), 3.0),
        (PLATE.outline, (165.0, 50.0), -5.0),
        (PLATE.outline, (163.0, 84.0), -5.0),  # 3 and 4 off a corner
        (Outline("rectangle", 120.0, 60.0, 10.0), (153.0, 74.0), 5.0),  # 10 less the 5 from the corner's middle (150, 70)
        (Outline("circle", 60.0, 60.0), (112.0, 66.0), 10.0),
        (Outline("slot", 100.0, 40.0), (142.0, 55.0), 7.0),  # 20 less the 13 from the end's middle (130, 50)
    ],
)
def test_distance_to_a_plates_edge(outline: Outline, point: Point, away: float) -> None:
    assert replace(PLATE, outline=outline).to_edge_mm(point) == pytest.approx(away)


@pytest.mark.parametrize(("way", "reach"), [((1.0, 0.0), 60.0), ((0.0, -1.0), 30.0), ((0.6, 0.8), 37.5), ((-0.96, 0.28), 62.5)])
def test_how_far_a_plate_reaches(way: Point, reach: float) -> None:
    assert PLATE.reach_mm(way) == pytest.approx(reach, abs=1e-5)


@pytest.mark.parametrize(
    ("plate", "point", "fault"),
    [
        (PLATE, (120.0, 50.0), ("teeth", 5.0)),  # 20 where 20 + 4 + 1 are wanted
        (PLATE, (100.0, 75.0), ("", 0.0)),
        (PLATE, (156.0, 50.0), ("edge", 1.0)),
        (PLATE, (150.0, 50.0), ("", 5.0)),
        (PLATE, (127.0, 50.0), ("", 2.0)),
        (replace(PLATE, board=to_x(159.0)), (150.0, 50.0), ("", 4.0)),  # a stand-off wants 5 at least
        (replace(PLATE, board=to_x(154.0)), (150.0, 50.0), ("board", 1.0)),
        (replace(PLATE, board=to_x(145.0)), (150.0, 50.0), ("board", 10.0)),
        (replace(PLATE, board=to_x(155.0), half_mm=6.0), (150.0, 50.0), ("board", 1.0)),
    ],
)
def test_what_a_place_lacks(plate: Plate, point: Point, fault: tuple[str, float]) -> None:
    assert fault_at(plate, point) == (fault[0], pytest.approx(fault[1], abs=1e-9))


def test_corners_and_rays_that_are_tried() -> None:
    found = list(_corners(PLATE))
    assert found[:4] == [(155.0, 75.0), (45.0, 75.0), (45.0, 25.0), (155.0, 25.0)]
    assert found[4:6] == [(154.5, 74.5), (45.5, 74.5)] and len(found) == 17 * 4
    # Half of 20 is 10: insets 5 to 9.5.
    assert len(list(_corners(replace(PLATE, outline=Outline("rectangle", 120.0, 20.0))))) == 10 * 4
    assert not list(_corners(replace(PLATE, outline=Outline("circle", 120.0, 120.0))))
    # Along x from 60 - 5 in to 20 + 4 + 1.
    rays = list(islice(_rays(PLATE), 6))
    assert [x for x, _ in rays] == pytest.approx([155.0, 149.0, 143.0, 137.0, 131.0, 125.0], abs=1e-5)
    assert {y for _, y in rays} == {50.0}
    # On a plate 44 high the reach of 22/sin less 5 leaves 25 up to 47 deg: 19 directions either way; highest at 20 deg, by a corner.
    low = list(_rays(replace(PLATE, outline=Outline("rectangle", 120.0, 44.0))))
    turn = math.radians(20.0)
    assert len(low) == 2 * 19 * 6 and min(x for x, _ in low) == pytest.approx(100.0 - 60.0 + 5.0 * math.cos(turn))
    assert max(y - 50.0 for _, y in low) == pytest.approx((60.0 / math.cos(turn) - 5.0) * math.sin(turn))


def spot(angle: float, radius: float = 50.0, score: float = 4.0) -> _Spot:
    turn = math.radians(angle)
    return _Spot((radius * math.cos(turn), radius * math.sin(turn)), turn, radius, score)


def test_one_spot_of_each_direction() -> None:
    poor, far, near, other = spot(10.0, 90.0, 3.0), spot(11.0, 60.0), spot(9.0, 40.0), spot(16.0, 40.0, 1.0)
    assert _best_of_each_way([poor, near, far, other]) == [far, other]
    assert _best_of_each_way([far, near, poor, spot(358.0)]) == [far, spot(358.0)]
    assert _best_of_each_way([spot(358.0), spot(1.0, 51.0)]) == [spot(1.0, 51.0)]  # both lie within 2.5 deg of 0


@pytest.mark.parametrize(
    ("spots", "number", "angles"),
    [
        # The sectors' borders stand 4.5 off every spot first when turned by 10 deg: 50 sin 5 deg is 4.36.
        ((0, 90, 180, 270), 4, (90, 180, 270, 360)),
        ((0, 90, 180), 4, ()),
        ((0, 120, 240), 3, (120, 240, 360)),
        ((0, 89), 2, ()),  # all within a quarter turn: nothing holds the far side
        ((0, 91), 2, (91, 360)),
    ],
)
def test_spots_round_the_axis(spots: tuple[int, ...], number: int, angles: tuple[int, ...]) -> None:
    found = _round_the_axis(PLATE, [spot(float(angle)) for angle in spots], number)
    assert found == tuple(spot(float(angle % 360)).point for angle in angles)


def test_best_spot_of_a_sector() -> None:
    rest = [spot(135.0), spot(225.0), spot(315.0)]
    poor, near, far, aside = spot(45.0, 60.0, 3.0), spot(45.0, 40.0), spot(46.0, 45.0), spot(40.0, 45.0)
    assert far.point in _round_the_axis(PLATE, [*rest, poor, near, far, aside], 4)
    # More even turns come before a place farther out, which sectors turned by 35 deg leave out.
    assert near.point in _round_the_axis(PLATE, [*rest, poor, near, aside], 4)


@pytest.mark.parametrize(
    ("outline", "count", "number"),
    [
        (Outline("rectangle", 120.0, 120.0), None, 4), (Outline("rectangle", 120.0, 60.0), None, 4), (Outline("circle", 90.0, 90.0), 3, 3),
        (Outline("rectangle", 120.0, 40.0), 2, 2), (Outline("rectangle", 120.0, 120.0), 6, 6), (Outline("rectangle", 56.0, 56.0), 4, 4),
        (Outline("rectangle", 50.0, 50.0), None, 4), (Outline("rectangle", 44.0, 44.0), None, 0),
    ],
)  # fmt: skip
def test_places_are_clear_and_apart(outline: Outline, count: int | None, number: int) -> None:
    plate = replace(PLATE, outline=outline)
    found, lacking = find_places(plate, count, lambda point: "")
    assert (len(found), lacking) == (number, "")
    assert all(fault_at(plate, point)[0] == "" for point in found)
    assert all(math.dist(one, other) >= plate.apart_mm - 1e-6 for one, other in combinations(found, 2))


def test_places_beside_what_stands_there() -> None:
    square = replace(PLATE, outline=Outline("rectangle", 120.0, 120.0))
    # Of quarters none lies in a blocked quarter for every turn, but one in a blocked half; thirds reach out of a half. In a quarter two
    # stand within a quarter turn of each other. A strip 6 wide has no room for two sectors on one side: each wants 4.5 of it.
    for blocked, number in (
        (lambda p: "the west" if p[0] < 95.0 and p[1] < 45.0 else "", 4),
        (lambda p: "the west" if p[0] < 100.0 else "", 3),
        (lambda p: "the west" if p[0] < 101.0 or p[1] < 51.0 else "", 0),
        (lambda p: "the west" if abs(p[1] - 50.0) > 3.0 else "", 2),
    ):
        found, lacking = find_places(square, None, blocked)
        assert (len(found), lacking) == (number, "" if found else "the west")
        assert not any(blocked(point) for point in found)
    assert find_places(square, 4, lambda p: "the west" if p[0] < 140.0 else "") == ((), "the west")


SHOP: Any = SimpleNamespace(shop=SimpleNamespace(depth_mm=0.2), have=(), units="mm")
BANDS = Band(18.0, 17.0, 19.0)


def screws(**facts: Any) -> KeeperScrews:
    return KeeperScrews(screws=(TAPPING,), stand_offs=(StandOff(form="sleeve", diameter=mm(8)),), **facts)


@pytest.mark.parametrize(
    ("height", "facts", "recess", "least", "most", "length"),
    [
        # Head 4.6 and 0.5 to the next half: 5.5. Least 19 - 5.3 + 20 + 1.5 · 6.25, most 17 - 5.7 + 20 + 17 - 1.
        (20.0, {}, 5.5, 43.075, 47.3, 45.0),
        (27.0, {}, 6.0, 49.575, 53.8, 50.0),  # half a millimetre deeper takes 50
        (31.0, {}, 10.0, 49.575, 53.8, 50.0),
        (32.0, {}, 5.5, 55.075, 59.3, None),  # 11 deep would leave 5.8 of wood
        (20.0, {"recessed": mm(8)}, 8.0, 40.575, 44.8, None),
        (20.0, {"length": mm(44)}, 5.5, 43.075, 47.3, 44.0),
        (20.0, {"recessed": mm(0)}, 0.0, 48.375, 53.0, 50.0),
    ],
)
def test_length_of_a_keepers_screw(
    height: float, facts: dict[str, Any], recess: float, least: float, most: float, length: float | None
) -> None:
    found = keeper_holds._length(SHOP, screws(**facts), TAPPING, BANDS, height, BANDS)
    assert (found.recess, found.seat, found.least, found.most) == pytest.approx((recess, recess, least, most))
    assert (found.length, found.fits) == (length, length is not None)
    error = 0.2 if recess else 0.0
    assert found.under_head == pytest.approx(17.0 - recess - error)
    over = Band(pytest.approx(18.0 - recess), pytest.approx(17.0 - recess - error), pytest.approx(19.0 - recess + error))
    assert found.stack == (("keeper under the head", over), ("stand-off", Band(height, height, height)))


def test_a_cone_lies_flush() -> None:
    cone = replace(TAPPING, head=Head(form="countersunk", diameter_mm=12.0, height_mm=3.5, height_max_mm=3.9))
    found = keeper_holds._length(SHOP, screws(), cone, BANDS, 16.0, BANDS)
    assert (found.recess, found.seat, found.least, found.most, found.under_head) == pytest.approx((3.9, 0.0, 44.375, 49.0, 13.1))


@pytest.mark.parametrize(
    ("least", "most", "length"),
    [(39.0, 55.0, 45.0), (39.1, 55.0, 50.0), (39.0, 44.0, 40.0), (40.0, 40.0, 40.0), (40.1, 44.9, None), (30.0, 34.0, None)],
)
def test_a_screw_with_twice_the_thread_it_needs(least: float, most: float, length: float | None) -> None:
    # 4 of diameter: 6 more than the least.
    assert keeper_holds._bought((60.0, 45.0, 40.0, 50.0), least, most, 4.0) == length


def test_drill_of_a_pilot_hole() -> None:
    # 0.75 · 6.25 = 4.6875 to a tenth, and to 12/64 in; else the core.
    assert [keeper_holds._pilot_mm(TAPPING, unit) for unit in ("mm", "in", "thou")] == pytest.approx([4.7, 25.4 * 12 / 64, 25.4 * 12 / 64])
    assert keeper_holds._pilot_mm(replace(TAPPING, thread=replace(ST6, minor_mm=4.88)), "mm") == 4.9


def test_what_is_taken_for_granted() -> None:
    usual, sleeves, corners = "4 screws", "sleeves 8 mm outside", "places near the keeper's corners, clear of the teeth"
    named = "screws ISO 4017 ST6.3, their heads let in"

    def told(found: int, **facts: Any) -> tuple[str, ...]:
        return keeper_holds._assumed(SHOP, screws(**facts), TAPPING, 8.0, found)

    assert told(0) == (f"4 {named}", sleeves, corners) and told(3)[0] == f"3 {named}"
    assert told(0, screw_stated=True) == (usual, sleeves, corners)
    assert told(2, screw_stated=True, stand_off_stated=True, count=q(2)) == (corners,)
    assert told(2, screw_stated=True, places=(Place(1.0, 2.0),)) == (sleeves,)


def test_rays_across_a_plate() -> None:
    edge = ((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0))
    assert keeper_room.reach_mm((10.0, 5.0), (1.0, 0.0), edge) == pytest.approx(30.0)
    assert keeper_room.reach_mm((10.0, 5.0), (0.0, -1.0), edge) == pytest.approx(5.0)
    assert keeper_room.reach_mm((10.0, 5.0), (0.6, 0.8), edge) == pytest.approx(15.0 / 0.8)
    assert keeper_room.reach_mm((50.0, 5.0), (1.0, 0.0), edge) == 0.0
    notched = ((0.0, 0.0), (20.0, 0.0), (20.0, 10.0), (30.0, 10.0), (30.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0))
    assert keeper_room.reach_mm((10.0, 5.0), (1.0, 0.0), notched) == pytest.approx(30.0)  # the farthest crossing


@pytest.mark.parametrize(
    ("x", "board", "fits"),
    [(157.5, 300.0, True), (157.6, 300.0, False), (150.0, 155.0, True), (150.0, 154.9, False), (150.0, 140.0, False)],
)
def test_a_stand_off_keeps_wood_round_its_screw(x: float, board: float, fits: bool) -> None:
    # 2.5 to the plate's edge at x = 160, 5 to the board's.
    plate = ((40.0, 20.0), (160.0, 20.0), (160.0, 80.0), (40.0, 80.0))
    assert keeper_room._fits((x, 50.0), plate, to_x(board)) == fits


def cut_design() -> Any:
    spot_at, into = (Placed("it.1", 30.0, 40.0),), Ref("deck")
    plain: dict[str, Any] = {"into": into, "places": spot_at}
    hole = Hole(name=Ref("a"), diameter_mm=6.0, because="", depth=mm(5), **plain)
    under = hole.model_copy(update={"face": "underside"})
    sunk = hole.model_copy(update={"counterbore": Counterbore(face="topside", diameter_mm=20.0, depth_mm=4.0)})
    through = hole.model_copy(update={"depth": None})
    magnet = MagnetPlace(
        name=Ref("m"), face="topside", disc=Magnet(8.0, 3.0), fit="push", hole_diameter_mm=8.2, hole_depth_mm=3.2, **plain
    )
    pocket = Pocket(name=Ref("p"), face="topside", outline=Outline("rectangle", 30.0, 40.0), depth=mm(7), **plain)
    dowel = Dowel(name=Ref("d"), diameter_mm=10.0, into=(("deck", "push"), ("base", "slide")), places=spot_at)
    return SimpleNamespace(
        holes=(hole, under, sunk, through),
        magnets=(magnet, magnet.model_copy(update={"face": "underside"})),
        dowels=(dowel,),
        pockets=(pocket, pocket.model_copy(update={"depth": None}), pocket.model_copy(update={"face": "underside"})),
    )


def test_cuts_that_a_stand_off_keeps_clear_of() -> None:
    design: Design = cut_design()
    found = [(board, cut.radius_mm, cut.topside_mm) for board, cut in _cuts(design)]
    holes = [("deck", 3.0, 5.0), ("deck", 3.0, None), ("deck", 10.0, None), ("deck", 3.0, None)]
    magnets = [("deck", 4.1, 3.2), ("deck", 4.1, None)]
    pockets = [("deck", 25.0, 7.0), ("deck", 25.0, None), ("deck", 25.0, None)]  # half the diagonal of 30 by 40
    assert found == [*holes, *magnets, ("deck", 5.0, None), ("base", 5.0, None), *pockets]
    cuts = [cut for _, cut in _cuts(design)]
    # 13 along x and 0 along y of the middle: 10 to a hole of 6, and to the side of a pocket 30 wide 2 inside, outside by 5 at 20.
    assert [_gap_mm(cuts[0], (43.0, 40.0)), _gap_mm(cuts[-1], (43.0, 40.0)), _gap_mm(cuts[-1], (50.0, 40.0))] == pytest.approx([10.0, -2.0, 5.0])
