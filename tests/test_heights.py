"""Heights, stroke and rise: hand sums, published figures, and designs that lack something. Lengths mm."""

from __future__ import annotations

import math
import re
import sys
from typing import Any

import pytest
from tests.designs import M8, design, gear, mesh, mm, q, tooth_form
from tests.designs_feet import INSERT, captured, crank, hex_screw, pin, riding, riser, sliding

from trivet.model.base import Band, Ref
from trivet.model.board import Board, Hole
from trivet.model.design import Design
from trivet.model.foot import Guide, Pad
from trivet.model.hardware import ThreadLength
from trivet.model.outline import Outline, Placed
from trivet.model.shop import Shop
from trivet.solve.derived import Derived, Lift, Limit
from trivet.solve.solve import solve, solve_heights
from trivet.solve.train import solve_train

EXACT = Band(18.0, 18.0, 18.0)


def lift_of(found: Design) -> Lift:
    lift = solve(found).lift
    assert lift is not None
    return lift


def limit(found: Derived, cause: str, hard: bool = True, end: str | None = None) -> Limit:
    assert found.lift is not None
    return next(item for item in found.lift.limits if item.cause == cause and item.hard == hard and end in (None, item.end))


def test_thread_lengths_published() -> None:
    # ISO 888, b = 2d + 6 up to 125 mm: M6 18, M8 22, M10 26, as printed in a supplier's table (not the standard itself); exact.
    rule = ThreadLength(full=False)
    assert [rule.threaded_mm(d, 100.0) for d in (6.0, 8.0, 10.0)] == [18.0, 22.0, 26.0]
    # ISO 4014: + 12 to 200 mm, + 25 above (from memory).
    assert [rule.threaded_mm(10.0, length) for length in (130.0, 220.0)] == [32.0, 45.0]
    # ISO 4762, b = 2d + 12: M6 24, M8 28, M10 32, a supplier's table; short ones threaded throughout (from memory).
    socket = ThreadLength(full=False, to_125_mm=12.0)
    assert [socket.threaded_mm(d, 80.0) for d in (6.0, 8.0, 10.0)] == [24.0, 28.0, 32.0]
    assert socket.threaded_mm(8.0, 20.0) == 20.0


def test_partly_threaded_screw_leaves_the_insert_little_travel() -> None:
    # A bolt of 40 mm with b = 22 has 18 mm of shank: u + 18 <= 0 (low end of the thread), u = −e − 18 + 6, so e >= 6.
    screw = hex_screw(threaded=ThreadLength(full=False))
    found = solve(riser(riding(screw=screw, length=mm(40), pocket=mm(6)), EXACT, EXACT))
    assert limit(found, "shank_in_insert").extension_mm == pytest.approx(6.0)


def test_riser_by_hand() -> None:
    found = solve(riser(riding()))
    lift = found.lift
    assert lift is not None
    # Deck and gears 17.8: tip p + L + 0.5 − g − T = 5.8 + 30 + 0.5 − 35.6; thread L + p − g − 8.
    assert (lift.least_mm, lift.most_mm) == pytest.approx((0.7, 10.0))
    # H = T + e + g + max(0, k + pad − p) = 17.8 + 17.8 + 2.5 + e.
    assert (lift.height_min_mm, lift.height_max_mm) == pytest.approx((38.8, 48.1))
    # 16 on 20 teeth, 1.25 mm lead.
    assert (lift.per_turn_mm, lift.turns_for_travel) == pytest.approx((1.0, 9.3))
    # Thin sheets, 17.6, deep pockets, 6.0: tip 6.0 + 30.5 − 35.2.
    assert limit(found, "tip_through").extension_worst_mm == pytest.approx(1.3)
    # Half of 17.8 shared with an idler that hangs on 1.6 of washer and 0.3 of play: 19.7 − 8.9.
    teeth = limit(found, "teeth_part", hard=False, end="most")
    assert teeth.extension_mm == pytest.approx(10.8)
    # 1 mm with the play taken up and the thinnest washer, 1.4.
    assert limit(found, "teeth_part", end="most").extension_mm == pytest.approx(18.2)
    # To parting the thread goes first, one pitch short of leaving: 30 + 5.8 − 17.8 − 1.25.
    assert lift.travel_to_parting_mm == pytest.approx(16.75 - 0.7)
    assert "6.8 turns" in lift.beyond_most and "level is lost" in lift.beyond_most
    assert found.feet[0].engagement_at_most_mm == pytest.approx(8.0)


def test_turns_left_beyond_the_end() -> None:
    # 6.75 mm of thread left past the comfortable 8 mm, at 1.25 mm · 16/25 = 0.8 mm a turn.
    base = riser(riding())
    gears = tuple(g.model_copy(update={"teeth": q(25)}) if g.carries is not None else g for g in base.gears)
    lift = lift_of(base.model_copy(update={"gears": gears}))
    assert lift.per_turn_mm == pytest.approx(0.8)
    assert lift.beyond_most.startswith("8.4 turns (6.75 mm) beyond the end of the travel: ")


def test_insert_driven_the_other_way() -> None:
    # 4 mm of drive slot: at the top it is out of the way, at the bottom it costs 4 mm of travel.
    below = solve(riser(riding(driven_from="underside")))
    assert below.lift is not None
    assert below.lift.travel_mm == pytest.approx(9.3 - 4.0)
    assert below.feet[0].other_way_travel_mm == pytest.approx(9.3)
    words = dict(limit(below, "thread_leaves_insert", hard=False).remedies)
    assert words["driven from the topside it would give 9.3 mm of travel"] == pytest.approx(9.3)


def test_a_remedy_gives_what_it_says() -> None:
    short = solve(riser(riding(length=mm(25))))
    assert short.lift is not None
    remedy, travel = limit(short, "thread_leaves_insert", hard=False).remedies[0]
    assert remedy.startswith("a screw of 30 mm")
    assert lift_of(riser(riding(length=mm(30)))).travel_mm == pytest.approx(travel)


def test_length_not_stated_is_the_stock_length_with_most_travel() -> None:
    found = solve(riser(riding(length=None)))
    assert found.feet[0].screw_length_mm == 30.0
    tries = {n: lift_of(riser(riding(length=mm(n)))).travel_mm for n in (25, 30, 35, 40)}
    assert found.lift is not None
    assert found.lift.travel_mm == pytest.approx(max(tries.values()))


def test_stated_face_overlap_and_a_hard_limit_under_it() -> None:
    # 16 mm of face: 1.6 + 0.3 + 17.8 − 16 = 3.7, less than the thread's 10.
    lift = lift_of(riser(riding(), tooth_forms=(tooth_form(module=6.0, backlash="0.5", face_overlap=mm(16)),)))
    assert lift.most_mm == pytest.approx(3.7)


def test_low_hung_gear_limits_the_least_extension() -> None:
    # The pinion's level hangs one gear (18) below the board: a riding foot meshing it must come down to it.
    gears = (
        gear("first", 16, (0, 0), drive=True),
        gear("wheel", 40),
        gear("pinion", 16, shaft="wheel"),
        gear("foot", 20, foot=True),
    )
    meshes = (mesh("first", "wheel", 0.0), mesh("pinion", "foot", 90.0))
    given: dict[str, Any] = {"feet": (riding(length=mm(50)),), "pivots": (pin(),), "drives": (crank(),)}
    found = solve(design(gears, meshes, sheets=riser(riding(), EXACT, EXACT).sheets, **given))
    # The foot's level is one down: the wheel is 18 thick.
    assert limit(found, "gear_meets_board").extension_mm == pytest.approx(18.0)
    # Overlap of 9 with the pinion, whose top is at −(1.6 + 0.3 + 18): e >= 19.9 − 18 + 9.
    low = limit(found, "teeth_part", hard=False, end="least")
    assert low.extension_mm == pytest.approx(10.9)
    # With the thickest washer, 1.8.
    assert low.extension_worst_mm == pytest.approx(11.1)


def test_guide_bore_steadies_the_rim() -> None:
    guide = Guide(clearance=mm("0.1"), length=mm(40))
    found = solve(riser(riding(guide=guide)))
    assert limit(found, "tilted_rim").extension_mm == pytest.approx(66.0 * 0.1 / 40)


def test_captured_nut_by_hand() -> None:
    # z_K = −(18 + 0.3 + 18); tip −36.3 + 60 + 0.5 − 18 = 6.2; pin −36.3 + 60 − 6 = 17.7; H = 18 + 36.3 + 3 + e.
    lift = lift_of(riser(captured(), EXACT, EXACT))
    assert (lift.least_mm, lift.most_mm, lift.height_min_mm) == pytest.approx((6.2, 17.7, 63.5))


def test_sliding_hex_by_hand() -> None:
    # Socket floor at −18.3 + 14; tip −4.3 + 30 + 0.5 − 18 = 8.2; hex 14 − min(max(3.18, 4), 14) = 10.
    lift = lift_of(riser(sliding(), EXACT, EXACT))
    assert (lift.least_mm, lift.most_mm) == pytest.approx((8.2, 10.0))


def two_boards(clear: float | None = None, holes: tuple[Hole, ...] = ()) -> Derived:
    base = riser(riding(), EXACT, EXACT)
    outline = Outline(shape="rectangle", width_mm=500.0, height_mm=400.0)
    upper = Board(name=Ref("platform"), stock=Ref("ply"), cutter=Ref("straight"), outline=outline)
    lower = base.boards[0].model_copy(update={"under": Ref("platform"), "clear": None if clear is None else mm(clear)})
    return solve(base.model_copy(update={"boards": (upper, lower), "holes": holes}))


def test_a_board_above_counts_for_height_and_stops_the_tip() -> None:
    one, two, apart = solve(riser(riding(), EXACT, EXACT)), two_boards(), two_boards(2.0)
    assert one.lift is not None and two.lift is not None and apart.lift is not None
    assert [level.z_under_mm for level in apart.boards] == [20.0, 0.0]
    assert two.lift.height_min_mm == pytest.approx(one.lift.height_min_mm + 18.0)
    assert limit(two, "tip_meets_board").extension_mm == pytest.approx(limit(one, "tip_through").extension_mm)
    assert limit(apart, "tip_meets_board").extension_mm == pytest.approx(limit(one, "tip_through").extension_mm - 2.0)


def test_a_hole_above_lets_the_tip_through() -> None:
    places = tuple(Placed(id=f"h.{foot.gear}", x_mm=foot.x_mm, y_mm=foot.y_mm) for foot in two_boards().feet)
    hole = Hole(name=Ref("h"), into=Ref("platform"), diameter_mm=10.0, because="stated", places=places)
    assert limit(two_boards(holes=(hole,)), "tip_through").extension_mm == pytest.approx(5.8 + 30.5 - 18.0 - 36.0)


def test_a_mixed_board_stands_on_one_bench() -> None:
    # A foot whose pad is 2 mm taller stands on the same bench: the board's stroke is their common heights, 2 mm less.
    base = riser(riding(), EXACT, EXACT)
    tall = riding(name=Ref("tall"), pad=Pad(kind="dome", drop=mm(5)))
    gears = tuple(g.model_copy(update={"carries": Ref("tall")}) if g.name.text == "nw" else g for g in base.gears)
    mixed = lift_of(base.model_copy(update={"gears": gears, "feet": (*base.feet, tall)}))
    same = lift_of(base)
    assert same.least_mm == pytest.approx(5.8 + 30.5 - 36.0 if same.limits[0].cause == "tip_through" else same.least_mm)
    assert mixed.travel_mm == pytest.approx(
        lift_of(base.model_copy(update={"feet": (riding(pad=tall.pad),)})).height_max_mm - 2.0 - mixed.height_min_mm
    )


def test_overlaps_at_both_ends() -> None:
    found = solve(riser(riding(), EXACT, EXACT))
    one = next(item for item in found.train.meshes if {item.a, item.b} == {"west", "nw"})
    assert found.lift is not None and one.overlap_at_least_mm is not None and one.overlap_at_most_mm is not None
    # Idler from −1.9 to −19.9, foot from −e to −e − 18.
    for extension, seen in ((found.lift.least_mm, one.overlap_at_least_mm), (found.lift.most_mm, one.overlap_at_most_mm)):
        assert seen == pytest.approx(min(-1.9, -extension) - max(-19.9, -extension - 18.0))
    assert one.slides == 1.0


@pytest.mark.parametrize(
    "change",
    [
        {"feet": (), "gears": (), "meshes": ()},
        {"drives": (), "gears": (gear("a", 20, (0, 0)),), "meshes": ()},
        {"meshes": ()},
        {"feet": (riding(insert=INSERT).model_copy(update={"insert": None, "screw": None, "length": None}),)},
        {"feet": (captured().model_copy(update={"keeper": None, "nut": None, "length": None, "rod_stop_diameter": None}),)},
        {"feet": (sliding().model_copy(update={"socket_depth": None, "insert": None}),)},
        {"boards": ()} | {"gears": (), "meshes": (), "feet": ()},
    ],
)
def test_what_is_missing_leaves_no_lift(change: dict[str, object]) -> None:
    assert solve(riser(riding())).lift is not None
    assert solve(riser(riding()).model_copy(update=change)).lift is None


def test_messages_in_inches() -> None:
    found = solve(riser(riding()).model_copy(update={"units": "in"}))
    assert found.lift is not None
    said = [item.sentence for item in found.lift.limits] + [found.lift.beyond_most] + [bolt.remedy for bolt in found.bolts]
    # Metric screws are sold by the millimetre.
    sold = re.compile(r"a screw of [\d.]+ mm")
    assert not [text for text in said if " mm" in sold.sub("", text)]


def calls(made: Design) -> int:
    """Python calls that heights take, the train being known."""
    train, count = solve_train(made), 0

    def seen(_frame: object, event: str, _arg: object) -> None:
        nonlocal count
        count += event == "call"

    sys.setprofile(seen)
    try:
        solve_heights(made, train)
    finally:
        sys.setprofile(None)
    return count


def test_cost_is_linear() -> None:
    def star(feet: int) -> Design:
        names = [f"f{n}" for n in range(feet)]
        gears = (gear("hub", 20, (0, 0), drive=True), *(g for n in names for g in (gear(f"i{n}", 20), gear(n, 20, foot=True))))
        meshes = tuple(m for n in names for m in (mesh("hub", f"i{n}", 0.0), mesh(f"i{n}", n, 90.0)))
        return design(gears, meshes, feet=(riding(),), pivots=(pin(),), drives=(crank(),))

    assert calls(star(40)) < 2.1 * calls(star(20))


def test_tilt_follows_the_shop() -> None:
    steep = riser(riding()).model_copy(update={"shop": Shop(insert_tilt_deg=2.0)})
    assert lift_of(steep).least_mm == pytest.approx(66.0 * math.tan(math.radians(2.0)))
    assert M8.lead_mm == 1.25
