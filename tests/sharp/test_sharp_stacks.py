"""Stacks under a head and the lengths that follow from them, function by function: each sum is written out. Lengths mm.

The riser's parts: deck 18 (17 to 19), gears 10 (9 to 11), cap head 9 deep, tee nut with a flange of 1.5, jam nut of 4 let in by 6.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from tests.designs import BOLT, HEX_NUT, mm
from tests.designs_feet import HEX, JAM, LARGE_WASHER, NUT, TEE, crank, pin, riding, riser

from trivet.model.base import Band
from trivet.model.hardware import Head, ThreadLength
from trivet.model.train import DriveNut
from trivet.record import replace
from trivet.solve import bolt_length, recess_remedy
from trivet.solve.board_levels import boards_at
from trivet.solve.bolt_length import LengthChoice, choose_length
from trivet.solve.corner import MEAN, Corner, corners, head_height_mm, pick, sheet_corners, washer_mm
from trivet.solve.fixed_gear import FixedGear
from trivet.solve.recess_remedy import Recess
from trivet.solve.solve import solve
from trivet.solve.stack_drive import DriveStack, drive_stack
from trivet.solve.stack_pivot import PivotStack, pivot_stack, swelling_mm
from trivet.solve.world import _over_plays, _plays

INCH_64TH = 25.4 / 64
HALF_THREADED = replace(BOLT, threaded=ThreadLength(full=False))  # 22 of thread up to 125: shanks of 8, 18, 28 and 38
CONE = Head(form="countersunk", diameter_mm=15.0, height_mm=4.0, height_max_mm=4.2)


def test_signs_pick_the_side_of_a_tolerance() -> None:
    assert [pick(Band(5.0, 4.0, 7.0), sign) for sign in (-1, 0, 1)] == [4.0, 5.0, 7.0]
    assert [washer_mm(LARGE_WASHER, sign) for sign in (-1, 0, 1)] == [1.4, 1.6, 1.8]
    # A head without a lower limit is taken as far below as above.
    assert [head_height_mm(HEX, sign) for sign in (-1, 0, 1)] == pytest.approx([5.15, 5.3, 5.45])
    stated = replace(HEX, height_min_mm=5.0)
    assert [head_height_mm(stated, sign) for sign in (-1, 0, 1)] == pytest.approx([5.0, 5.3, 5.45])
    assert head_height_mm(replace(HEX, height_max_mm=5.0), 1) == pytest.approx(5.3)


def test_combinations_of_sheets() -> None:
    assert sheet_corners() == (Corner(-1, -1), Corner(-1, 1), Corner(1, -1), Corner(1, 1))
    assert len(set(corners())) == 16 and all(abs(c.board * c.gear * c.depth * c.head) == 1 for c in corners())
    assert [c.worst for c in (MEAN, Corner(0, 1, 1, 1), Corner(1), Corner(-1))] == [False, False, True, True]
    assert Corner(-1, 1, 1, -1).sheets == Corner(-1, 1)


def test_plays_that_a_fixed_gear_is_tried_with() -> None:
    assert _plays(MEAN) == ((MEAN, 0), (MEAN, 1), (MEAN, -1))
    shallow, deep = Corner(1, -1, -1), Corner(1, -1, 1)
    assert _plays(Corner(1, -1)) == ((Corner(1, -1), 0), (shallow, 1), (shallow, -1), (deep, 1), (deep, -1))


def test_farthest_faces_over_all_plays() -> None:
    found = [{"a": FixedGear(*z)} for z in ((-12.0, -2.0, -11.0, -3.0), (-14.0, -1.0, -10.5, -2.5), (-13.0, -2.5, -11.5, -3.5))]
    assert _over_plays(iter(found)) == {"a": FixedGear(-12.0, -2.0, -10.5, -3.5)}


@pytest.mark.parametrize(
    ("least", "most", "thread_from", "unit", "drawer", "choice"),
    [
        (29.0, 41.0, 0.0, "mm", (), LengthChoice(40.0, None, 40.0)),  # the longest of two
        (40.0, 40.0, 0.0, "mm", (), LengthChoice(40.0, None, 40.0)),
        (29.0, 41.0, 0.0, "mm", (31.0, 35.0), LengthChoice(35.0, None, 35.0)),  # the drawer first
        (29.0, 41.0, 0.0, "mm", (28.0, 42.0), LengthChoice(40.0, None, 40.0)),
        (41.0, 44.2, 0.0, "mm", (), LengthChoice(50.0, 42.5, 42.5)),  # 42.6 to the half millimetre
        (40.3, 40.6, 0.0, "mm", (), LengthChoice(50.0, 40.5, 40.5)),
        (60.5, 61.0, 0.0, "mm", (), LengthChoice(None, None, None, "a screw of at least 60.5 mm; the longest sold is 60 mm")),
        (40.6, 41.4, 0.0, "in", (), LengthChoice(50.0, 103 * INCH_64TH, 103 * INCH_64TH)),  # 41/(25.4/64) = 103.3
    ],
)
def test_length_to_buy(least: float, most: float, thread_from: float, unit: str, drawer: tuple[float, ...], choice: LengthChoice) -> None:
    assert choose_length(BOLT, least, most, thread_from, unit, drawer) == choice


@pytest.mark.parametrize(
    ("least", "most", "thread_from", "buy", "cut"),
    [(39.0, 41.0, 18.0, 40.0, None), (39.0, 41.0, 17.9, None, None), (41.0, 43.0, 28.0, 50.0, 42.0), (41.0, 43.0, 27.9, None, None)],
)
def test_plain_shank_ends_before_the_nut(least: float, most: float, thread_from: float, buy: float | None, cut: float | None) -> None:
    found = choose_length(HALF_THREADED, least, most, thread_from, "mm")
    assert (found.buy_mm, found.cut_to_mm) == (buy, cut)


@pytest.mark.parametrize(
    ("least", "most", "thread_from", "words"),
    [
        (42.0, 40.0, 0.0, "2 mm more room: sheets"),
        (40.1, 40.4, 0.0, "a recess 0.5 mm deeper for the last nut"),
        (70.0, 80.0, 0.0, "a screw of at least 70 mm; the longest sold is 60 mm"),
        (39.0, 41.0, -1.5, "thicker parts or shallower recesses: the first nut begins 1.5 mm over"),
        (39.0, 41.0, 9.0, "a fully threaded screw: the thread must begin within 9 mm of the head"),
    ],
)
def test_why_no_length_does(least: float, most: float, thread_from: float, words: str) -> None:
    assert bolt_length.why_not(HALF_THREADED, least, most, thread_from, "mm").startswith(words)


def test_items_of_several_stacks() -> None:
    assert bolt_length.as_bands([("a", 2.0), ("b", 1.0)], [("a", 1.0), ("b", 4.0)], [("a", 3.0)]) == (
        ("a", Band(2.0, 1.0, 3.0)),
        ("b", Band(1.0, 0.0, 4.0)),
    )


@pytest.mark.parametrize(
    ("least", "most", "recess", "thread_from", "unit", "said"),
    [
        (41.0, 43.0, Recess(5.0, 0.0, 6.0), 19.0, "mm", "6 mm` lets a screw of 40 mm"),  # 1 deeper; shank 18 <= 19 - 1
        (41.0, 43.0, Recess(5.0, 0.0, 5.9), 19.0, "mm", ""),
        (41.0, 43.0, Recess(5.0, 0.0, 6.0), 18.9, "mm", ""),
        (46.0, 48.0, Recess(8.0, 6.0, 12.0), 60.0, "mm", "6 mm` lets a screw of 50 mm"),  # 2 shallower
        (46.0, 48.0, Recess(8.0, 6.1, 12.0), 60.0, "mm", ""),
        (43.0, 45.0, Recess(10.0, 0.0, 14.0), 60.0, "mm", "13 mm` lets a screw of 40 mm"),  # 3 deeper before 5 shallower
        (47.0, 49.0, Recess(10.0, 0.0, 20.0), 60.0, "mm", "9 mm` lets a screw of 50 mm"),  # 1 shallower before 7 deeper
        (41.0, 43.0, Recess(6.35, 0.0, 12.0), 60.0, "in", "19/64 in` (0.297 in) lets a screw of 40 mm"),  # 7.35 up to 19/64
    ],
)
def test_recess_with_which_a_sold_length_does(
    least: float, most: float, recess: Recess, thread_from: float, unit: str, said: str
) -> None:
    found = recess_remedy.recess_for_stock(HALF_THREADED, least, most, thread_from, recess, unit)
    assert found == (f"`head recessed {said} do as bought" if said else "")


def test_how_deep_a_heads_recess_may_be() -> None:
    # Cap head of 8 and the error below the topside; 6 of wood under it, half of a board that has less than 12.
    assert recess_remedy.drive_recess(crank(), 8.8, 0.2) == Recess(9.0, 8.2, pytest.approx(9.0 + 8.8 - 6.0))
    assert recess_remedy.drive_recess(crank(), 1.0, 0.2).deepest_mm == pytest.approx(9.0 + 1.0 - 10.2 / 2.0)
    sunk = crank(bolt=replace(BOLT, head=CONE), head_recessed=None)
    assert recess_remedy.drive_recess(sunk, 18.0, 0.2) == Recess(0.0, 0.2, 12.0)
    assert recess_remedy.pivot_recess(pin(), 17.6, 0.2) == Recess(7.0, 0.0, pytest.approx(14.4))


@pytest.mark.parametrize(
    ("facts", "least", "under", "said"),
    [
        ({}, 40.0, (39.0, 38.5), "`recessed 8 mm` in the `jam_nut` leaves a length that can be cut"),  # 6 + 1.5 + 0.5
        ({"nut": DriveNut(hardware=NUT, side="above", recessed=mm("5.8"))}, 40.0, (38.5,), "`recessed 8 mm` in the `jam_nut`"),
        ({"nut": DriveNut(hardware=NUT, side="above", recessed=mm("5.9"))}, 40.0, (38.5,), ""),  # 17 - 0.2 - 3 - 5.9 < 8
        ({"jam_nut": None}, 40.0, (38.5,), ""),
        ({"jam_nut": None, "nut": DriveNut(hardware=NUT, side="below")}, 40.0, (38.5,), "`recessed 2 mm` in the `nut`"),
        ({}, 82.0, (80.5,), "`recessed 8 mm` in the `jam_nut`"),  # 80 is the longest sold
        ({}, 82.1, (80.6,), ""),
        ({}, 36.0, (39.0,), ""),  # no deeper than it is
    ],
)
def test_recess_of_a_drives_nut(facts: dict[str, Any], least: float, under: tuple[float, ...], said: str) -> None:
    found = recess_remedy.nut_recess_that_fits(crank(**facts), least, under, 17.0, 0.2, "mm")
    assert found.startswith(said) and bool(found) == bool(said)


@pytest.mark.parametrize(
    ("recessed", "least", "most", "wood", "said"),
    [
        (None, 45.0, 48.0, 17.8, "6.8 mm"),  # as deep as the nut is high: 38.2 to 41.2
        (None, 52.0, 50.0, 17.8, "9 mm"),  # 43 to 43.2 holds a half millimetre
        ("7", 50.0, 48.0, 15.0, "9 mm"),
        ("7", 50.0, 48.0, 14.9, ""),  # 6 of wood would not be left
        ("5", 49.8, 48.0, 15.0, "8.8 mm"),  # stands out by 1.8, so 46.2 is left; 46 can be cut from 49.8 - 3.8
    ],
)
def test_recess_of_a_pivots_nut(recessed: str | None, least: float, most: float, wood: float, said: str) -> None:
    nut = DriveNut(hardware=HEX_NUT, side="above", recessed=mm(recessed) if recessed else None)
    found = recess_remedy.pivot_nut_recess(pin(screw=BOLT, nut=nut), least, most, 0.0, wood, "mm")
    assert found == (f"`recessed {said}` in the `nut` leaves room for a length that is sold" if said else "")
    tee = pin(nut=DriveNut(hardware=TEE, side="above"))
    assert recess_remedy.pivot_nut_recess(tee, least, most, 0.0, wood, "mm") == ""


@cache
def parts() -> tuple[Any, Any]:
    made = riser(riding(), Band(18.0, 17.0, 19.0), Band(10.0, 9.0, 11.0))
    return made, {state.id: state for state in solve(made).train.gears}


def drive_at(corner: Corner = MEAN, sign: int = 0, drop: float = 0.0, **facts: Any) -> DriveStack:
    made, gears = parts()
    return drive_stack(crank(**facts), (gears["hub"],), boards_at(made, corner.board), made.shop, drop, corner, sign)


def test_drive_at_its_means() -> None:
    found = drive_at()
    assert found.items == (
        ("boards under the head", 9.0), ("play", 0.2), ("nut above the gear", 1.5), ("gear between its nuts", 4.0),
        ("nut below the gear", 4.0),
    )  # fmt: skip
    # Held 9 + 0.2 + 1.5 + 4 + 4; the gear's lower face 9 + 0.2 + 1.5 + 10 under the head.
    assert (found.held_mm, found.underside_mm, found.face_mm) == pytest.approx((18.7, 20.7, 20.7))
    assert (found.thread_from_mm, found.head_z_mm, found.nut_low_mm) == pytest.approx((9.2, 9.0, -9.7))
    assert found.face_of == "the underside of `hub`"
    hub = found.gears["hub"]
    assert (hub.top_mm, hub.bottom_mm, hub.highest_bottom_mm, hub.lowest_top_mm) == pytest.approx((-1.7, -11.7, -11.5, -1.7))
    # 0.2 of play over the flange of 22 leans less than 0.4 of clearance over 9 of wood; tip radius 16 · 3 + 6.
    assert found.droop_mm == pytest.approx(54.0 * 0.2 / 22.0)
    assert (found.gear_low_mm, found.remaining_mm) == pytest.approx((-11.7 - found.droop_mm, 9.0))


def test_drive_with_washers_under_thick_boards() -> None:
    found = drive_at(Corner(1, -1, 1), 1, 3.0, washer=LARGE_WASHER, washer_places=("head", "above", "below"))
    # Under the head 1.8 + (19 - 9.2) + 0.2 + 3 + 1.8 = 16.6; then 1.5, 9 - 6.2, 1.8 and 4.
    assert (found.thread_from_mm, found.held_mm, found.underside_mm) == pytest.approx((16.6, 26.7, 27.1))
    assert (found.head_z_mm, found.gears["hub"].top_mm, found.remaining_mm) == pytest.approx((11.6, -6.5, 9.8))


@pytest.mark.parametrize(
    ("facts", "thread_from", "held", "underside"),
    [
        ({"nut": DriveNut(hardware=NUT, side="below"), "jam_nut": None}, 19.2, 26.0, 19.2),
        ({"nut": DriveNut(hardware=NUT, side="above", recessed=mm(5)), "jam_nut": None}, 9.2, 16.0, 21.0),  # 1.8 stands out
        ({"nut": DriveNut(hardware=NUT, side="above"), "jam_nut": DriveNut(hardware=JAM, side="above")}, 9.2, 20.0, 30.0),
        ({"nut": DriveNut(hardware=NUT, side="above", recessed=mm(8)), "jam_nut": None}, 9.2, 16.0, 19.2),
        ({"bolt": replace(BOLT, head=CONE)}, 13.2, 22.7, 24.7),  # counted from the top of the cone
    ],
)
def test_nuts_on_either_side(facts: dict[str, Any], thread_from: float, held: float, underside: float) -> None:
    found = drive_at(**facts)
    assert (found.thread_from_mm, found.held_mm, found.underside_mm) == pytest.approx((thread_from, held, underside))
    assert found.face_mm == pytest.approx(max(held, underside))
    assert found.face_of == ("the outer face of the nut" if held > underside else "the underside of `hub`")


def pivot_at(corner: Corner = MEAN, sign: int = 0, drop: float = 0.0, **facts: Any) -> PivotStack:
    made, gears = parts()
    return pivot_stack(pin(**facts), (gears["west"],), boards_at(made, corner.board), made.shop, drop, corner, sign)


def test_pivot_at_its_means() -> None:
    found = pivot_at(drop=2.0)
    assert found.items == (
        ("washer below the gear", 1.6), ("gear above the head", 3.0), ("play", 0.3), ("washer above the gear", 1.6),
        ("gears of higher levels", 2.0), ("thread in the wood", 9.375),
    )  # fmt: skip
    # 8.5 to the board, then 1.5 · 6.25 of thread; the tip at most 1 below the topside.
    assert (found.thread_from_mm, found.held_mm, found.face_mm) == pytest.approx((8.5, 17.875, 25.5))
    assert (found.head_z_mm, found.head_low_mm, found.gears["west"].top_mm) == pytest.approx((-8.5, -13.1, -3.9))
    # Tip radius 66; 0.3 over the washer's 18 is less than 0.2 over 3.
    assert (found.droop_mm, found.gear_low_mm) == pytest.approx((66.0 * 0.3 / 18.0, -13.9 - 66.0 * 0.3 / 18.0))


@pytest.mark.parametrize(
    ("facts", "sleeve", "play", "to_board"),
    [
        # As long as the thickest gear over the shallowest recess, 11 - 6.8, and 0.3; the washers of 6.4 inside go over 6 of sleeve.
        ({"sleeve_outside": mm(6)}, 4.5 + 3.6, 8.1 - 3.0 - 3.2, 8.1),
        ({"sleeve_outside": mm("6.4")}, 4.5 + 3.6, 8.1 - 3.0 - 3.2, 8.1),
        ({"sleeve_outside": mm(8)}, 4.5, 1.5, 4.5 + 3.2),
        ({"shoulder": mm(8), "head_recessed": None}, 11.3, 1.3, 11.3 + 3.2),
        ({"screw": replace(BOLT, head=CONE)}, None, 0.3, 6.5 + 4.0),
    ],
)
def test_sleeves_and_cones(facts: dict[str, Any], sleeve: float | None, play: float, to_board: float) -> None:
    found = pivot_at(**facts)
    assert found.sleeve_mm == (None if sleeve is None else pytest.approx(sleeve))
    assert (found.play_mm, found.thread_from_mm) == pytest.approx((play, to_board))
    cone = 4.0 if "screw" in facts else 0.0
    assert found.head_z_mm == pytest.approx(cone - to_board)
    assert (found.items[0] == ("head within the length", 4.0)) == bool(cone)
    # A head let in deeper than the gear is thick leaves no web: two washers and the play.
    assert pivot_at(head_recessed=mm(12)).thread_from_mm == pytest.approx(3.5)


@pytest.mark.parametrize(
    ("nut", "last", "end"),
    [
        (DriveNut(hardware=NUT, side="above", recessed=mm(5)), 13.0 + 6.8, 19.8),
        (DriveNut(hardware=NUT, side="above", recessed=mm(9)), 9.0 + 6.8, 18.0),
        (DriveNut(hardware=TEE, side="above", recessed=mm(2)), (18.0 - 2.0 - 9.5) + 6.25, 18.0),  # barrel 9.5, one diameter of it
        (DriveNut(hardware=TEE, side="above"), (18.0 - 9.5) + 6.25, 19.5),  # its flange stands out
    ],
)
def test_nut_of_a_pivot(nut: DriveNut, last: float, end: float) -> None:
    found = pivot_at(nut=nut)
    assert (found.held_mm, found.face_mm) == pytest.approx((6.5 + last, 6.5 + end))
    assert found.face_of == "the topside of `deck`"


def test_gears_swell() -> None:
    made, gears = parts()
    shop = made.shop.model_copy(update={"moisture_least": 5.0, "moisture_most": 11.0})
    # 0.063 on 18 for each percent (from memory): 20 of gears, 6 percent.
    assert swelling_mm((gears["hub"], gears["west"]), shop) == pytest.approx(0.063 / 18.0 * 20.0 * 6.0)
