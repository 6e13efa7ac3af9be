"""Small helpers of solving and checking, function by function: rooms in boards, what lies beyond, stops, spanners, rings, groups. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import BOLT, M8, mm
from tests.designs_feet import LARGE_WASHER, NUT, TEE, crank

from trivet.model.base import Band
from trivet.model.train import DriveNut
from trivet.record import replace
from trivet.solve import (
    beyond,
    board_rooms,
    drive_stop,
    hex_pocket,
    leaning_gears,
    limit_words,
    placement,
    ring_circle,
    shaft_joints,
    spanner,
)
from trivet.solve.board_holes import BoardPlan
from trivet.solve.board_levels import BoardZ
from trivet.solve.contour_shapes import rectangle
from trivet.solve.derived import Limit
from trivet.solve.feature import Round
from trivet.solve.solid import Solid
from trivet.source import LibraryRow, SourceFile, Span

FILE = SourceFile("f.trivet", "x" * 100)
BOARD = rectangle(0.0, 0.0, 200.0, 100.0)
PLACE = BoardZ(-60.0, -42.0)


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def at(start: int) -> Span:
    return Span(FILE, start, start + 1)


def solid(kind: Any = "gear", x: float = 50.0, radius: float = 20.0, low: float = -50.0, high: float = -30.0, **facts: Any) -> Solid:
    return Solid(kind, "west", "west", x, 50.0, radius, low, high, **facts)


def cutout(x: float, diameter: float, depth: float | None, closed: bool = False) -> board_rooms.Cutout:
    feature: Any = None
    return board_rooms.Cutout(feature, Round(x, 50.0, diameter), depth, closed)


def test_room_in_a_cut() -> None:
    assert cutout(50.0, 44.0, None).gap_mm((53.0, 54.0), 10.0) == pytest.approx(22.0 - 5.0 - 10.0)
    feature: Any = None
    slot = board_rooms.Cutout(feature, rectangle(20.0, 30.0, 60.0, 40.0), None, False)
    assert slot.gap_mm((50.0, 50.0), 12.0) == pytest.approx(8.0) and slot.gap_mm((50.0, 75.0), 2.0) == pytest.approx(-7.0)


@pytest.mark.parametrize(
    ("item", "cuts", "struck"),
    [
        (solid(low=-41.5), [], None),  # half a millimetre over the topside is enough
        (solid(low=-41.6), [], (None, 0.4)),
        (solid(high=-60.0, low=-70.0), [], None),  # all of it below
        (solid(high=-59.9, low=-70.0), [], (None, -28.0)),
        (solid(x=221.0), [], None), (solid(x=220.9), [], (None, -8.0)),  # 1 beside the board
        (solid(), [cutout(50.0, 42.0, 9.0)], None),  # 1 round it, floor at -51
        (solid(low=-50.5), [cutout(50.0, 42.0, 9.0)], None),
        (solid(low=-50.6), [cutout(50.0, 42.0, 9.0)], (None, 0.4)),
        (solid(), [cutout(50.0, 41.8, 9.0)], (0.9, None)), (solid(), [cutout(50.0, 41.8, None)], (0.9, None)),
        (solid(low=-59.0), [cutout(50.0, 42.0, None)], None),
        (solid(), [cutout(120.0, 60.0, None)], (None, -8.0)),  # a cut beside its axis is none of its own
        (solid(), [cutout(50.0, 30.0, 9.0), cutout(50.0, 41.0, 9.0)], (0.5, None)),  # the better of two
        (solid(), [cutout(50.0, 41.0, 9.0), cutout(50.0, 30.0, 9.0)], (0.5, None)),
        (solid("nut", low=-41.99), [], None), (solid("nut", low=-41.995), [], (None, 0.005)),
        (solid("nut"), [cutout(50.0, 40.02, 8.01)], None), (solid("nut"), [cutout(50.0, 40.01, 8.01)], (0.005, None)),
    ],
)  # fmt: skip
def test_what_strikes_a_lower_board(item: Solid, cuts: list[board_rooms.Cutout], struck: tuple[float | None, float | None] | None) -> None:
    found = board_rooms._strike(item, "base", PLACE, 0.0, cuts, BOARD)
    if struck is None or found is None:
        assert found is struck
        return
    assert (found.radial_mm, found.axial_mm) == tuple(None if v is None else pytest.approx(v, abs=1e-6) for v in struck)


def test_a_gear_that_comes_down_strikes() -> None:
    down = solid(low=-35.0, high=-20.0, moves=True)
    assert [board_rooms._strike(down, "base", PLACE, travel, [], BOARD) is None for travel in (6.5, 6.6)] == [True, False]


def test_how_bad_a_strike_is() -> None:
    bad = [board_rooms._badness(board_rooms.Strike(solid(), "base", *short, None)) for short in ((0.5, None), (None, -2.0), (-3.0, 0.2), (None, None))]
    assert bad == [-0.5, 2.0, 3.0, math.inf]


def test_pockets_without_a_way_out() -> None:
    edge = BOARD.points(0.05)
    assert board_rooms._closed(cutout(50.0, 44.0, 9.0), [], edge) and not board_rooms._closed(cutout(50.0, 44.0, None), [], edge)
    assert not board_rooms._closed(cutout(15.0, 44.0, 9.0), [], edge) and not board_rooms._closed(cutout(22.0, 44.0, 9.0), [], edge)
    # A hole through its floor, one beside it, a pocket in it.
    others = (cutout(60.0, 8.0, None), cutout(73.0, 8.0, None), cutout(60.0, 8.0, 12.0))
    assert [board_rooms._closed(cutout(50.0, 44.0, 9.0), [other], edge) for other in others] == [False, True, True]
    feature: Any = None
    shapes = (rectangle(20.0, 20.0, 50.0, 50.0), rectangle(-1.0, 20.0, 50.0, 50.0))
    assert [board_rooms._closed(board_rooms.Cutout(feature, shape, 9.0, False), [], edge) for shape in shapes] == [True, False]
    assert board_rooms._middle(shapes[0]) == (45.0, 45.0)


def test_boards_that_stop_what_goes_up() -> None:
    plan = BoardPlan("base", 0.0, 18.0, BOARD, (Round(50.0, 50.0, 50.0),), (rectangle(100.0, 20.0, 60.0, 60.0),))
    places = ((50.0, 25.0), (50.0, 25.1), (53.0, 22.0), (47.0, 22.1), (130.0, 30.0), (130.0, 30.2), (131.0, 29.5), (221.0, 20.0), (219.9, 20.0))
    stopped = [plan.stops(solid(x=x, radius=radius)) for x, radius in places]
    assert stopped == [False, True, False, True, False, True, True, False, True]


def limit(end: Any, cause: str, extension: float, then: str, hard: bool = True) -> Limit:
    return Limit(end, cause, cause, extension, extension, ("corner.nw",), hard, then)


def lifted(*limits: Limit, **facts: Any) -> Any:
    lift = {"travel_mm": 20.0, "height_min_mm": 42.0, "height_max_mm": 62.0, "per_turn_mm": 1.25, "turns_for_travel": 16.0, "raises_when": "clockwise"}
    feet = (named(id="corner.nw", height_at_zero_mm=40.0),)
    return named(lift=named(**(lift | facts), limits=limits), feet=feet)


LIMITS = (
    limit("most", "teeth_part", 24.5, limit_words.THEN["teeth_part"]),
    limit("most", "thread_leaves_insert", 23.0, limit_words.THEN["thread_leaves_insert"]),
    limit("least", "gear_meets_board", 1.5, limit_words.THEN["gear_meets_board"]),
    limit("least", "bench", 1.75, limit_words.THEN["bench"]),
    limit("least", "keeper", 0.0, "", False),
)


def test_what_comes_past_the_ends() -> None:
    found = beyond.beyond_of(lifted(*LIMITS))
    # Heights 40 and on: 0.25 and 0.5 below 42; 1 and 2.5 over 62.
    assert [(item.cause, item.left_mm, item.turns) for item in found] == [
        ("bench", 0.25, 0.2), ("gear_meets_board", 0.5, 0.4), ("thread_leaves_insert", 1.0, 0.8), ("teeth_part", 2.5, 2.0),
    ]  # fmt: skip
    assert [item.breaks for item in found] == [False, True, True, True]
    assert found[0].restores == "turning back lifts it off" and found[1].happens == "the gear jams against the board and teeth can break"
    passed = beyond.beyond_of(lifted(limit("least", "bench", 2.5, "x; y"), limit("most", "bench", 21.0, "x; y")))
    assert [item.left_mm for item in passed] == [0.0, 0.0]
    assert beyond.beyond_of(lifted(*LIMITS, travel_mm=0.0)) == () and beyond.beyond_of(named(lift=None)) == ()
    least, most = (beyond.first_beyond(lifted(*LIMITS), end) for end in ("least", "most"))
    assert least is not None and most is not None and (least.cause, most.cause) == ("bench", "thread_leaves_insert")


def test_length_that_a_stop_takes() -> None:
    stop = crank(stop=True, stop_nut=NUT, stop_washer=LARGE_WASHER)
    # Two nuts of 6.8, a washer of 1.8 at most, one pitch out; a jam nut is one more; 3 turns of 1.25.
    assert drive_stop.stop_parts_mm(stop) == pytest.approx(13.6 + 1.8 + 1.25)
    assert drive_stop.stop_parts_mm(crank(stop=True, stop_nut=NUT, stop_locked_by="jam_nut")) == pytest.approx(20.4 + 1.25)
    assert drive_stop.stop_parts_mm(crank(stop_washer=LARGE_WASHER)) == pytest.approx(1.8 + 1.25)
    assert drive_stop.stop_mm(stop, 3.0) == pytest.approx(3.75 + 16.65)


def test_where_a_stop_is_set() -> None:
    stop = crank(stop=True, stop_nut=NUT, stop_washer=LARGE_WASHER)
    stack = (("boards", Band(9.0, 8.0, 10.0)), ("nut", Band(6.5, 6.0, 7.0)), (drive_stop.STOP_ITEM, Band(40.0, 40.0, 40.0)))
    bolts = (named(part="other", stack=(), least_mm=1.0), named(part="crank.hub", stack=stack, least_mm=55.0))
    state: Any = named(id="crank.hub", drive=stop)

    def plan(found: Any = state, **facts: Any) -> drive_stop.StopPlan | None:
        derived = lifted(*LIMITS, **facts)
        derived.bolts = bolts
        return drive_stop.stop_plan(derived, found)

    made = plan()
    assert made is not None
    # Half of 0.2 turns at the least end, a quarter of a turn at the most end, and 16 between.
    assert (made.past_least_turns, made.past_most_turns) == pytest.approx((0.1, 0.25))
    assert (made.left_least_turns, made.left_most_turns) == pytest.approx((0.1, 0.55))
    assert (made.turns, made.window_mm, made.needed_mm) == pytest.approx((16.35, 16.35 * 1.25, 55.0))
    assert made.end_nut_mm == pytest.approx(15.5 + 16.35 * 1.25 + 6.8 + 1.8)
    assert (made.least_meets, made.most_meets) == ("end nut", "jam nut")
    other, left = plan(raises_when="anticlockwise"), plan(named(id="crank.hub", drive=crank(stop=True, stop_nut=NUT, thread=replace(M8, hand=-1))))
    assert other is not None and left is not None and other.least_meets == left.least_meets == "jam nut" and left.washer_mm == 0.0
    assert plan(travel_mm=0.0) is None and plan(named(id="crank.hub", drive=crank())) is None and plan(named(id="x", drive=stop)) is None


@pytest.mark.parametrize(
    ("height", "depth", "recess", "free"),
    [(6.8, 3.8, None, True), (6.8, 3.9, None, False), (6.8, 9.0, 19.05, True), (6.8, 9.0, 19.0, False), (6.8, 9.0, None, False)],
)
def test_spanners_that_reach(height: float, depth: float, recess: float | None, free: bool) -> None:
    # 3 of its height for an open spanner; a socket of 1.35 · 13 + 1.5.
    found = spanner.Sunk("x", "nut", 13.0, height, depth, recess, None)
    assert (found.free, found.out_mm) == (free, pytest.approx(max(height - depth, 0.0))) and found.socket_mm == pytest.approx(19.05)


@pytest.mark.parametrize(
    ("screw", "depth", "washer", "recess"),
    [
        (BOLT, 0.0, None, None), (BOLT, 5.0, None, 13.0 * 1.1547 + 1.0), (replace(BOLT, counterbore_mm=20.0), 5.0, None, 20.0),
        (replace(BOLT, counterbore_mm=15.0), 5.0, None, 13.0 * 1.1547 + 1.0), (replace(BOLT, counterbore_mm=30.0), 5.0, LARGE_WASHER, 19.0),
        (BOLT, 5.0, replace(LARGE_WASHER, outside_mm=15.0), 13.0 * 1.1547 + 1.0), (crank().bolt, 5.0, None, None),
    ],
)  # fmt: skip
def test_recess_round_a_hexagon_head(screw: Any, depth: float, washer: Any, recess: float | None) -> None:
    found = [item.recess_mm for item in spanner._head("x", screw, depth, washer, None)]
    assert found == ([] if recess is None else [pytest.approx(recess)])


def test_recess_round_a_nut() -> None:
    def recess(washer: Any = None, **facts: Any) -> list[float | None]:
        return [item.recess_mm for item in spanner._nut("x", "nut", DriveNut(**({"hardware": NUT, "side": "below", "recessed": mm(6)} | facts)), washer, None)]

    assert (recess(), recess(round=mm(24)), recess(LARGE_WASHER), recess(LARGE_WASHER, round=mm(24))) == ([None], [24.0], [19.0], [24.0])
    assert (recess(recessed=None), recess(recessed=mm(0)), recess(hardware=TEE)) == ([], [], [])


def test_hexagon_pocket() -> None:
    # A sharp corner wants 2/sqrt(3) - 1 of the radius more at the corner, sqrt(3) of that across flats; a round head wants nothing.
    sharp = 26.0 / math.sqrt(3.0)
    assert hex_pocket.hex_across_flats_mm(13.0, sharp, 2.0) == pytest.approx(13.0 + 2.0 * (2.0 - math.sqrt(3.0)))
    assert hex_pocket.hex_across_flats_mm(13.0, 99.0, 2.0) == pytest.approx(hex_pocket.hex_across_flats_mm(13.0, sharp, 2.0))
    measured = LibraryRow("my_nuts", "M8", "own", "measured")
    sizes = [hex_pocket.hex_size(13.0, 13.0, row, 4.0, 0.1).across_flats_mm for row in (measured, replace(measured, status="from_memory"), None)]
    assert sizes == pytest.approx([13.1, *[13.1 + 2.0 * (2.0 - math.sqrt(3.0))] * 2])
    assert hex_pocket.hex_size(13.0, None, measured, 4.0, 0.1).across_flats_mm == pytest.approx(sizes[1])
    assert hex_pocket.hex_across_flats_mm(13.0, 13.0, 2.0) == 13.0 and hex_pocket.hex_across_flats_mm(13.0, sharp, 0.0) == pytest.approx(13.0)


def test_circles_round_rings() -> None:
    # 13, 14, 15 encloses 84: R = abc/4A = 8.125. Equal sides c/sqrt(2).
    assert ring_circle.ring_radius_mm((13.0, 14.0, 15.0)) == pytest.approx(8.125)
    assert ring_circle.ring_radius_mm((10.0,) * 4) == pytest.approx(10.0 / math.sqrt(2.0))
    assert ring_circle.ring_radius_mm((6.0, 8.0, 6.0, 8.0)) == pytest.approx(5.0)
    assert [ring_circle.ring_radius_mm(sides) for sides in ((), (5.0, 5.0), (0.0, 0.0, 0.0), (1.0, 1.0, 1.9))] == [None] * 4
    assert ring_circle.ring_angles_rad((5.0, 10.0), 5.0) == pytest.approx((math.pi / 3.0, math.pi))


def test_two_places_of_a_gear() -> None:
    fault = placement._two_places("a", (1.0, 2.0), (4.0, 6.0), "its mesh", None, "mm")
    assert fault is not None and (fault.message, fault.kind) == ("`a` stands at (1 mm, 2 mm); its mesh puts it at (4 mm, 6 mm), 5 mm away", "two_places")
    assert placement._two_places("a", (1.0, 2.0), (1.0, 2.01), "", None, "mm") is None
    assert placement._two_places("a", (1.0, 2.0), (1.0, 2.0101), "", None, "mm") is not None


def test_lean_and_warp_of_a_gear() -> None:
    slopes = {"a": 0.01, "b": 0.02}
    gear_, other = Solid("gear", "a", "a", 10.0, 7.0, 50.0, -20.0, -2.0), Solid("nut", "b", "b", 28.0, 31.0, 5.0, -30.0, -25.0)
    still = leaning_gears._leaning(gear_, other, 0.5, slopes)
    # 30 apart: the gear reaches 35 from its axis; 2 in 150 of warp.
    assert (still.leans_mm, still.warps_mm) == pytest.approx((0.35, 35.0 * 2.0 / 150.0))
    assert (still.takes_mm, still.short_mm) == pytest.approx((0.35 + 7.0 / 15.0, 0.35 + 7.0 / 15.0 - 0.5))
    assert leaning_gears._leaning(gear_, replace(other, moves=True), 0.5, slopes).leans_mm == pytest.approx(0.35 + 5.0 * 0.02)
    far = replace(other, x_mm=64.0, y_mm=7.0, radius_mm=5.0, moves=True)
    assert leaning_gears._leaning(gear_, far, 0.5, slopes).leans_mm == pytest.approx(0.5 + 0.1)
    assert leaning_gears._leaning(gear_, other, 0.5, {}).leans_mm == 0.0


def test_reach_of_a_recess() -> None:
    assert shaft_joints._reach_mm(Round(0.0, 0.0, 24.0)) == 12.0 and shaft_joints._reach_mm("x") == 0.0
    assert shaft_joints._reach_mm(rectangle(-3.0, -4.0, 6.0, 8.0)) == pytest.approx(5.0)
