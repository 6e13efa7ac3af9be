"""Low points, words of limits, dowels, dials, pilot holes and shop aids, function by function. Lengths mm."""

from __future__ import annotations

import math
from functools import cache
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import INSERT, M8, mm, q
from tests.designs_feet import NUT, TEE, captured, crank, pin, riding, riser, sliding

from trivet.model.base import Band, Ref
from trivet.model.foot import InsertUse
from trivet.model.train import Dial, DriveNut, Web
from trivet.record import replace
from trivet.solve import board_fasteners, helper_parts, limit_words, low_point
from trivet.solve.board_feet import slotted_hole
from trivet.solve.contour import Contour
from trivet.solve.corner import MEAN, Corner
from trivet.solve.feature import Round
from trivet.solve.foot_case import Bound, FootSpec, LowPoint
from trivet.solve.foot_states import key_of
from trivet.solve.lamination_dowels import lamination_dowels
from trivet.solve.remedies import _neighbouring
from trivet.solve.shaft import shafts
from trivet.solve.solve import solve
from trivet.solve.web_openings import WebRoom
from trivet.solve.world import build_world
from trivet.source import SourceFile, Span

FILE = SourceFile("f.trivet", "x" * 100)


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def at(start: int) -> Span:
    return Span(FILE, start, start + 1)


@cache
def solved() -> Any:
    made = riser(riding(), Band(18.0, 17.0, 19.0), Band(10.0, 9.0, 11.0))
    return made, solve(made)


@pytest.mark.parametrize(
    ("sheets", "head", "idler", "gear_", "nut", "end"),
    [
        # Head: washers at their thickest and 0.3 over the web and 4.6; idler: washer, 0.3, gear and 66 · 0.3/18; drive gear: 0.2 and 1.5 over it and
        # 54 · 0.2/22; nut: over the gear less its recess and 4; end: 40 under the head in its recess.
        (MEAN, -(3.6 + 0.3 + 3.0 + 4.6), -(2.1 + 10.0 + 1.1), -(1.7 + 10.0 + 54.0 / 110.0), -(1.7 + 4.0 + 4.0), 18.0 - 9.0 - 40.0),
        (Corner(1, 1), -(3.6 + 0.3 + 4.2 + 4.6), -(2.1 + 11.0 + 1.1), -(1.7 + 11.0 + 54.0 / 110.0), -(1.7 + 5.2 + 4.0), 19.0 - 9.2 - 40.0),
        (Corner(-1, -1), -(3.6 + 0.3 + 2.2 + 4.6), -(2.1 + 9.0 + 1.1), -(1.7 + 9.0 + 54.0 / 110.0), -(1.7 + 3.2 + 4.0), 17.0 - 9.2 - 40.0),
    ],
)  # fmt: skip
def test_lowest_of_an_idler_and_of_the_drive(sheets: Corner, head: float, idler: float, gear_: float, nut: float, end: float) -> None:
    made, derived = solved()
    stacks = dict(shafts(derived.train))
    world = build_world(made, derived.train, stacks, sheets)
    lows = {item.cause: item.z_mm for item in (*low_point.pivot_low(world, stacks["west"], "west"), *low_point.drive_low(world, stacks["hub"], "hub", 40.0))}
    wanted = {"bench_pivot_head": head, "bench_idler": idler, "bench_drive": gear_, "bench_nut": nut, "bench_bolt": end}
    assert lows == {name: pytest.approx(z) for name, z in wanted.items()}
    assert [item.cause for item in low_point.drive_low(world, stacks["hub"], "hub", None)] == ["bench_drive", "bench_nut"]
    assert low_point.pivot_low(world, stacks["hub"], "hub") == [] and low_point.drive_low(world, stacks["west"], "west", 40.0) == []
    lowest = low_point.lowest(world, stacks, {"hub": 40.0})
    assert lowest is not None and (lowest.cause, lowest.z_mm) == ("bench_bolt", pytest.approx(end))
    kept = low_point.lowest(replace(world, keepers={"nw": -50.0, "ne": -50.0}), stacks, {"hub": 40.0})
    assert kept == LowPoint(-50.0, "the keeper under `ne`", "bench_keeper")


def test_limits_that_are_one() -> None:
    bench, other = Bound("least", "bench", 1.0, True, "a"), Bound("least", "bench", 2.0, True, "b")
    assert key_of(bench) == key_of(other) != key_of(replace(bench, hard=False))
    assert key_of(replace(bench, cause="teeth_part", gear="g")) == ("least", "teeth_part", "ga", True)


def test_every_limit_has_its_words() -> None:
    assert set(limit_words.THEN) == set(limit_words.FORMULAS)
    _, derived = solved()
    nw = derived.train.gear("nw")
    spec = FootSpec("corner.nw", riding(), nw, (nw,), 30.0, 5.8, 3.0)
    bound = Bound("most", "thread_leaves_insert", 9.0, False, "corner", 8.0)
    assert limit_words.sentence_of(bound, spec, "mm") == "the insert of `corner.nw`, driven from the topside, keeps 8 mm of live thread at 9 mm extension"
    assert "the underside, keeps" in limit_words.sentence_of(bound, replace(spec, other_way=True), "mm")
    under = replace(spec, foot=riding(driven_from="underside"))
    assert ["topside" in limit_words.sentence_of(bound, replace(under, other_way=way), "mm") for way in (False, True)] == [False, True]
    shank = replace(bound, cause="shank_in_insert")
    assert "plain shank of `corner.nw`, 8 mm long" in limit_words.sentence_of(shank, spec, "mm")
    assert "threaded up to it" in limit_words.sentence_of(replace(shank, amount_mm=0.0), spec, "mm")
    climbing = replace(bound, cause="climber_bench", gear="idler")
    assert limit_words.sentence_of(climbing, spec, "mm").endswith("reaches the bench at 9 mm extension of `corner.nw`")
    assert limit_words.sentence_of(replace(climbing, at_mm=-1000.0), spec, "mm").endswith("reaches the bench at every height")
    assert limit_words.formula_of("climber_bench")[0] == "e >= z of the foot plane − z_low, with its own e = start + r (e of the foot − e0)"
    told = limit_words.limit_of(replace(climbing, party="east"), spec, 8.0, "bench_nut", "mm")
    assert (told.parts, told.extension_worst_mm, told.hard, told.cause) == (("corner.nw", "nw", "idler", "east"), 8.0, False, "climber_bench")
    benched = limit_words.limit_of(Bound("least", "bench", 1.0, True, "the nut under `hub`"), spec, 2.0, "bench_nut", "mm")
    assert (benched.cause, benched.parts) == ("bench_nut", ("corner.nw", "nw"))
    inputs = [name for name, _, _ in benched.because.inputs]
    assert inputs == ["screw length L", "gear thickness", "head pocket p"]
    assert [name for name, _, _ in limit_words._inputs(bound, replace(spec, foot=sliding()), "mm")][2:] == ["margin"]
    assert len(limit_words._inputs(replace(bound, cause="tilted_rim"), spec, "mm")) == 3


def test_where_a_limit_points() -> None:
    stated = {"length": mm(30).at(at(1)), "origin": at(0)}
    _, derived = solved()
    nw = derived.train.gear("nw")
    nw = replace(nw, gear=nw.gear.model_copy(update={"name": Ref("nw", at(4))}))

    def points(foot: Any, cause: str) -> Any:
        return limit_words.origin_of(Bound("most", cause, 1.0, True), FootSpec("corner.nw", foot, nw, (nw,), 30.0, 5.8, 3.0))

    length = ("tip_through", "tip_meets_board", "shank_in_insert", "shank_in_nut", "thread_leaves_insert", "nut_not_full")
    assert {points(riding(**stated), cause) for cause in length} == {at(1)}
    assert points(riding(origin=at(0)), "tip_through") == at(0)
    socket = sliding(**stated, socket_depth=mm(14).at(at(2)))
    assert {points(socket, cause) for cause in ("hex_leaves_socket", "post_meets_gear", "hex_at_socket_floor")} == {at(2)}
    assert points(sliding(**stated), "hex_leaves_socket") == at(0)
    assert points(captured(**stated, rod_stop_diameter=mm(3).at(at(3))), "stop_leaves_slot") == at(3)
    assert {points(riding(**stated), cause) for cause in ("teeth_part", "gear_meets_board", "tilted_rim")} == {at(4)}
    assert {points(riding(**stated), cause) for cause in ("bench", "keeper", "insert_proud")} == {at(0)}


def test_neighbouring_lengths() -> None:
    spec: Any = named(foot=riding(), length_mm=30.0)
    assert _neighbouring(spec) == (25.0, 35.0, 40.0)
    assert [_neighbouring(named(foot=riding(), length_mm=end)) for end in (16.0, 80.0)] == [(20.0, 25.0), (70.0,)]
    assert _neighbouring(named(foot=captured(), length_mm=30.0)) == ()


CONTEXT: Any = named(design=named(hardware="metric", units="mm"), size=str, length=str)
INCH: Any = named(design=named(hardware="inch", units="in"), size=str, length=str)
ROOM = WebRoom(20.0, 60.0)


def web(form: Any, count: int, size: Any) -> Web:
    return Web(form=form, count=q(count), size=mm(size))


@pytest.mark.parametrize(
    ("context", "opening", "room", "cutter", "hole", "turns"),
    [
        (CONTEXT, None, ROOM, 4.0, 6.05, (0.0, 144.0)), (CONTEXT, None, ROOM, 6.0, 6.05, (0.0, 144.0)), (CONTEXT, None, ROOM, 6.1, 8.05, (0.0, 144.0)),
        (CONTEXT, None, ROOM, 12.0, 12.05, (0.0, 144.0)), (CONTEXT, None, ROOM, 12.1, 0.0, ()), (INCH, None, ROOM, 6.1, 6.4, (0.0, 144.0)),
        (CONTEXT, None, WebRoom(20.0, 28.0), 4.0, 6.05, (0.0, 144.0)), (CONTEXT, None, WebRoom(20.0, 27.9), 4.0, 0.0, ()),
        (CONTEXT, web("holes", 6, 20), ROOM, 4.0, 6.05, (30.0, 150.0)), (CONTEXT, web("holes", 1, 20), ROOM, 4.0, 6.05, (180.0, 180.0)),
        (CONTEXT, web("spokes", 5, "10.06"), ROOM, 4.0, 6.05, (0.0, 144.0)), (CONTEXT, web("spokes", 5, 10), ROOM, 4.0, 0.0, ()),
        (CONTEXT, web("spokes", 3, 12), ROOM, 4.0, 6.05, (0.0, 120.0)), (CONTEXT, web("spokes", 2, 12), ROOM, 4.0, 0.0, ()),
    ],
)  # fmt: skip
def test_dowels_between_layers(context: Any, opening: Any, room: WebRoom, cutter: float, hole: float, turns: tuple[float, ...]) -> None:
    # Twenty teeth: 8 of them on, in the middle of the ring, 2 apart in radius.
    found, note = lamination_dowels(context, 20, opening, room, cutter)
    assert bool(note) == (not turns)
    middle = (room.hub_mm + room.rim_mm) / 2.0
    for item, turn, radius in zip(found, turns, (middle - 1.0, middle + 1.0)[: len(turns)], strict=True):
        shape = item.shape
        assert isinstance(shape, Round) and shape.diameter_mm == pytest.approx(hole)
        assert (shape.x_mm, shape.y_mm) == pytest.approx((radius * math.cos(math.radians(turn)), radius * math.sin(math.radians(turn))), abs=1e-9)
        assert (item.face, item.depth_mm, item.cutter_diameter_mm) == ("underside", None, cutter)


def area(contour: Contour) -> float:
    points = contour.points(0.0005)
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, (*points[1:], points[0]), strict=True)) / 2.0


def test_hole_with_a_slot_for_a_pin() -> None:
    radius, half, end = 4.1, 1.75, 10.0 - 1.75
    beyond = math.sqrt(radius**2 - half**2)
    segment = radius**2 * math.asin(half / radius) - half * beyond
    wanted = math.pi * radius**2 + 2.0 * (2.0 * half * (end - beyond) + math.pi * half**2 / 2.0 - segment)
    made = slotted_hole(8.2, 20.0, 3.5)
    assert area(made) == pytest.approx(wanted, rel=1e-3) and made.bounds == pytest.approx((-10.0, -4.1, 10.0, 4.1))
    alone = slotted_hole(8.0, 20.0, 8.0)
    assert alone.bounds == pytest.approx((-10.0, -4.0, 10.0, 4.0)) and area(alone) == pytest.approx(12.0 * 8.0 + math.pi * 16.0, rel=1e-3)
    assert area(slotted_hole(8.2, 8.2, 3.5)) == pytest.approx(math.pi * 4.1**2, rel=1e-3)


def lifted(every: tuple[float, float], units: str = "mm", travel: float = 20.0, mean: tuple[float, float] = (60.2, 80.0)) -> Any:
    boards = (named(z_under_mm=20.0, thickness=Band(18.0, 17.0, 19.0)), named(z_under_mm=0.0, thickness=Band(18.0, 17.0, 19.0)))
    lift = named(travel_mm=travel, height_every_sheet=every, height_min_mm=mean[0], height_max_mm=mean[1])
    return named(design=named(units=units), derived=named(lift=lift, boards=boards))


@pytest.mark.parametrize(
    ("context", "height"),
    [
        (lifted((60.2, 80.0)), 24.0),  # the work surface is 38 over the underside: 22.2 and 1, to whole millimetres
        (lifted((60.0, 80.0)), 23.0), (lifted((60.2, 63.0)), 24.0), (lifted((60.2, 62.9)), 23.55), (lifted((60.2, 80.0), "in"), 15 * 25.4 / 16),
        (lifted((80.0, 60.2)), 24.0), (lifted((60.2, 80.0), travel=0.0), None), (lifted((30.0, 37.0)), None), (lifted((38.2, 38.8)), 0.5),
        (lifted((80.0, 80.0), mean=(65.2, 80.0)), 29.0),
    ],
)  # fmt: skip
def test_height_of_shims(context: Any, height: float | None) -> None:
    assert helper_parts.shim_height_mm(context) == (None if height is None else pytest.approx(height))


def test_sizes_of_shop_aids() -> None:
    assert [helper_parts._whole(CONTEXT, size) for size in (60.0, 60.1)] == [60.0, 61.0]
    assert helper_parts._whole(INCH, 60.0) == pytest.approx(19 * 25.4 / 8)
    uses = (InsertUse(hardware=part, driven_from="topside", flush="topside") for part in (TEE, INSERT, replace(INSERT, flange_diameter_mm=20.0)))
    assert [helper_parts._outside_mm(use) for use in uses] == [(22.0, 22.0), (15.9, 16.1), (20.0, 20.0)]
    block: Any = named(features=(named(shape="x"), named(shape=Round(0.0, 0.0, 16.2))), thickness=Band(18.0, 17.0, 19.0), quantity=2)
    assert helper_parts.guide_lean_deg(block, 15.9) == pytest.approx(math.degrees(math.atan(0.3 / 36.0)))


def test_marks_of_a_dial() -> None:
    dialled = crank(dial=Dial(marks=q(4), diameter=mm(40)))
    found = [item.shape for item in board_fasteners._dial(CONTEXT, named(), dialled, named(x_mm=100.0, y_mm=50.0), "crank.hub")]
    # Away from the maker first and 8 long, then clockwise and 4 long.
    ends = [(100.0, 62.0, 100.0, 70.0), (116.0, 50.0, 120.0, 50.0), (100.0, 34.0, 100.0, 30.0), (84.0, 50.0, 80.0, 50.0)]
    assert [(item.x1_mm, item.y1_mm, item.x2_mm, item.y2_mm) for item in found] == [pytest.approx(end) for end in ends]
    assert board_fasteners._dial(CONTEXT, named(), crank(), named(x_mm=0.0, y_mm=0.0), "") == []


@pytest.mark.parametrize(
    ("lengths", "datum", "depth"),
    [
        ((16.0, None, 25.0), "underside", 13.0),  # 12.6 past 1.4 and 2, to the next half
        ((None, 15.4, 25.0), "underside", 12.0), ((None, None, 19.0), "underside", 16.0), ((40.0, None, 40.0), "underside", 17.5),
        ((3.0, None, 16.0), "underside", 0.5), ((None, None, None), "underside", 17.5), ((16.0, None, 25.0), "topside", None),
    ],
)  # fmt: skip
def test_depth_of_a_pilot_hole(lengths: tuple[float | None, ...], datum: str, depth: float | None) -> None:
    stack = (("washer", Band(1.6, 1.4, 1.8)), ("gear", Band(3.0, 2.0, 4.0)), ("thread in the wood", Band(9.0, 9.0, 9.0)))
    choice = named(stated_mm=lengths[0], cut_to_mm=lengths[1], buy_mm=lengths[2], stack=stack)
    board: Any = named(datum=datum)
    assert board_fasteners._pilot_depth_mm(named(bolts={"pin.west": choice}), board, "pin.west", 18.0) == depth
    assert board_fasteners._pilot_depth_mm(named(bolts={}), board, "pin.west", 18.0) == (None if depth is None else 17.5)


def test_hole_of_a_pivot() -> None:
    context: Any = named(design=named(shop=named(bore_clearance_mm=0.3)), length=str)
    bare = pin(drill=None)
    cored = pin(drill=None, thread=replace(bare.thread, minor_mm=4.88))
    nut = DriveNut(hardware=NUT, side="above")
    pivots = (bare, cored, pin(), pin(drill=None, bolt=True), pin(drill=None, nut=nut), pin(bolt=True), pin(nut=DriveNut(hardware=TEE, side="above")))
    found = [board_fasteners._pivot_hole(context, item)[0] for item in pivots]
    assert found == pytest.approx([0.75 * 6.25, 4.88, 5.0, 6.55, 6.55, 5.0, 10.0])
    systems: tuple[Any, ...] = ("metric", "unified", "tapping")
    standards = [board_fasteners._clearance_standard(replace(M8, system=system)) for system in systems]
    assert standards == [" (ISO 273)", " (ASME B18.2.8)", ""]
