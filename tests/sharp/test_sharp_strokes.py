"""Every limit of a foot of each kind at one combination, each sum written out; the lengths that feet start with. Lengths mm.

The riser's parts: deck 18 (17 to 19), gears 10 (9 to 11), M8 screws of 30 with a head of 5.3 to 5.45, depths within 0.2.
"""

from __future__ import annotations

import math
from functools import cache
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs import mm
from tests.designs_feet import CAP, captured, riding, riser, sliding

from trivet.model.base import Band
from trivet.model.foot import InsertUse, Pad
from trivet.record import replace
from trivet.solve import foot_length
from trivet.solve.board_levels import Boards, BoardZ, boards_at
from trivet.solve.corner import MEAN, Corner, corners, head_height_mm, sheet_corners, washer_mm
from trivet.solve.face_overlap import overlap_bounds, overlap_mm, wanted_overlap_mm
from trivet.solve.fixed_gear import FixedGear, droop_mm, stack_width_mm, stacked_gears
from trivet.solve.foot_captured_nut import captured_nut_case
from trivet.solve.foot_case import FootCase, FootSpec, LowPoint, World
from trivet.solve.foot_riding import pocket_mm, proud_mm, riding_case
from trivet.solve.foot_sliding_hex import post_wider, sliding_hex_case, socket_mm
from trivet.solve.solve import solve
from trivet.solve.thread_zone import ThreadZone


@cache
def parts() -> tuple[Any, dict[str, Any]]:
    made = riser(riding(), Band(18.0, 17.0, 19.0), Band(10.0, 9.0, 11.0))
    return made, {state.id: state for state in solve(made).train.gears}


def world(corner: Corner = MEAN, **facts: Any) -> World:
    made, states = parts()
    given: dict[str, Any] = {"drops": {0: 1.7}, "fixed": {}, "neighbours": {}, "low": LowPoint(-40.0, "pin.west", "bench_idler")} | facts
    return World(made, corner, boards_at(made, corner.board), states=states, **given)


def spec(foot: Any, *stack: str, pocket: float = 5.8, drop: float = 3.0, length: float = 30.0) -> FootSpec:
    held = tuple(parts()[1][name] for name in stack or ("nw",))
    return FootSpec("corner.nw", foot, parts()[1]["nw"], held, length, pocket, drop)


def rows(case: FootCase) -> list[tuple[str, str, float, bool, str, float]]:
    return [(b.end, b.cause, round(b.at_mm, 6), b.hard, b.party, round(b.amount_mm, 6)) for b in case.bounds]


def test_limits_of_a_riding_foot() -> None:
    """Under it the hub's 16 teeth: gears to −20, the head 6 deep, so it bears at −14 and stands 5.45 + 3 − 6 out."""
    case = riding_case(spec(riding(), "hub", "nw"), world(), Corner(0, 0, 1, 1))
    assert (case.bearing_mm, case.plane_mm, case.work_mm, case.height_at_zero_mm) == pytest.approx((-14.0, -22.45, 18.0, 40.45))
    assert spec(riding(), length=0.5).complete and not spec(riding(), length=0.0).complete
    # 20 teeth of module 6 reach out 66; half a degree; the tip at 16.
    assert rows(case) == [
        ("least", "gear_meets_board", 1.7, True, "deck", 0.0),
        ("least", "tilted_rim", round(66.0 * math.tan(math.radians(0.5)), 6), True, "deck", 0.5),
        ("least", "tip_through", -1.5, True, "deck", 0.5),
        ("least", "bench", 17.55, True, "pin.west", 0.0),
        ("least", "shank_in_insert", -14.0, True, "corner", 0.0),
        ("most", "thread_leaves_insert", 8.0, False, "corner", 8.0),
        ("most", "thread_leaves_insert", 14.75, True, "corner", 1.25),
    ]
    assert case.zone is not None and (case.zone.low_mm, case.zone.high_mm) == (0.0, 11.0)
    free = riding_case(spec(riding(pad=Pad(kind="head")).model_copy(update={"insert": None})), world(drops={}, low=None), MEAN)
    assert free.zone is None and [(b.cause, b.at_mm) for b in free.bounds if b.cause != "tilted_rim"] == [("gear_meets_board", 0.0), ("tip_through", 8.3)]


def test_an_insert_that_stands_proud_holds_a_gear_off() -> None:
    use = riding().insert
    assert use is not None
    for proud, wanted in ((2.0, [2.0]), (0.5, [0.5]), (0.0, [])):
        out = InsertUse(hardware=use.hardware, driven_from="topside", flush="underside", proud=mm(proud))
        case = riding_case(spec(riding().model_copy(update={"insert": out})), world(), MEAN)
        assert [(b.end, b.at_mm, b.hard, b.party, b.amount_mm) for b in case.bounds if b.cause == "insert_proud"] == [
            ("least", at, True, "corner", at) for at in wanted
        ]


def test_a_foot_without_a_screw_stands_out_by_its_pad() -> None:
    assert proud_mm(spec(riding(screw=None), pocket=0.0), MEAN, 0.2) == 3.0
    assert proud_mm(spec(riding(screw=None), pocket=2.0), Corner(1, 1, 1), 0.2) == pytest.approx(0.8)


@pytest.mark.parametrize(("pocket", "depths"), [(0.5, (0.3, 0.5, 0.7)), (0.1, (0.0, 0.1, 0.3)), (0.0, (0.0, 0.0, 0.0))])
def test_shallow_pockets_and_sockets(pocket: float, depths: tuple[float, ...]) -> None:
    made = world(fixed={"nw": FixedGear(-20.0, -2.0, -20.0, -2.0)})
    assert [pocket_mm(spec(riding(), pocket=pocket), Corner(0, 0, sign), 0.2) for sign in (-1, 0, 1)] == pytest.approx(depths)
    socket = sliding(socket_depth=mm(pocket) if pocket else None)
    # Without one its error still counts.
    wanted = depths if pocket else (0.0, 0.0, 0.2)
    assert [socket_mm(spec(socket), made, Corner(0, 0, sign)) for sign in (-1, 0, 1)] == pytest.approx(wanted)


def test_a_stack_hangs_at_the_level_of_its_uppermost_gear() -> None:
    upper, lower = (replace(parts()[1][name], level=level) for name, level in (("nw", 1), ("hub", 2)))
    one = FootSpec("corner.nw", riding(), upper, (upper, lower), 30.0, 5.8, 3.0)
    found = riding_case(one, world(drops={0: 1.0, 1: 21.0, 2: 41.0}), MEAN)
    assert [b.at_mm for b in found.bounds if b.cause == "gear_meets_board"] == [21.0]


def test_a_thin_post_against_a_head_without_flats() -> None:
    post = sliding(pad=Pad(kind="dome", drop=mm(25), diameter=mm("0.5")))
    assert post_wider(spec(post), None) and post_wider(spec(post), CAP)


def test_limits_of_a_sliding_hex() -> None:
    """A socket 14.2 deep in a gear from −20 to −2: it bears at −5.8; a head of 5.45 and a post of 25 below."""
    made = world(fixed={"nw": FixedGear(-20.0, -2.0, -20.0, -2.0)})
    case = sliding_hex_case(spec(sliding(pad=Pad(kind="disc", drop=mm(25))), drop=25.0), made, Corner(0, 0, 1, 1))
    assert (case.bearing_mm, case.plane_mm, case.work_mm) == pytest.approx((-5.8, -36.25, 18.0))
    # Of the head 4 stay in the socket, 1 at the last. Live thread from 4 to 15 and the tip at 24.2.
    assert rows(case) == [
        ("least", "hex_at_socket_floor", 0.0, True, "nw", 0.0),
        ("most", "hex_leaves_socket", 10.2, False, "nw", 4.0),
        ("most", "hex_leaves_socket", 13.2, True, "nw", 1.0),
        ("least", "post_meets_gear", 9.25, True, "nw", 0.5),
        ("least", "tip_through", 6.7, True, "deck", 0.5),
        ("least", "bench", 3.75, True, "pin.west", 0.0),
        ("least", "shank_in_insert", -9.8, True, "corner", 0.0),
        ("most", "thread_leaves_insert", 12.2, False, "corner", 8.0),
        ("most", "thread_leaves_insert", 18.95, True, "corner", 1.25),
    ]
    dome = sliding_hex_case(spec(sliding(), drop=25.0), made, MEAN)
    assert "post_meets_gear" not in {b.cause for b in dome.bounds}
    bare = sliding_hex_case(spec(sliding(screw=None).model_copy(update={"insert": None}), drop=25.0), made, MEAN)
    # No head: nothing of it stays in the socket of 14.
    assert (bare.plane_mm, bare.zone) == (pytest.approx(-31.0), None)
    assert [(b.at_mm, b.amount_mm) for b in bare.bounds if b.cause == "hex_leaves_socket"] == [(14.0, 0.0), (14.0, 0.0)]


def test_limits_of_a_captured_nut() -> None:
    """Keeper's underside −38, a rod of 60 with its tip at 22, a nut of 6.8 flush under the gear: from −20 to −13.2."""
    made = world(fixed={"nw": FixedGear(-20.0, -2.0, -20.0, -2.0)}, keepers={"nw": -38.0})
    case = captured_nut_case(spec(captured(), pocket=0.0, length=60.0), made, MEAN)
    assert (case.bearing_mm, case.plane_mm, case.work_mm) == (-38.0, -41.0, 18.0)
    assert rows(case) == [
        ("least", "keeper", 0.5, True, "corner", 0.5),
        ("least", "tip_through", 4.5, True, "deck", 0.5),
        ("least", "shank_in_nut", -18.0, True, "corner", 0.0),
        ("least", "bench", -1.0, True, "pin.west", 0.0),
        ("most", "nut_not_full", 33.95, False, "corner", 6.8),
        ("most", "nut_not_full", 40.75, True, "corner", 1.25),
        ("most", "stop_leaves_slot", 16.0, False, "deck", 3.0),
        ("most", "stop_leaves_slot", 17.5, True, "deck", 3.0),
    ]
    loose = captured_nut_case(spec(captured(rod_stop_diameter=None, nut=None), pocket=0.0, length=60.0), made, MEAN)
    assert "stop_leaves_slot" not in {b.cause for b in loose.bounds} and loose.zone is not None and loose.zone.live_mm == 0.0
    shallow = captured_nut_case(spec(captured(), pocket=0.5, length=60.0), made, Corner(0, 0, 1))
    assert shallow.zone is not None and shallow.zone.high_mm == pytest.approx(-19.3)


@pytest.mark.parametrize("kind", ["riding", "sliding", "captured"])
def test_a_fixture_as_a_whole_higher(kind: str) -> None:
    """Boards, gears, keepers and the lowest point 3 higher: the same limits, and all places 3 higher."""
    use = riding().insert
    assert use is not None
    out = InsertUse(hardware=use.hardware, driven_from="topside", flush="underside", proud=mm(2))
    feet = {"riding": riding().model_copy(update={"insert": out}), "sliding": sliding(), "captured": captured()}
    cases: dict[str, Any] = {"riding": riding_case, "sliding": sliding_hex_case, "captured": captured_nut_case}
    found = []
    for up in (0.0, 3.0):
        low, fixed = LowPoint(up - 40.0, "pin.west", "bench_idler"), FixedGear(up - 20.0, up - 2.0, up - 19.5, up - 2.5)
        made = world(Corner(1, 0), low=low, fixed={"nw": fixed, "hub": fixed}, keepers={"nw": up - 38.0}, neighbours={"nw": (("m", "hub"),)})
        boards = Boards({name: BoardZ(at.under_mm + up, at.top_mm + up) for name, at in made.boards.z.items()}, {})
        found.append(cases[kind](spec(feet[kind]), replace(made, boards=boards), Corner(1, 0, 1, 1)))
    first, second = found
    assert rows(first) == rows(second) and {b.cause for b in first.bounds} >= {"tip_through", "bench"}
    places = [(item.bearing_mm, item.plane_mm, item.work_mm, item.zone.low_mm, item.zone.top_mm) for item in found]
    assert places[1] == pytest.approx([at + 3.0 for at in places[0]])


@pytest.mark.parametrize(("worst", "low", "high"), [(0, -14.0, -3.0), (1, -13.5, -3.5)])
def test_shared_face_of_a_stack(worst: int, low: float, high: float) -> None:
    """Two gears 10 thick under one another beside one of 16 that hangs from −14 to −3, at worst from −13.5 to −3.5."""
    states = {name: replace(item, face_width=Band(16.0, 15.0, 17.0)) if name == "hub" else item for name, item in parts()[1].items()}
    fixed = FixedGear(-14.0, -3.0, -13.5, -3.5)
    beside = {"nw": (("m", "east"), ("m", "hub")), "west": (("m", "hub"),)}
    made = replace(world(Corner(worst, 0), neighbours=beside, fixed={"hub": fixed}), states=states)
    found = overlap_bounds(spec(riding(), "nw", "west"), made)
    assert [(b.end, b.cause, b.at_mm, b.hard, b.party, b.amount_mm) for b in found] == [
        (end, "teeth_part", pytest.approx(at), hard, "hub", want)
        for top in (0.0, -10.0)
        for end, at, hard, want in (
            ("least", top - 10.0 - high + 6.0, False, 6.0),
            ("most", top - low - 6.0, False, 6.0),
            ("least", top - 10.0 + 3.5 + 1.0, True, 1.0),
            ("most", top + 13.5 - 1.0, True, 1.0),
        )
    ]


@pytest.mark.parametrize(
    ("one", "other", "stated", "want"),
    [(18.0, 16.0, None, 8.0), (10.0, 30.0, None, 6.0), (5.0, 9.0, None, 5.0), (18.0, 16.0, 3.0, 3.0), (18.0, 9.0, 12.0, 9.0), (18.0, 9.0, 0.0, 0.0)],
)
def test_face_that_two_gears_should_share(one: float, other: float, stated: float | None, want: float) -> None:
    assert wanted_overlap_mm(one, other, stated) == wanted_overlap_mm(other, one, stated) == want
    assert overlap_mm((-one, 0.0), (-other - 1.0, -1.0)) == min(0.0, -1.0) - max(-one, -other - 1.0)


def test_thin_gears_part_when_they_share_none() -> None:
    states = {name: replace(item, face_width=Band(0.4, 0.3, 0.5)) for name, item in parts()[1].items()}
    made = replace(world(neighbours={"nw": (("m", "hub"),)}, fixed={"hub": FixedGear(-3.0, -2.6, -3.0, -2.6)}), states=states)
    found = overlap_bounds(FootSpec("corner.nw", riding(), states["nw"], (states["nw"],), 30.0, 5.8, 3.0), made)
    assert [b.amount_mm for b in found] == [0.4] * 4


def test_gears_of_one_shaft_lie_under_one_another() -> None:
    stack = [replace(parts()[1][name], face_width=width) for name, width in (("hub", Band(8.0, 7.0, 9.0)), ("nw", Band(12.0, 11.0, 13.0)))]
    found = stacked_gears(stack, Corner(0, -1), -2.0, -1.0, -4.0)
    assert found == {"hub": FixedGear(-9.0, -2.0, -8.0, -4.0), "nw": FixedGear(-20.0, -9.0, -19.0, -11.0)}
    assert [stack_width_mm(stack, Corner(0, sign)) for sign in (-1, 0, 1)] == [18.0, 20.0, 22.0]


@pytest.mark.parametrize(
    ("bore", "washer", "sinks"),
    [(18.0, 0.0, 66 * 0.4 / 18), (18.0, 12.0, 66 * 0.2 / 12), (18.0, 6.0, 66 * 0.4 / 18), (0.0, 0.5, 66 * 0.2 / 0.5), (0.5, 0.0, 66 * 0.8), (0.0, 0.0, 0.0)],
)
def test_how_far_a_rim_sinks(bore: float, washer: float, sinks: float) -> None:
    assert droop_mm(66.0, 0.4, bore, 0.2, washer) == pytest.approx(sinks)


def test_combinations_of_extremes() -> None:
    found = {(c.board, c.gear, c.depth, c.head) for c in corners()}
    assert len(found) == len(corners()) == 16 and {abs(sign) for one in found for sign in one} == {1}
    assert [(c.board, c.gear, c.depth, c.head) for c in sheet_corners()] == [(b, g, 0, 0) for b in (-1, 1) for g in (-1, 1)]
    assert [Corner(board, 1, 1, 1).worst for board in (-1, 0, 1)] == [True, False, True] and Corner(1, -1, 1, 1).sheets == Corner(1, -1)
    head = Of(height_min_mm=None, height_mm=5.3, height_max_mm=5.45)
    assert [head_height_mm(head, sign) for sign in (-1, 0, 1)] == pytest.approx([5.15, 5.3, 5.45])
    told: Any = Of(height_min_mm=5.0, height_mm=5.3, height_max_mm=5.3)
    assert [head_height_mm(told, sign) for sign in (-1, 0, 1)] == pytest.approx([5.0, 5.3, 5.3])
    thick: Any = Of(thickness_mm=1.6, thickness_max_mm=1.8, thickness_min_mm=1.4)
    assert [washer_mm(thick, sign) for sign in (-1, 0, 1)] == [1.4, 1.6, 1.8]


@pytest.mark.parametrize(
    ("travels", "chosen"),
    [
        # The most travel; of equals the shortest; where none has any, the shortest sold.
        ({16: 1.0, 20: 3.0, 25: 2.0}, 20.0), ({16: 1.0, 20: 3.0, 25: 3.0}, 20.0), ({16: 3.0, 20: 3.0 + 1e-7, 25: 3.0 + 1e-5}, 25.0),
        ({16: None, 20: 0.5, 25: 0.4}, 20.0), ({16: None, 20: None, 25: None}, 16.0), ({16: -3.0, 20: -2.0, 25: -1.5}, 16.0),
        ({16: -3.0, 20: -0.5, 25: -0.2}, 25.0), ({16: 0.0, 20: 0.0, 25: 0.0}, 16.0), ({16: -0.5, 20: None, 25: -0.6}, 16.0),
    ],
)  # fmt: skip
def test_length_that_a_set_starts_with(monkeypatch: pytest.MonkeyPatch, travels: dict[float, float | None], chosen: float) -> None:
    tried: list[tuple[str, float]] = []

    def mean_stroke(specs: Any, world: Any) -> Any:
        (one,) = specs
        tried.append((one.id, one.length_mm))
        travel = travels[one.length_mm]
        return None if travel is None else Of(travel_mm=travel)

    monkeypatch.setattr(foot_length, "mean_stroke", mean_stroke)
    sold = Of(stock_mm=(16.0, 20.0, 25.0))

    def one(name: str, length: float, screw: Any = sold) -> Any:
        return replace(spec(Of(name=Of(text=name.split(".")[0]), screw=screw)), id=name, length_mm=length)

    specs = (one("long.a", 40.0), one("corner.a", 0.0), one("corner.b", 0.0), one("rod.a", 0.0, None), one("long.b", 0.5), one("other.a", 0.0))
    found = foot_length.starting_specs(specs, Of())
    assert [item.length_mm for item in found] == [40.0, chosen, chosen, 0.0, 0.5, chosen]
    assert {name for name, _ in tried} == {"corner.a", "other.a"} and [length for _, length in tried] == [16.0, 20.0, 25.0] * 2


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_words_of_a_screw_to_buy(unit: str) -> None:
    case = FootCase(-12.0, -20.0, None, (), 18.0)
    stated, free = (foot_length.foot_bolt(spec(riding(length=length)), [case], [18.0], [3.0], unit) for length in (mm(30), None))
    assert stated.because is not None and free.because is not None
    assert (stated.because.formula, free.because.formula) == ("as stated", "the stock length that gives most travel")
    assert (stated.stated_mm, free.stated_mm) == (30.0, None) and stated.room_ends_at.startswith("0.5 mm below" if unit == "mm" else "just below")
    # No thread to fill: as short as it is. 17.5 + 3 + 12 at most.
    assert (stated.least_mm, stated.most_mm, stated.fits) == (30.0, 32.5, True)
    empty = foot_length.foot_bolt(spec(riding()), [], [], [], unit)
    assert (empty.least_mm, empty.most_mm) == (30.0, 30.0)
    sold = riding().screw
    assert sold is not None
    longer = foot_length.foot_bolt(spec(riding(), length=90.0), [case], [18.0], [70.0], unit)
    assert (longer.buy_mm, longer.cut_to_mm, longer.fits, longer.standard) == (None, None, False, sold.standard)
    between = foot_length.foot_bolt(spec(riding(), length=30.5), [case], [18.0], [3.0], unit)
    assert (between.buy_mm, between.cut_to_mm, between.fits) == (35.0, 30.5, True)
    for least, tops in (([3.0], [18.0, 18.0]), ([3.0, 3.0], [18.0])):
        with pytest.raises(ValueError, match="argument"):
            foot_length.foot_bolt(spec(riding()), [replace(case, zone=ThreadZone(0.0, 11.0, 0.0, 15.0))], tops, least, unit)
    rod = foot_length.foot_bolt(spec(captured()), [case], [18.0], [3.0], unit)
    assert (rod.standard, rod.stock_mm, rod.buy_mm, rod.cut_to_mm, rod.fits) == ("DIN 976-1", (), None, 30.0, True)
