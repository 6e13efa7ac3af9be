"""Backlash with the shop's errors, and the bores of gears; expected figures worked out here from the plain geometry."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.designs import HEX_NUT, INSERT, M8, design, drive, foot, gear, mesh, mm, pivot, tooth_form

from trivet.model.base import Ref
from trivet.model.foot import Guide, InsertUse, Pad
from trivet.model.shop import Cutter, Machine, Shop
from trivet.model.train import Gear
from trivet.solve.derived import MeshState
from trivet.solve.train import solve_train

HUB = gear("hub", 20, (0, 0), drive=True)
# The same moisture all year round.
DRY = {"moisture_least": 8.0, "moisture_most": 8.0}
PERFECT = Shop(hole_position_mm=0.0, profile_offset_mm=0.0, bore_clearance_mm=0.0, insert_tilt_deg=0.0, **DRY)
TIGHT = drive(hole_mm=8.0)
TAN, COS = math.tan(math.radians(20)), math.cos(math.radians(20))


def one_mesh(b: Gear | None = None, **facts: Any) -> MeshState:
    return solve_train(design((HUB, b or gear("b", 20)), (mesh("hub", "b", 0),), **facts)).meshes[0]


def test_without_errors_nothing_varies() -> None:
    backlash = one_mesh(shop=PERFECT, drives=(TIGHT,)).backlash
    assert backlash.contributors == () and backlash.rss_mm == 0.0
    assert backlash.nominal_mm == backlash.min_mm == backlash.max_mm == pytest.approx(0.4)


def test_profile_offset_changes_the_normal_backlash_by_four_times_itself() -> None:
    backlash = one_mesh(shop=PERFECT.model_copy(update={"profile_offset_mm": 0.05}), drives=(TIGHT,)).backlash
    assert backlash.nominal_mm - backlash.min_mm == pytest.approx(4 * 0.05 / COS)
    assert backlash.rss_mm == pytest.approx(4 * 0.05 / COS)


def test_two_cutters_err_on_their_own() -> None:
    backlash = one_mesh(
        gear("b", 20, cutter=Ref("other")),
        shop=PERFECT.model_copy(update={"profile_offset_mm": 0.05}),
        drives=(TIGHT,),
        cutters=tuple(Cutter(name=Ref(n), diameter=mm(4)) for n in ("straight", "other")),
    ).backlash
    assert backlash.max_mm - backlash.nominal_mm == pytest.approx(4 * 0.05 / COS)
    assert backlash.rss_mm == pytest.approx(math.sqrt(2) * 2 * 0.05 / COS)


def spread(distance: float) -> float:
    """Exact backlash of 20 and 20 teeth, m 4, each thinned 0.2 mm, at a centre distance; derived: the pitch less both teeth there."""
    base = 40 * COS
    angle = math.acos(base / (distance / 2))
    inv = math.tan(angle) - angle - (TAN - math.radians(20))
    return 2 * (distance / 40) * (math.pi - (2 * math.pi * 4 / 2 - 0.4) / 4 + 40 * inv)


def test_radial_errors_of_both_axes() -> None:
    """Hole position 0.15 twice, diametral 0.4 at the bolt and 0.2 in the bore: 0.15 + 0.15 + 0.2 + 0.1 = 0.6 mm."""
    m = one_mesh(shop=Shop(profile_offset_mm=0.0, **DRY), drives=(drive(hole_mm=8.4),))
    assert m.centre_distance_least_mm == pytest.approx(79.4)
    assert m.centre_distance_most_mm == pytest.approx(80.6)
    assert m.backlash.min_mm == pytest.approx(spread(79.4))
    assert m.backlash.max_mm == pytest.approx(spread(80.6))
    # 2 tan a per mm by the centres, and j/A by the working circles growing with them.
    per_mm = 2 * TAN + 0.4 / 80
    assert m.backlash.max_mm - m.backlash.nominal_mm > 0.6 * per_mm > m.backlash.nominal_mm - m.backlash.min_mm
    assert m.backlash.rss_mm == pytest.approx(per_mm * math.sqrt(2 * 0.15**2 + 0.2**2 + 0.1**2))
    assert [what for what, _, _ in m.backlash.contributors] == [
        "clearance of the bolt's hole of `hub`",
        "hole position of `b`",
        "hole position of `hub`",
        "bore clearance of `b`",
    ]
    assert m.contact_ratio_min < m.contact_ratio
    # Tips 44 mm each: the teeth reach 88 − 80.6 into each other.
    assert m.working_depth_min_mm == pytest.approx(7.4)


def test_a_gear_clamped_between_plain_nuts_can_sit_off_centre() -> None:
    plain = one_mesh(shop=PERFECT, drives=(drive(nut=HEX_NUT, hole_mm=8.4),))
    assert plain.centre_distance_most_mm - 80 == pytest.approx(0.2 + 0.2)


def test_insert_tilt() -> None:
    """An insert's mid-length 7.5 mm above the underside, the gears' lower faces 17.8 mm below; overlap 17.8 mm."""
    shop = PERFECT.model_copy(update={"insert_tilt_deg": 1.0})
    m = one_mesh(gear("b", 20, foot=True), shop=shop, drives=(TIGHT,))
    reach = 7.5 + 17.8
    expected = math.tan(math.radians(1)) * math.sqrt((2 * reach * TAN) ** 2 + 17.8**2)
    ((what, worst, rss),) = m.backlash.contributors
    assert what == "insert tilt of `b`"
    assert worst == rss == pytest.approx(expected)
    assert m.centre_distance_most_mm - 80 == pytest.approx(reach * math.tan(math.radians(1)))


def test_a_guide_holds_the_screw_straighter() -> None:
    shop = PERFECT.model_copy(update={"insert_tilt_deg": 1.0})
    guided = foot(guide=Guide(clearance=mm("0.1"), length=mm(20)))
    m = one_mesh(gear("b", 20, foot=True), shop=shop, drives=(TIGHT,), feet=(guided,))
    assert m.centre_distance_most_mm - 80 == pytest.approx((7.5 + 17.8) * 0.1 / 20)


def test_a_machine_has_errors_of_its_own() -> None:
    table = Machine(name=Ref("table"), profile_offset=mm("0.1"), run_out=mm("0.04"))
    m = one_mesh(gear("b", 20, machine=Ref("table")), shop=PERFECT, drives=(TIGHT,), machines=(table,))
    # Two flanks 0.1 mm off, and the cut 0.04 mm wide of its cutter, 0.02 mm a flank.
    assert m.backlash.max_mm - m.backlash.nominal_mm == pytest.approx((2 * 0.1 + 2 * 0.02) / COS)


def test_run_out_of_one_machine_for_both_gears() -> None:
    table = Machine(name=Ref("table"), run_out=mm("0.04"))
    hub = gear("hub", 20, (0, 0), drive=True, machine=Ref("table"))
    m = solve_train(
        design((hub, gear("b", 20, machine=Ref("table"))), (mesh("hub", "b", 0),), shop=PERFECT, drives=(TIGHT,), machines=(table,))
    ).meshes[0]
    assert m.backlash.contributors == (("run-out of both gears", m.backlash.rss_mm, m.backlash.rss_mm),)
    assert m.backlash.rss_mm == pytest.approx(4 * 0.02 / COS)


def test_the_machine_that_cuts_the_board_places_its_holes() -> None:
    table = Machine(name=Ref("table"), hole_position=mm("0.3"))
    base = design((HUB,))
    board = base.boards[0].model_copy(update={"machine": Ref("table")})
    m = one_mesh(shop=PERFECT, drives=(TIGHT,), machines=(table,), boards=(board,))
    assert m.centre_distance_most_mm - 80 == pytest.approx(2 * 0.3)


@pytest.mark.parametrize(
    ("insert", "reach"),
    [
        # Board 17.8 mm, insert 15 mm long, gear 17.8 mm: from the insert's mid-length to the gear's lower face.
        ({"flush": "underside"}, 7.5 + 17.8),
        ({"flush": "underside", "proud": mm(2)}, 5.5 + 17.8),
        ({"flush": "topside"}, 17.8 - 7.5 + 17.8),
        ({"flush": "topside", "proud": mm(2)}, 17.8 + 2 - 7.5 + 17.8),
    ],
)
def test_where_the_insert_sits(insert: dict[str, Any], reach: float) -> None:
    use = InsertUse(hardware=INSERT, driven_from="topside", **insert)
    shop = PERFECT.model_copy(update={"insert_tilt_deg": 1.0})
    m = one_mesh(gear("b", 20, foot=True), shop=shop, drives=(TIGHT,), feet=(foot(insert=use),))
    assert m.centre_distance_most_mm - 80 == pytest.approx(reach * math.tan(math.radians(1)))


def test_teeth_of_the_second_level() -> None:
    """Below a wheel one sheet thick, a foot's gear of two sheets meshes with one of one sheet: its teeth end two sheets down."""
    gears = (HUB, gear("wheel", 20), gear("pinion", 20, shaft="wheel"), gear("b", 20, foot=True, layers=2))
    shop = PERFECT.model_copy(update={"insert_tilt_deg": 1.0})
    found = solve_train(design(gears, (mesh("hub", "wheel", 0), mesh("pinion", "b", 90)), shop=shop, drives=(TIGHT,), feet=(HEX,)))
    m = next(item for item in found.meshes if item.b == "b")
    assert m.centre_distance_most_mm - 80 == pytest.approx((7.5 + 2 * 17.8) * math.tan(math.radians(1)))


def test_feet_whose_gears_are_held_by_keepers() -> None:
    """A rod in its bore, 0.3 mm wide of it; a hex in its socket with the bore clearance besides the insert's tilt."""
    shop = PERFECT.model_copy(update={"bore_clearance_mm": 0.3, "insert_tilt_deg": 1.0})
    captured = one_mesh(gear("b", 20, foot=True), shop=shop, drives=(TIGHT,), feet=(CAPTURED,))
    assert captured.centre_distance_most_mm - 80 == pytest.approx(0.15)
    sliding = one_mesh(gear("b", 20, foot=True), shop=shop, drives=(TIGHT,), feet=(HEX,))
    assert sliding.centre_distance_most_mm - 80 == pytest.approx(0.15 + (7.5 + 17.8) * math.tan(math.radians(1)))


def test_a_bore_that_is_too_tight_takes_nothing_off() -> None:
    m = one_mesh(gear("b", 20, bore=mm(7)), shop=PERFECT, drives=(TIGHT,))
    assert m.centre_distance_most_mm == m.centre_distance_mm


def test_the_lesser_tip_clearance_counts() -> None:
    """m 4, 20 and 20: centres 80, roots 35, tips 44 and, shortened by 1 mm, 43."""
    forms = (tooth_form(), tooth_form("short", tip_shortening_mm=1.0))
    assert one_mesh(gear("b", 20, tooth_form=Ref("short")), tooth_forms=forms).tip_clearance_mm == pytest.approx(80 - 44 - 35)


CAPTURED = foot(kind="captured_nut", screw=None, insert=None, rod_standard="DIN 976-1", nut=HEX_NUT)
HEX = foot(kind="sliding_hex", socket_depth=mm(20), pad=Pad(kind="dome", drop=mm(12)))


@pytest.mark.parametrize(
    ("b", "facts", "hole", "why"),
    [
        (gear("b", 20), {}, 8.2, "sleeve outside 8 mm"),
        (gear("b", 20), {"pivots": (pivot(sleeve_outside=None, shoulder=mm(10)),)}, 10.2, "shoulder 10 mm"),
        (gear("b", 20), {"pivots": (pivot(sleeve_outside=None),)}, 8.2, "M8 thread 8 mm"),
        (gear("b", 20, bore=mm(12)), {}, 12.0, "stated"),
        (gear("b", 20, foot=True), {}, 8.2, "shank"),
        (gear("b", 20, foot=True), {"feet": (CAPTURED,), "shop": Shop(bore_clearance_mm=0.3)}, 8.3, "rod"),
        (gear("b", 20, foot=True), {"feet": (HEX,), "shop": Shop(bore_clearance_mm=0.3)}, 8.3, "above the socket"),
        (gear("b", 20, shaft="hub"), {}, 8.4, "bolt passes"),
    ],
)
def test_bores(b: Gear, facts: dict[str, Any], hole: float, why: str) -> None:
    meshes = () if b.on_shaft_with else (mesh("hub", "b", 0),)
    state = solve_train(design((HUB, b), meshes, **facts)).gear("b")
    assert state.hole_mm == pytest.approx(hole)
    assert why in state.hole_because


def test_the_drives_bore() -> None:
    assert solve_train(design((HUB,))).gear("hub").hole_mm == 10.0
    assert solve_train(design((HUB,), drives=(drive(nut=HEX_NUT, hole_mm=8.4),))).gear("hub").hole_mm == 8.4
    assert M8.designation in solve_train(design((HUB,))).gear("hub").hole_because


def test_numbers_name_their_because() -> None:
    train = solve_train(design((HUB, gear("b", 30)), (mesh("hub", "b", 0),), tooth_forms=(tooth_form(module=6),)))
    assert {b.quantity: b.value for b in train.gear("b").because} == {"speed": "-2/3", "tooth thickness": "9.225 mm"}
    assert {b.quantity: b.value for b in train.meshes[0].because} == {"centre distance": "150 mm", "backlash": "0.4 mm"}
