"""Figures about feet that a slip of one term would change: each sum is written out beside it. Lengths mm."""

from __future__ import annotations

import math

import pytest
from tests.designs import design, gear, mm, tooth_form
from tests.designs_feet import INSERT, captured, riding, riser, sliding

from trivet.model.base import Band, Ref
from trivet.model.board import Face, Hole
from trivet.model.foot import Foot, InsertUse, Pad
from trivet.model.outline import Placed
from trivet.model.shop import Shop
from trivet.solve.board_levels import BoardZ, boards_at, ceiling
from trivet.solve.derived import BoltChoice
from trivet.solve.face_overlap import stated_overlap_mm
from trivet.solve.foot_sliding_hex import needed_hex_mm
from trivet.solve.solve import solve
from trivet.solve.thread_zone import insert_zone

EXACT = Band(18.0, 18.0, 18.0)
# Where the bench is met soonest: head 5.15 high (5.45 is 0.15 over 5.3, so as much under), dome 3, pocket 5.8: 2.35 under the gear's
# 18; the idler's rim hangs at 1.8 of washer, 0.3 of play, 18 of gear and 66 · 0.3/18 of lean: 21.2.
BENCH = 21.2 - (18.0 + 5.15 + 3.0 - 5.8)
# With a high head the bench is met at 0.55, and the tilted rim, 66 mm at 0.5 deg, meets the board before.
RIM = 66.0 * math.tan(math.radians(0.5))
# The head bears 5.8 deep in the gear's lower face.
BEARING = -18.0 + 5.8


def screw_of(driven_from: Face) -> BoltChoice:
    """The screw of one foot, with sheets and depths without error: only heads, washers and play vary."""
    made = riser(riding(driven_from=driven_from), EXACT, EXACT)
    shop = Shop(depth_mm=0.0, insert_tilt_deg=0.5, inserts="guide_block")
    found = solve(made.model_copy(update={"shop": shop}))
    return next(item for item in found.bolts if item.part == "corner.nw")


def test_longest_screw_of_a_foot_stays_under_the_topside() -> None:
    # Tip bearing + L − e <= 18 − 0.5 at the least extension of the tightest combination.
    assert screw_of("topside").most_mm == pytest.approx(18.0 - 0.5 + RIM - BEARING)


@pytest.mark.parametrize(("driven_from", "thread_begins"), [("topside", 0.0), ("underside", 4.0)])
def test_shortest_screw_of_a_foot_fills_the_live_thread(driven_from: Face, thread_begins: float) -> None:
    # The insert is 15 long, its thread live from 4 to 15 after the driving end; 1.0 d = 8 of it must be filled.
    assert screw_of(driven_from).least_mm == pytest.approx(thread_begins + 8.0 + BENCH - BEARING)


def limit_of(made: Foot, cause: str, hard: bool) -> list[float]:
    """Extensions of a limit of a riser on exact sheets."""
    lift = solve(riser(made, EXACT, EXACT)).lift
    assert lift is not None
    return [item.extension_mm for item in lift.limits if item.cause == cause and item.hard == hard]


@pytest.mark.parametrize(
    ("head", "socket", "needed"),
    [
        (8.0, 20.0, 4.8),  # six tenths of a tall head are more than 4 mm
        (5.3, 14.0, 4.0),
        (3.0, 14.0, 3.0),  # no more than there is of head
        (8.0, 4.5, 4.5),  # nor of socket
    ],
)
def test_head_that_must_stay_in_the_socket(head: float, socket: float, needed: float) -> None:
    # 0.6 of the head or 4 mm, as the rule hex-leaves-socket says (common practice, no source).
    assert needed_hex_mm(head, socket) == pytest.approx(needed)


def test_sliding_head_about_to_leave() -> None:
    # Socket 14 deep: in comfort 4 stay inside, at parting 1.
    assert limit_of(sliding(), "hex_leaves_socket", False) == [pytest.approx(10.0)]
    assert limit_of(sliding(), "hex_leaves_socket", True) == [pytest.approx(13.0)]


@pytest.mark.parametrize(("across", "stops"), [(12, []), (15, [14.0 - 5.3 + 0.5])])
def test_post_wider_than_the_socket_stays_below_it(across: int, stops: list[float]) -> None:
    # 13 across flats: a post of 12 enters with the head, one of 15 stops 0.5 under the gear.
    post = sliding(pad=Pad(kind="dome", drop=mm(25), diameter=mm(across)))
    assert limit_of(post, "post_meets_gear", True) == pytest.approx(stops)


def test_cross_pin_in_its_slot() -> None:
    # Tip −36.3 + 60 = 23.7 over the board's underside. A pin of 3 mm has its axis one diameter under the tip. In comfort the axis
    # stays another diameter above the underside, 6 under the tip; its lower edge leaves the slot with the axis half a diameter up, 4.5.
    assert limit_of(captured(), "stop_leaves_slot", False) == [pytest.approx(17.7)]
    assert limit_of(captured(), "stop_leaves_slot", True) == [pytest.approx(19.2)]


def test_nut_let_deep_into_the_underside() -> None:
    # Gear 0 to −18, pocket 9 deep from below: the nut of 6.8 stands from −18 + 9 = −9 down to −15.8.
    # Full of thread as long as a pitch, 1.25, of the rod stands above it: tip 23.7 − e >= −9 + 1.25; hard over its lower face.
    deep = captured(pocket=mm(9))
    assert limit_of(deep, "nut_not_full", False) == [pytest.approx(31.45)]
    assert limit_of(deep, "nut_not_full", True) == [pytest.approx(38.25)]


def test_insert_standing_out_of_the_topside() -> None:
    # 2 mm out of a board of 18: from 20 down to 5; driven from above the slot takes the uppermost 4.
    use = InsertUse(hardware=INSERT, driven_from="topside", flush="topside", proud=mm(2))
    zone = insert_zone(use, BoardZ(0.0, 18.0))
    assert (zone.bottom_mm, zone.top_mm, zone.low_mm, zone.high_mm) == (5.0, 20.0, 5.0, 16.0)


@pytest.mark.parametrize(("aside", "ends"), [(0.0, "topside"), (0.3, "underside")])
def test_a_hole_above_counts_only_where_the_screw_clears_it(aside: float, ends: str) -> None:
    # A screw of 8 in a hole of 8.4 has 0.2 all round: 0.3 aside its flank meets the wood.
    made = riser(riding(), EXACT, EXACT)
    upper = made.boards[0].model_copy(update={"name": Ref("platform")})
    lower = made.boards[0].model_copy(update={"under": Ref("platform")})
    place = Placed(id="h", x_mm=100.0 + aside, y_mm=50.0)
    hole = Hole(name=Ref("h"), into=Ref("platform"), diameter_mm=8.4, because="stated", places=(place,))
    two = made.model_copy(update={"boards": (upper, lower), "holes": (hole,)})
    assert ceiling(two, boards_at(two, 0), "deck", 100.0, 50.0, 8.0)[1] == ends


def test_of_two_stated_overlaps_the_greater_counts() -> None:
    forms = (tooth_form(face_overlap=mm(4)), tooth_form("wide", face_overlap=mm(10)))
    made = design((gear("a", 20), gear("b", 20, tooth_form=Ref("wide"))), tooth_forms=forms)
    assert stated_overlap_mm(made, *made.gears) == stated_overlap_mm(made, *reversed(made.gears)) == 10.0
