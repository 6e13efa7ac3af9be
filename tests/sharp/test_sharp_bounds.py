"""What bounds one foot at one combination, function by function: each sum is written out. Lengths mm.

The riser's parts: deck 18 (17 to 19), gears 10 (9 to 11), screws of 30 with a head of 5.3, its pocket 5.8 deep, a dome of 3.
"""

from __future__ import annotations

from functools import cache
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import mm
from tests.designs_feet import CAP, HEX, captured, hex_screw, riding, riser, sliding

from trivet.model.base import Band
from trivet.model.foot import Guide
from trivet.model.hardware import ThreadLength
from trivet.record import replace
from trivet.solve.board_levels import boards_at
from trivet.solve.corner import MEAN, Corner
from trivet.solve.fixed_gear import FixedGear
from trivet.solve.foot_captured_nut import nut_zone
from trivet.solve.foot_case import FootCase, FootSpec, LowPoint, bench_bound, insert_bounds, shank_bound, tip_bound
from trivet.solve.foot_length import foot_bolt
from trivet.solve.foot_riding import gear_interval_mm, pocket_mm, proud_mm, tilt_rad
from trivet.solve.foot_sliding_hex import post_wider, socket_mm
from trivet.solve.solve import solve
from trivet.solve.thread_zone import ThreadZone


@cache
def parts() -> tuple[Any, Any]:
    made = riser(riding(), Band(18.0, 17.0, 19.0), Band(10.0, 9.0, 11.0))
    return made, {state.id: state for state in solve(made).train.gears}


def spec_of(foot: Any, length: float = 30.0, pocket: float = 5.8, drop: float = 3.0) -> FootSpec:
    _, gears = parts()
    return FootSpec("corner.nw", foot, gears["nw"], (gears["nw"], gears["west"]), length, pocket, drop)


def test_bounds_of_a_foot() -> None:
    spec, zone = spec_of(riding()), ThreadZone(1.0, 12.0, 0.0, 15.0)
    tip = tip_bound(spec, -12.0, 18.0, "topside", "deck")
    assert (tip.end, tip.cause, tip.at_mm, tip.hard, tip.amount_mm) == ("least", "tip_through", pytest.approx(0.5), True, 0.5)
    assert tip_bound(spec, -12.0, 18.0, "underside", "top").cause == "tip_meets_board"
    assert bench_bound(-20.0, None) == ()
    assert [(b.at_mm, b.party) for b in bench_bound(-20.0, LowPoint(-21.5, "it", "bench_nut"))] == [(pytest.approx(1.5), "it")]
    # Tip at 18; 8 of thread in comfort, a pitch at the last, over the live thread's low end at 1.
    found = [(b.cause, b.at_mm, b.hard, b.amount_mm) for b in insert_bounds(spec, -12.0, zone)]
    assert found == [("shank_in_insert", -13.0, True, 0.0), ("thread_leaves_insert", 9.0, False, 8.0), ("thread_leaves_insert", 15.75, True, 1.25)]
    assert [b.amount_mm for b in insert_bounds(spec, -12.0, ThreadZone(1.0, 2.0, 0.0, 3.0))] == [0.0, 1.0, 1.0]
    half = spec_of(riding(screw=hex_screw(threaded=ThreadLength(full=False))))
    assert (half.threaded_mm, shank_bound(half, -12.0, zone, "x").at_mm) == (22.0, pytest.approx(-12.0 + 8.0 - 1.0))


def test_feet_that_have_what_a_stroke_needs() -> None:
    assert spec_of(riding()).complete and spec_of(captured()).complete and spec_of(sliding()).complete
    bare = riding().model_copy(update={"insert": None})
    lacking = (bare, captured(nut=None), sliding(socket_depth=None), sliding(screw=None))
    assert [spec_of(foot).complete for foot in lacking] == [False] * 4
    assert not spec_of(riding(), length=0.0).complete


@pytest.mark.parametrize(
    ("pocket", "face", "depth", "low"),
    [(0.0, "underside", 1, -20.0), (0.0, "topside", 1, -8.8), (8.0, "underside", 1, -18.6), (8.0, "topside", -1, -9.8)],
)
def test_where_a_captured_nut_lies(pocket: float, face: str, depth: int, low: float) -> None:
    # Gear from -20 to -2, nut 6.8 high, depths within 0.2.
    world: Any = SimpleNamespace(fixed={"nw": FixedGear(-20.0, -2.0, -20.0, -2.0)}, design=parts()[0])
    zone = nut_zone(spec_of(captured(nut_pocket=face), pocket=pocket), world, Corner(1, 1, depth))
    assert (zone.low_mm, zone.high_mm, zone.bottom_mm, zone.top_mm) == pytest.approx((low, low + 6.8, low, low + 6.8))


def test_pockets_sockets_and_posts() -> None:
    spec = spec_of(riding())
    assert [pocket_mm(spec, Corner(1, 1, sign), 0.2) for sign in (-1, 0, 1)] == pytest.approx([5.6, 5.8, 6.0])
    assert pocket_mm(replace(spec, pocket_mm=0.0), Corner(1, 1, 1), 0.2) == 0.0
    # Head 5.45 at most and dome 3 less pocket 5.6.
    assert proud_mm(spec, Corner(1, 1, -1, 1), 0.2) == pytest.approx(2.85)
    assert proud_mm(replace(spec, pocket_mm=9.0), MEAN, 0.2) == 0.0
    world: Any = SimpleNamespace(fixed={"nw": FixedGear(-20.0, -2.0, 0.0, 0.0)}, design=parts()[0])
    assert [socket_mm(spec_of(sliding()), world, Corner(1, 1, sign)) for sign in (-1, 1)] == pytest.approx([13.8, 14.2])
    thin: Any = SimpleNamespace(fixed={"nw": FixedGear(-12.0, -2.0, 0.0, 0.0)}, design=parts()[0])
    assert socket_mm(spec_of(sliding()), thin, MEAN) == pytest.approx(10.0)
    post = sliding().pad.model_copy(update={"diameter": mm(13)})
    assert [post_wider(spec_of(sliding(pad=post)), head) for head in (HEX, CAP)] == [False, True]


def test_lean_of_a_guided_screw() -> None:
    world: Any = SimpleNamespace(design=parts()[0])
    assert tilt_rad(spec_of(riding()), world) == pytest.approx(0.00872664626)  # 0.5 deg
    assert tilt_rad(spec_of(riding(guide=Guide(clearance=mm("0.1"), length=mm(20)))), world) == pytest.approx(0.005, rel=1e-4)
    assert tilt_rad(spec_of(riding(guide=Guide(clearance=mm(1), length=mm(20)))), world) == pytest.approx(0.00872664626)


def test_second_gear_of_a_riding_foot_hangs_under_the_first() -> None:
    made, _ = parts()
    world: Any = SimpleNamespace(boards=boards_at(made, 0), corner=Corner(0, 1))
    assert gear_interval_mm(spec_of(riding()), world, "nw", 3.0) == (-14.0, -3.0)
    assert gear_interval_mm(spec_of(riding()), world, "west", 3.0) == (-25.0, -14.0)


@pytest.mark.parametrize(
    ("foot", "length", "fits", "buy", "cut"),
    [
        (riding(), 30.0, True, 30.0, None), (riding(), 25.0, True, 25.0, None), (riding(), 24.0, False, 25.0, 24.0),
        (riding(), 32.5, True, 35.0, 32.5), (riding(), 33.0, False, 35.0, 33.0), (captured(), 30.0, True, None, 30.0),
    ],
)  # fmt: skip
def test_what_to_buy_for_a_foot(foot: Any, length: float, fits: bool, buy: float | None, cut: float | None) -> None:
    # Thread from 2, 8 of it filled, 3 of extension, bearing at -12: 25 at least; 18 - 0.5 + 3 + 12 at most. The other is looser.
    cases = [FootCase(-12.0, -20.0, ThreadZone(2.0, 13.0, 0.0, 15.0), (), 18.0), FootCase(-12.0, -20.0, ThreadZone(1.0, 12.0, 0.0, 15.0), (), 18.0)]
    found = foot_bolt(spec_of(foot, length), cases, [18.0, 19.0], [3.0, 3.0], "mm")
    assert (found.least_mm, found.most_mm) == pytest.approx((25.0, 32.5))
    assert (found.fits, found.buy_mm, found.cut_to_mm) == (fits, buy, cut)
