"""Figures of gears, bolts and pieces that a swapped argument or a dropped term would change. Lengths mm."""

from __future__ import annotations

import math
from typing import Literal

import pytest
from tests.designs import design, drive, gear, mesh, mm, q, ring
from tests.designs_feet import NUT, cap_screw, crank, pin, riding, riser

from trivet.drawing.shapes import Circle
from trivet.drawing.sheet import Layer
from trivet.drawing.size_labels import size_labels
from trivet.model.base import Band
from trivet.model.foot import Pad
from trivet.model.hardware import ThreadLength
from trivet.model.shop import Shop
from trivet.model.train import DriveNut
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry
from trivet.solve.solve import solve
from trivet.solve.train import solve_train
from trivet.tables.hardware_items import hardware_items

EXACT = Band(18.0, 18.0, 18.0)


# The same moisture all year round.
DRY = {"moisture_least": 8.0, "moisture_most": 8.0}


def test_tilt_counts_over_the_thinner_gear() -> None:
    """A hub of two layers, 35.6, beside a foot's gear of 17.8: tan τ √((2 ℓ tan a)² + 17.8²), ℓ = 7.5 + 17.8."""
    made = design(
        (gear("hub", 20, (0, 0), drive=True, layers=2), gear("b", 20, foot=True)),
        (mesh("hub", "b", 0),),
        shop=Shop(hole_position_mm=0.0, profile_offset_mm=0.0, bore_clearance_mm=0.0, insert_tilt_deg=1.0, **DRY),
        drives=(drive(hole_mm=8.0),),
    )
    ((_, share, _),) = solve_train(made).meshes[0].backlash.contributors
    lean = 2 * (7.5 + 17.8) * math.tan(math.radians(20))
    assert share == pytest.approx(math.tan(math.radians(1)) * math.hypot(lean, 17.8))


def test_the_smaller_gear_turns_further_in_its_play() -> None:
    # At standard centres the play is what both teeth are thinned by, 0.2 + 0.2; radii m z/2 of 40 and 80.
    found = mesh_geometry(ToothGeometry(20, 4.0, thinning_mm=0.2), ToothGeometry(40, 4.0, thinning_mm=0.2), 120.0)
    assert found is not None and found.angular_backlash_rad == pytest.approx((0.4 / 40, 0.4 / 80))


def test_short_teeth_need_less_shift() -> None:
    # ha* − (z/2) sin² a with ha* 0.8, ten teeth: 0.8 − 5 sin² 20.
    small = ToothGeometry(10, 4.0, addendum_coefficient=0.8)
    assert small.least_shift == pytest.approx(0.8 - 5 * math.sin(math.radians(20)) ** 2)


def test_thread_may_begin_at_a_nut_that_is_below() -> None:
    # Board 18 − 9, play 0.2, gear 18 − 6: the only nut begins 21.2 under the head and ends at 28. A bolt of 28 with 8 of thread has a
    # shank of 20, which ends in the gear.
    bolt = cap_screw(ThreadLength(full=False, factor=0.0, to_125_mm=8.0), (28.0,))
    nut = DriveNut(hardware=NUT, side="below", recessed=mm(6))
    made = riser(riding(), EXACT, EXACT, drives=(crank(nut=nut, jam_nut=None, bolt=bolt),), shop=Shop(depth_mm=0.0))
    found = next(item for item in solve(made).bolts if item.part == "crank.hub")
    assert found.least_mm == pytest.approx(28.0)
    assert (found.buy_mm, found.cut_to_mm) == (28.0, None)


@pytest.mark.parametrize(("kind", "glued"), [("dome", True), ("swivel", False)])
def test_a_swivel_foot_is_not_glued(kind: Literal["dome", "swivel"], glued: bool) -> None:
    # Glue would stop it swivelling.
    made = riser(riding(pad=Pad(kind=kind, drop=mm(3))))
    assert {piece.glued for piece in hardware_items(made, solve(made)) if piece.kind == "pad"} == {glued}


def test_sleeve_to_saw() -> None:
    # As long as the thickest gear over the shallowest recess, 18.0 − 6.8, and 0.3 of play: what is sawn is that.
    made = riser(riding(), pivots=(pin(sleeve_outside=mm(10)),))
    assert [piece.cut_to_mm for piece in hardware_items(made, solve(made)) if piece.kind == "sleeve"] == [pytest.approx(11.5)] * 2


def test_a_ring_closes_within_half_its_backlash() -> None:
    # Four meshes without errors, 0.4 each: a residual may be taken up from both ends, 0.8 in all.
    made = design(
        (gear("a", 20, drive=True), gear("b", 20), gear("c", 20), gear("d", 20)),
        rings=(ring("dance", ("a", "b", "c", "d")),),
        shop=Shop(hole_position_mm=0.0, profile_offset_mm=0.0, bore_clearance_mm=0.0, insert_tilt_deg=0.0, **DRY),
        drives=(drive(hole_mm=8.0),),
    )
    (loop,) = solve_train(made).loops
    assert loop.allowed_mm == pytest.approx(0.8)


def test_sizes_on_an_inch_board_are_inches() -> None:
    hole = Circle(0.0, 0.0, 12.7, "hole", "stated")
    layer = Layer("bore through", "bore", "topside", None, "deck", (hole,), "holes")
    assert [text.text for text in size_labels((layer,), "in")] == ["Ø1.000"]
    assert [text.text for text in size_labels((layer,), "mm")] == ["Ø25.40"]


def test_a_loose_bolt_lets_its_gear_droop() -> None:
    # Tips at 54; the bolt has 0.4 in 9 of wood, less than 2 of play over a flange of 22: 54 · 0.4/9 = 2.4.
    found = solve(riser(riding(), EXACT, EXACT, drives=(crank(play=mm(2)),), shop=Shop(depth_mm=0.0))).drives[0]
    said = {what: value for because in found.because for what, value, _ in because.inputs}
    assert said["droop"] == "2.4 mm"


def test_thousandths_of_an_inch() -> None:
    # 1 in is 25.4 mm exactly (international yard, 1959), so 500 thou are 12.7.
    assert q(500, "thou").mm == pytest.approx(12.7)
