"""Edges of the geometry and of the stacks where a comparison or a floor could be moved unseen. Lengths mm."""

from __future__ import annotations

import math

import pytest
from tests.designs import design, drive, gear, mesh, mm, tooth_form
from tests.designs_feet import NUT, captured, crank, pin, riding, riser
from tests.part_samples import parts_of, titled

from trivet.model.base import Band, Ref
from trivet.model.design import Design
from trivet.model.shop import Cutter, Shop
from trivet.model.train import DriveNut
from trivet.solve.corner_fillet import corner_fillet
from trivet.solve.feature import Round
from trivet.solve.segment import Segment
from trivet.solve.solve import solve

EXACT = Band(18.0, 18.0, 18.0)


@pytest.mark.parametrize(
    ("before", "after", "fits"),
    [
        # A cutter of radius 2 in a square corner to the right touches both sides 2 from the corner.
        ((0.0, 10.0), 5.0, True),
        ((8.0, 10.0), 2.0, True),
        ((0.0, 10.0), 1.9, False),
        ((8.1, 10.0), 5.0, False),
    ],
)
def test_cutter_touches_both_sides_within_their_lengths(before: tuple[float, float], after: float, fits: bool) -> None:
    found = corner_fillet(Segment(before[0], 0.0, before[1], 0.0, 0.0), Segment(10.0, 0.0, 10.0, -after, 0.0), 2.0)
    assert (found is not None) is fits
    if found is not None:
        assert (*found.from_point, *found.to_point) == pytest.approx((8.0, 0.0, 10.0, -2.0))


def test_shallow_recess_of_an_idlers_head() -> None:
    # Sheets and depths exact: a head let in by 0.5 leaves 17.5 of gear, and the sleeve is as long as that with 0.3 of play.
    made = riser(riding(), EXACT, EXACT, pivots=(pin(head_recessed=mm("0.5"), sleeve_outside=mm(8)),), shop=Shop(depth_mm=0.0))
    assert [item.sleeve_length_mm for item in solve(made).pivots] == pytest.approx([17.8, 17.8])


def test_shallow_recess_of_a_pivots_nut() -> None:
    # Board 18, its nut let in by 0.5: 17.5 of wood under the nut.
    nut = DriveNut(hardware=NUT, side="above", recessed=mm("0.5"))
    made = riser(riding(), EXACT, EXACT, pivots=(pin(nut=nut),), shop=Shop(depth_mm=0.0))
    bolt = next(item for item in solve(made).bolts if item.part == "pin.west")
    assert dict(bolt.stack)["board under the nut"].mean == pytest.approx(17.5)


@pytest.mark.parametrize("foot", [riding(), captured()])
def test_feet_are_named_after_their_set_and_gear(foot: object) -> None:
    found = {state.id: state.foot_id for state in solve(riser(foot)).train.gears}
    assert found == {name: f"corner.{name}" if name in ("nw", "sw", "ne", "se") else "" for name in found}


@pytest.mark.parametrize(("length", "cut"), [("30", None), ("29.5", 29.5), ("25.5", 25.5)])
def test_only_a_length_that_is_not_sold_is_cut(length: str, cut: float | None) -> None:
    bolt = next(item for item in solve(riser(riding(length=mm(length)), EXACT, EXACT)).bolts if item.part == "corner.nw")
    assert (bolt.buy_mm, bolt.cut_to_mm) == (30.0, cut)
    assert bolt.fits is (bolt.least_mm <= float(length) <= bolt.most_mm)


def test_thread_engaged_at_both_ends_of_the_travel() -> None:
    # The head bears 5.8 deep in a gear of 18, so the tip is at −12.2 + 30 − e; the insert's thread is live from 0 to 11.
    found = solve(riser(riding(), EXACT, EXACT))
    assert found.lift is not None
    low, high = found.lift.least_mm, found.lift.most_mm
    assert low < high
    state = found.feet[0]
    assert state.engagement_at_least_mm == pytest.approx(min(17.8 - low, 11.0))
    assert state.engagement_at_most_mm == pytest.approx(min(17.8 - high, 11.0))
    assert state.engagement_at_most_mm < state.engagement_at_least_mm


def on_two_boards(idlers_under: str) -> Design:
    base = riser(riding(), EXACT, EXACT)
    upper = base.boards[0].model_copy(update={"name": Ref("platform")})
    lower = base.boards[0].model_copy(update={"under": Ref("platform"), "clear": mm(2)})
    gears = tuple(
        item.model_copy(update={"under": Ref(idlers_under)}) if item.name.text in ("west", "east") else item for item in base.gears
    )
    return base.model_copy(update={"boards": (upper, lower), "gears": gears})


def test_room_of_a_wood_screw_is_its_own_boards_thickness() -> None:
    """Whether the board lies at the bottom or on another one, the screw has the same 18 of wood."""
    room = {
        name: next(item.most_mm for item in solve(on_two_boards(name)).bolts if item.part == "pin.west")
        for name in ("deck", "platform")
    }
    assert room["platform"] == pytest.approx(room["deck"])


def test_centre_distances_of_two_holes_out_of_place() -> None:
    # Standard distance 4 · (20 + 20)/2 = 80; each hole 0.1 out: 0.2 at worst, 0.1 · √2 likely.
    made = design(
        (gear("hub", 20, (0, 0), drive=True), gear("b", 20)),
        (mesh("hub", "b", 0),),
        shop=Shop(hole_position_mm=0.1, profile_offset_mm=0.0, bore_clearance_mm=0.0, moisture_least=8.0, moisture_most=8.0),
        drives=(drive(hole_mm=8.0),),
    )
    (found,) = solve(made).train.meshes
    assert found.centre_distance_least_mm == pytest.approx(79.8)
    assert found.centre_distance_most_mm == pytest.approx(80.2)
    assert found.centre_distance_likely_mm == pytest.approx(80.0 - 0.1 * math.sqrt(2.0))


def test_what_lies_beyond_the_greatest_height() -> None:
    # In comfort 1.0 d = 8 of thread is held, in the last turn a pitch of 1.25: 6.75 further. 16/20 of 1.25 is 1 a turn.
    found = solve(riser(riding(), EXACT, EXACT)).lift
    assert found is not None and found.beyond_most.startswith("6.8 turns (6.75 mm) beyond the end of the travel: ")
    assert found.beyond_least.startswith("at the end of the travel: ")


def test_a_stated_bolt_that_is_sold_is_bought_as_it_is() -> None:
    bolts = solve(riser(riding(), EXACT, EXACT, drives=(crank(length=mm(45)),))).bolts
    bolt = next(item for item in bolts if item.part == "crank.hub")
    assert (bolt.buy_mm, bolt.cut_to_mm) == (45.0, None)


@pytest.mark.parametrize(
    ("system", "cutter", "dowel"),
    [
        # Usual dowels of 6, 8, 10 and 12 mm, and of 1/4, 5/16, 3/8 and 1/2 in (common practice, no source): the first the cutter can cut.
        *(("metric", cutter, dowel) for cutter, dowel in ((4, 6.0), (6, 6.0), (7, 8.0), (9, 10.0), (11, 12.0))),
        *(("inch", cutter, dowel) for cutter, dowel in ((6, 6.35), (7, 7.9375), (9, 9.525), (11, 12.7))),
    ],
)
def test_dowels_that_line_up_layers(system: str, cutter: int, dowel: float) -> None:
    made = design(
        (gear("hub", 40, (0, 0), drive=True, layers=2),),
        cutters=(Cutter(name=Ref("straight"), diameter=mm(cutter), reach=mm(25)),),
        tooth_forms=(tooth_form(module=8.0, backlash="0.8"),),
        hardware=system,
    )
    (one, other) = (item.shape for item in titled(parts_of(made)["hub.layer1"], "dowel that lines up"))
    assert isinstance(one, Round) and isinstance(other, Round)
    # 0.05 to push it in; radii 2 apart, and not opposite each other, so that a layer fits one way only.
    assert (one.diameter_mm, other.diameter_mm) == pytest.approx((dowel + 0.05, dowel + 0.05))
    assert math.hypot(other.x_mm, other.y_mm) - math.hypot(one.x_mm, one.y_mm) == pytest.approx(2.0)
    turn = math.degrees(math.atan2(other.y_mm, other.x_mm) - math.atan2(one.y_mm, one.x_mm)) % 360.0
    assert 20.0 < turn < 170.0 or 190.0 < turn < 340.0
