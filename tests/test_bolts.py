"""Bolts, screws and stacks: each length by hand sums. Lengths mm."""

from __future__ import annotations

import itertools

import pytest
from tests.designs import design, gear, mesh, mm
from tests.designs_feet import (
    JAM,
    LARGE_WASHER,
    METRIC_STOCK,
    NUT,
    PAN,
    ST6,
    TEE,
    cap_screw,
    captured,
    crank,
    hex_screw,
    pin,
    riding,
    riser,
)

from trivet.model.base import Band, Ref
from trivet.model.design import Design
from trivet.model.hardware import Head, Screw, ThreadLength
from trivet.model.intent import Have
from trivet.model.shop import Shop
from trivet.model.train import Drive, DriveNut, Pivot
from trivet.solve.bolt_length import choose_length, cut_length_mm, drawer_mm
from trivet.solve.derived import BoltChoice, Derived
from trivet.solve.solve import solve

EXACT = Band(18.0, 18.0, 18.0)


def bolt_of(found: Derived, part: str) -> BoltChoice:
    return next(item for item in found.bolts if item.part == part)


def with_drive(drive: Drive, sheet: Band | None = None) -> Derived:
    return solve(riser(riding(), sheet, sheet, drives=(drive,)))


def with_pivot(pivot: Pivot, sheet: Band | None = None, shop: Shop | None = None) -> Derived:
    made = riser(riding(), sheet, sheet, pivots=(pivot,))
    return solve(made.model_copy(update={"shop": shop or made.shop}))


def test_drive_bolt_by_hand() -> None:
    found = bolt_of(with_drive(crank()), "crank.hub")
    # Longest: deck 18.0 − 8.8, play 0.2, flange 1.5, gear 18.0 − 5.8, jam nut 4.0. Room: deck 17.6 − 9.2, 0.2, 1.5, gear 17.6.
    assert (found.least_mm, found.most_mm) == pytest.approx((27.1, 27.7))
    assert (found.buy_mm, found.cut_to_mm, found.fits) == (30.0, 27.5, True)
    assert found.room_ends_at == "the underside of `hub`"
    # With the head let in 2.1 mm deeper the longest stack is 25.0, which is sold.
    assert found.remedy == "`head recessed 11.1 mm` lets a screw of 25 mm do as bought"
    deeper = bolt_of(with_drive(crank(head_recessed=mm("11.1"))), "crank.hub")
    assert (deeper.buy_mm, deeper.cut_to_mm) == (25.0, None)


def test_stack_adds_up() -> None:
    found = bolt_of(with_drive(crank()), "crank.hub")
    assert sum(band.mean for _, band in found.stack) == pytest.approx(8.8 + 0.2 + 1.5 + 11.8 + 4.0)
    assert sum(band.most for _, band in found.stack) == pytest.approx(found.least_mm)


def test_no_length_where_the_spread_is_wider_than_the_room() -> None:
    # Jam nut 4.5 mm deep leaves 0.5 mm; sheets and depths vary by 1.6.
    jam = DriveNut(hardware=JAM, side="below", recessed=mm("4.5"), round=mm(24))
    short = crank(jam_nut=jam, bolt=cap_screw(stock=(20.0,)))
    found = bolt_of(with_drive(short), "crank.hub")
    assert (found.fits, found.buy_mm) == (False, None)
    # 28.6 against 27.7.
    assert found.remedy.startswith("0.9 mm more room")


def test_the_bench_leaves_more() -> None:
    # Captured feet stand far below the drive gear: 30 mm ends 2.3 mm under it, and that is said.
    found = bolt_of(solve(riser(captured())), "crank.hub")
    assert (found.buy_mm, found.cut_to_mm, found.room_ends_at) == (30.0, None, "the bench at the lowest height")


@pytest.mark.parametrize(("length", "fits"), [(27, False), ("27.1", True), ("27.7", True), (30, False)])
def test_stated_length_is_checked(length: float | str, fits: bool) -> None:
    found = bolt_of(with_drive(crank(length=mm(length))), "crank.hub")
    assert found.fits is fits
    assert found.stated_mm == float(length)
    assert found.remedy == ("" if fits else "`length 27.5 mm` fits")


def test_stated_length_that_the_bench_allows() -> None:
    # 28 mm ends 0.3 mm under the thinnest gear, still above the bench at the lowest height.
    found = bolt_of(with_drive(crank(length=mm(28))), "crank.hub")
    assert (found.fits, found.room_ends_at) == (True, "the bench at the lowest height")


def test_plain_shank_must_end_before_the_nut() -> None:
    # b = 22: a bolt of 30 has 8 mm of shank, and the tee nut begins 17.6 − 9.2 + 0.2 = 8.6 under the head.
    partly = ThreadLength(full=False)
    good = bolt_of(with_drive(crank(bolt=cap_screw(partly))), "crank.hub")
    assert (good.buy_mm, good.cut_to_mm) == (30.0, 27.5)
    # From 40 the shank is 18: nothing fits.
    bad = bolt_of(with_drive(crank(bolt=cap_screw(partly, (40.0,)))), "crank.hub")
    assert (bad.buy_mm, bad.fits) == (None, False)
    assert bad.remedy == "a fully threaded screw: the thread must begin within 8.6 mm of the head"


def test_length_rule_by_trying() -> None:
    # Every stock length tried against every combination of two sheets and a depth, one by one.
    for least, most in itertools.product((18.2, 24.9, 27.1, 30.0, 31.0), (19.9, 25.0, 27.7, 30.0, 44.0)):
        good = [
            n for n in METRIC_STOCK if all(low <= n for low in (least, least - 1)) and all(n <= top for top in (most, most + 1))
        ]
        found = choose_length(hex_screw(), least, most, 5.0, "mm")
        assert (found.buy_mm if found.cut_to_mm is None else None) == max(good, default=None)


def test_cut_length() -> None:
    assert cut_length_mm(27.1, 27.7, "mm") == 27.5
    assert cut_length_mm(27.1, 27.4, "mm") is None
    assert cut_length_mm(26.0, 29.0, "mm") == 27.5
    # 1.0625 to 1.09375 in holds 69/64 in.
    assert cut_length_mm(27.0, 27.7, "in") == pytest.approx(25.4 * 69 / 64)


def test_washers_of_the_drive() -> None:
    found = bolt_of(with_drive(crank(washer=LARGE_WASHER, washer_places=("above", "below")), EXACT), "crank.hub")
    assert found.least_mm == pytest.approx((18 - 8.8) + 0.2 + 1.8 + 1.5 + (18 - 5.8) + 1.8 + 4.0)


def test_hexagon_nut_above_and_no_jam_nut() -> None:
    nut = DriveNut(hardware=NUT, side="above", recessed=mm(5))
    found = bolt_of(with_drive(crank(nut=nut, jam_nut=None), EXACT), "crank.hub")
    # Fills the nut: 18 − 8.8 + 0.2 + 6.8. Ends at the gear's underside: 18 − 9.2 + 0.2 + (6.8 − 5.2) + 18.
    assert (found.least_mm, found.most_mm) == pytest.approx((16.2, 28.6))
    assert found.buy_mm == 25.0


def test_wood_screw_by_hand() -> None:
    found = with_pivot(pin())
    screw = bolt_of(found, "pin.west")
    # Longest: 1.8 + (18.0 − 6.8) + 0.3 + 1.8 + 1.5 · 6.25; room: 1.4 + (17.6 − 7.2) + 0.3 + 1.4 + 17.6 − 1.
    assert (screw.least_mm, screw.most_mm) == pytest.approx((24.475, 30.1))
    assert (screw.buy_mm, screw.cut_to_mm, screw.fits) == (25.0, None, True)


def test_wood_screw_is_not_cut() -> None:
    stock = Screw(standard="ISO 7049", thread=ST6, head=PAN, threaded=ThreadLength(full=True), stock_mm=(22.0, 32.0))
    screw = bolt_of(with_pivot(pin(screw=stock)), "pin.west")
    assert (screw.buy_mm, screw.cut_to_mm, screw.fits) == (None, None, False)
    # 32 − 30.1 = 1.9, from 7 mm; 24.475 − 22 = 2.475.
    assert screw.remedy == "`head recessed 5.1 mm` lets a screw of 32 mm do as bought"


def test_countersunk_head_counts_within_the_length() -> None:
    head = Head(form="countersunk", diameter_mm=12.0, height_mm=3.5, height_max_mm=3.5)
    flat = Screw(standard="ISO 7050", thread=ST6, head=head, threaded=ThreadLength(full=True), stock_mm=(25.0, 32.0))
    assert bolt_of(with_pivot(pin(screw=flat)), "pin.west").least_mm == pytest.approx(24.475 + 3.5)


def test_play_without_and_with_a_sleeve() -> None:
    free = with_pivot(pin()).pivots[0]
    assert (free.sleeve_length_mm, free.play.least, free.play.most) == (None, 0.3, 0.3)
    # A sleeve of 10 mm stands on the washers: 18.0 − 6.8 + 0.3. Thinnest gear and deepest recess: 17.6 − 7.2.
    sleeved = with_pivot(pin(sleeve_outside=mm(10))).pivots[0]
    assert sleeved.sleeve_length_mm == pytest.approx(11.5)
    assert (sleeved.play.least, sleeved.play.mean, sleeved.play.most) == pytest.approx((0.3, 0.7, 1.1))
    # One of 6 mm passes through both washers, 1.8 each at their thickest, 1.4 at their thinnest.
    through = with_pivot(pin(sleeve_outside=mm(6))).pivots[0]
    assert through.sleeve_length_mm == pytest.approx(15.1)
    assert (through.play.least, through.play.most) == pytest.approx((0.3, 1.9))


def test_swelling() -> None:
    # 0.063 mm on 18 mm per 1 % of moisture (from memory), 6 to 12 %.
    assert with_pivot(pin(), EXACT).pivots[0].swelling_mm == pytest.approx(0.378)


def test_pivot_bolt_through_the_board() -> None:
    through = pin(screw=hex_screw(), bolt=True, nut=DriveNut(hardware=NUT, side="above", recessed=mm(8)))
    screw = bolt_of(with_pivot(through, EXACT, Shop(depth_mm=0.0)), "pin.west")
    # 1.8 + 18 − 7 + 0.3 + 1.8 + 18 − 8 + 6.8; its end stays below the topside: 1.4 + 11 + 0.3 + 1.4 + 18.
    assert (screw.least_mm, screw.most_mm) == pytest.approx((31.7, 32.1))
    assert (screw.buy_mm, screw.cut_to_mm) == (35.0, 32.0)
    tee = pin(screw=hex_screw(), bolt=True, nut=DriveNut(hardware=TEE, side="above", recessed=mm(3)))
    assert bolt_of(with_pivot(tee, EXACT, Shop(depth_mm=0.0)), "pin.west").least_mm == pytest.approx(
        1.8 + 11 + 0.3 + 1.8 + (15 - TEE.barrel_length_mm) + min(tee.thread.major_mm, TEE.barrel_length_mm)
    )


def test_droop_and_low_point() -> None:
    # R 66; bore 0.2 over 11 mm (0.01818) against play 0.3 over a washer of 18 (0.01667): 1.1.
    found = with_pivot(pin(), EXACT)
    assert found.pivots[0].droop_mm == pytest.approx(66.0 * 0.3 / 18.0)
    # Washer 1.8, play 0.3, gear 18, droop 1.1.
    assert found.pivots[0].z_low_mm == pytest.approx(-21.2)
    assert found.low_point_mm == pytest.approx(-21.2)
    assert found.low_point_part == "the idler `east`"


def test_head_not_let_in_is_the_low_point() -> None:
    # 1.8 + 18 + 0.3 + 1.8 + 4.6.
    assert with_pivot(pin(head_recessed=None), EXACT).pivots[0].z_low_mm == pytest.approx(-26.5)


def test_shaft_of_two_gears() -> None:
    made: Design = design(
        (gear("first", 16, (0, 0), drive=True), gear("wheel", 40), gear("pinion", 16, shaft="wheel"), gear("foot", 20, foot=True)),
        (mesh("first", "wheel", 0.0), mesh("pinion", "foot", 90.0)),
        sheets=riser(riding(), EXACT, EXACT).sheets,
        feet=(captured(),),
        pivots=(pin(),),
        drives=(crank(),),
    )
    found = solve(made)
    # Both gears stand on the screw: 1.8 + 36 − 6.8 + 0.3 + 1.8 + 9.375.
    assert bolt_of(found, "pin.wheel").least_mm == pytest.approx(42.475)
    # 1.6 of washer and 0.3 of play over the wheel, another 18 over the pinion.
    assert found.train.gear("wheel").z_top.mean == pytest.approx(-1.9)
    assert found.train.gear("pinion").z_top.mean == pytest.approx(-19.9)
    # The foot hangs a level lower: its keeper's underside is at −(18 + 18.3 + 18).
    assert found.feet[0].keeper_z_mm == pytest.approx(-54.3)


def test_foot_screw_to_buy() -> None:
    found = bolt_of(solve(riser(riding())), "corner.nw")
    assert (found.buy_mm, found.cut_to_mm, found.fits) == (30.0, None, True)
    cut = bolt_of(solve(riser(riding(length=mm(28)))), "corner.nw")
    assert (cut.buy_mm, cut.cut_to_mm) == (30.0, 28.0)
    short = bolt_of(solve(riser(riding(length=mm(16)))), "corner.nw")
    assert not short.fits


def test_remaining_under_the_head() -> None:
    # 17.6 − 9.2.
    assert with_drive(crank()).drives[0].remaining_under_head_mm == pytest.approx(8.4)
    assert with_drive(crank(play=None)).drives[0].play_mm == 0.2
    assert Ref("crank") == crank().name


def test_the_drawer_is_preferred_to_the_shop() -> None:
    """Of two lengths that fit, the one in the drawer is taken; one that does not fit is left there."""
    sold = hex_screw()
    assert choose_length(sold, 19.0, 26.0, 0.0, "mm").buy_mm == 25.0
    assert choose_length(sold, 19.0, 26.0, 0.0, "mm", (20.0, 30.0)).buy_mm == 20.0
    assert choose_length(sold, 19.0, 26.0, 0.0, "mm", (30.0,)).buy_mm == 25.0
    have = (
        Have(quantity=6, standard="ISO 4017", thread="M8", length_mm=20.0),
        Have(quantity=6, standard="ISO 4017", thread="M6", length_mm=22.0),
        Have(quantity=6, standard="ISO 4014", thread="M8", length_mm=24.0),
    )
    assert drawer_mm(have, sold) == (20.0,)
