"""What bores and axes take of the shop's errors, function by function: figures by hand. Lengths mm."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.designs import INSERT, TEE_NUT, design, drive, foot, gear, mm, pivot
from tests.designs_feet import JAM, NUT, TEE, captured, riding, sliding

from trivet.model.base import Ref
from trivet.model.board import Board
from trivet.model.foot import Foot, Guide, InsertUse
from trivet.model.outline import Outline
from trivet.model.shop import Machine, Shop
from trivet.solve.backlash_budget import Carrying, Cutting, backlash_budget
from trivet.solve.bore import gear_bore
from trivet.solve.carrying import gear_carrying, gear_cutting
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry
from trivet.solve.train_parts import train_parts


def parts(**facts: Any) -> Any:
    outline = Outline(shape="rectangle", width_mm=480.0, height_mm=350.0)
    machines = (Machine(name=Ref("fine"), **{"profile_offset": mm("0.02"), "run_out": mm("0.03"), "hole_position": mm("0.04")}), Machine(name=Ref("bare")))
    boards = tuple(
        Board(name=Ref(name), stock=Ref("ply"), cutter=Ref("straight"), outline=outline, machine=Ref(machine) if machine else None)
        for name, machine in (("lid", "bare"), ("deck", ""), ("shelf", "fine"))
    )
    shop = Shop(profile_offset_mm=0.05, run_out_mm=0.06, hole_position_mm=0.07, bore_clearance_mm=0.2, insert_tilt_deg=0.5)
    return train_parts(design((), boards=boards, machines=machines, shop=shop, **facts))


def test_what_cuts_a_gear() -> None:
    assert gear_cutting(gear("a", 20), parts()) == Cutting("straight", "", 0.05, 0.06)
    assert gear_cutting(gear("a", 20, machine=Ref("bare")), parts()) == Cutting("straight", "bare", 0.05, 0.06)
    assert gear_cutting(gear("a", 20, machine=Ref("fine")), parts()) == Cutting("straight", "fine", 0.02, 0.03)


HOLE = ("hole position", 0.07)


def near(value: float) -> Any:
    return pytest.approx(value, abs=1e-12)


def test_what_holds_an_axis() -> None:
    def shifts(made: Any, hole: float = 8.5, **facts: Any) -> tuple[tuple[str, float], ...]:
        held = gear_carrying(made, parts(**facts), hole, 40.0)
        assert (held.tilt_rad, held.reach_mm) == (0.0, 0.0)
        return held.shifts

    driven, bolt = gear("a", 20, drive=True), ("clearance of the bolt's hole", near(0.2))
    # Half of 8.4 - 8 and of 8.5 - 8; a tee nut is driven in tight, and a bolt as wide as its hole has no play.
    assert shifts(driven, drives=(drive(nut=NUT),)) == (HOLE, bolt, ("bore clearance", 0.25)) and shifts(driven, drives=(drive(),)) == (HOLE, bolt)
    assert shifts(driven, 8.0, drives=(drive(nut=NUT, hole_mm=7.9),)) == (HOLE,)
    for board, position in (("lid", 0.07), ("deck", 0.07), ("shelf", 0.04)):
        assert shifts(gear("a", 20, under=Ref(board))) == (("hole position", position), ("bore clearance", 0.25))
    # A sleeve of 8, a shoulder of 10 or the thread of 8 itself.
    assert shifts(gear("a", 20), 10.3, pivots=(pivot(sleeve_outside=None, shoulder=mm(10)),)) == (HOLE, ("bore clearance", near(0.15)))
    assert shifts(gear("a", 20), 8.3, pivots=(pivot(sleeve_outside=None),)) == (HOLE, ("bore clearance", near(0.15)))
    carried = gear("a", 20, foot=True)
    assert shifts(carried, 8.2, feet=(captured(),)) == (HOLE, ("bore clearance", near(0.1)))
    assert shifts(carried, feet=(riding().model_copy(update={"insert": None}),)) == (HOLE,)
    assert shifts(carried, feet=(sliding().model_copy(update={"insert": None}),)) == (HOLE, ("clearance of the socket", 0.1))
    assert shifts(gear("a", 20, shaft="b")) == (HOLE,)


@pytest.mark.parametrize(
    ("use", "middle"),
    [
        # The deck is 17.8 thick at its mean, the insert 15 long, the tee nut's barrel 9.5.
        ({"flush": "underside"}, 7.5), ({"flush": "underside", "proud": mm(2)}, 5.5),
        ({"flush": "topside"}, 10.3), ({"flush": "topside", "proud": mm(2)}, 12.3),
        ({"flush": "underside", "hardware": TEE}, 4.75), ({"flush": "topside", "hardware": TEE_NUT}, 13.05),
    ],
)  # fmt: skip
def test_middle_of_an_insert(use: dict[str, Any], middle: float) -> None:
    made: Foot = foot(insert=InsertUse(**({"hardware": INSERT, "driven_from": "topside"} | use)))
    held = gear_carrying(gear("a", 20, foot=True), parts(feet=(made,)), 8.2, 40.0)
    assert held == Carrying((HOLE,), math.radians(0.5), near(40.0 + middle))


@pytest.mark.parametrize(("clearance", "tilt"), [("0.1", math.atan(0.005)), ("1", math.radians(0.5))])
def test_a_guide_lets_a_screw_lean_by_its_clearance(clearance: str, tilt: float) -> None:
    guided = riding(guide=Guide(clearance=mm(clearance), length=mm(20)))
    assert gear_carrying(gear("a", 20, foot=True), parts(feet=(guided,)), 8.2, 40.0).tilt_rad == near(tilt)


def test_bore_of_every_gear() -> None:
    hub, nw, west, mate = gear("hub", 20, drive=True), gear("nw", 20, foot=True), gear("west", 20), gear("mate", 20, shaft="hub")
    passes = "the M8 bolt passes with the fit of its hole in the board (fine)"
    assert gear_bore(gear("x", 20, bore=mm(7)), hub, parts()) == (7.0, "stated as `bore`")
    assert gear_bore(hub, hub, parts()) == (10.0, "hole for the tee nut's M8 barrel") and gear_bore(mate, hub, parts()) == (8.4, passes)
    assert gear_bore(hub, hub, parts(drives=(drive(nut=JAM),))) == (8.4, passes)
    for made, size, what in (
        (pivot(sleeve_outside=mm(9), shoulder=mm(10)), 9.2, "sleeve outside 9 mm"), (pivot(sleeve_outside=None, shoulder=mm(10)), 10.2, "shoulder 10 mm"),
        (pivot(sleeve_outside=None), 8.2, "M8 thread 8 mm"),
    ):  # fmt: skip
        assert gear_bore(west, west, parts(pivots=(made,))) == (near(size), f"{what} plus 0.2 mm bore clearance")
    assert gear_bore(nw, nw, parts()) == (8.2, "shank of the screw, M8 8 mm, plus 0.2 mm")
    assert gear_bore(nw, nw, parts(feet=(captured(),))) == (8.2, "rod, M8 8 mm, plus 0.2 mm bore clearance")
    assert gear_bore(nw, nw, parts(feet=(sliding(),)), "in") == (8.2, "thread above the socket, M8 0.315 in, plus 0.008 in bore clearance")
    assert gear_bore(mate, mate, parts()) == (0.0, "nothing holds the gear: no bore")


def test_errors_alike_stand_by_name() -> None:
    """Largest first, then by their words, whichever gear they are of; without moisture there is no swing."""
    sharp, held = Cutting("four", "", 0.0, 0.0), Carrying((("play", 0.1), ("hole position", 0.1), ("small", 0.05)))
    made = mesh_geometry(ToothGeometry(20, 4.0, thinning_mm=0.2), ToothGeometry(30, 4.0, thinning_mm=0.2), 100.0)
    assert made is not None
    found = backlash_budget("b", "a", made, 18.0, (sharp, sharp), (held, held))
    assert [what for what, _, _ in found.backlash.contributors] == [
        "hole position of `a`", "hole position of `b`", "play of `a`", "play of `b`", "small of `a`", "small of `b`"
    ]  # fmt: skip
    assert found.moisture_mm == 0.0 and found.centre_distance_least_mm == near(100.0 - 0.5) and (held.tilt_rad, held.reach_mm) == (0.0, 0.0)
