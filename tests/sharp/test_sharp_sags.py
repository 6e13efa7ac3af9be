"""Boards that bend between their feet against beams and plates in books, and recesses by sums of their own. N, mm."""

from __future__ import annotations

from typing import Any

import pytest
from tests.designs import BOLT, HEX_NUT, mm
from tests.designs_feet import crank, pin
from tests.sharp.test_sharp_stacks import HALF_THREADED
from tests.sharp.test_sharp_stand import corners, foot, load, stiff

from trivet.model.train import DriveNut
from trivet.solve import recess_remedy
from trivet.solve.plate import Stiffness, plate_sags_mm, sheet_stiffness
from trivet.solve.recess_remedy import Recess


@pytest.mark.parametrize(("low", "high"), [(0.0, 1000.0), (200.0, 800.0), (150.0, 950.0)])
def test_a_strip_between_supports_that_stand_in(low: float, high: float) -> None:
    """A beam of span L with the load midway: F L³ / (48 E I), whatever hangs over at its ends (any book on strength of materials)."""
    strip = Stiffness(1e6, 1e6, 0.0, 0.5e6)
    supports = [(x, y) for x in (low, high) for y in (6.0, 34.0)]
    middle = (low + high) / 2.0
    (sag,) = plate_sags_mm(1000.0, 40.0, strip, supports, [([(10.0, middle, y) for y in (5.0, 20.0, 35.0)], (middle, 20.0))])
    assert sag == pytest.approx(30.0 * (high - low) ** 3 / (48.0 * 1e6 * 40.0), rel=0.02)
    # The same strip upright, weak along the other way: only its stiffness along itself counts.
    upright = Stiffness(0.2e6, 1e6, 0.0, 0.5e6)
    turned = [(y, x) for x, y in supports]
    (sag,) = plate_sags_mm(40.0, 1000.0, upright, turned, [([(10.0, y, middle) for y in (5.0, 20.0, 35.0)], (20.0, middle))])
    assert sag == pytest.approx(30.0 * (high - low) ** 3 / (48.0 * 1e6 * 40.0), rel=0.02)


def test_a_cantilevered_end_and_several_forces() -> None:
    """Beyond its supports by a, span L: the end gives F a² (L + a) / (3 E I); forces add up, and one from below lifts."""
    strip = sheet_stiffness(9000.0, 9000.0, 4500.0, 12.0)
    supports = [(x, y) for x in (0.0, 600.0) for y in (4.0, 36.0)]
    end, middle = [(1.0, 1000.0, y) for y in (5.0, 35.0)], [(3.0, 300.0, y) for y in (5.0, 35.0)]
    at_end = 2.0 * 400.0**2 * 1000.0 / (3.0 * 9000.0 * 144.0 * 40.0)
    # A load midway turns the end over the far support by F L²/16: it comes up by that times a.
    lifted = -6.0 * 600.0**2 / 16.0 * 400.0 / (9000.0 * 144.0 * 40.0)
    found = plate_sags_mm(1000.0, 40.0, strip, supports, [(end, (1000.0, 20.0)), (middle, (1000.0, 20.0)), ([*end, *middle], (1000.0, 20.0))])
    assert found[0] == pytest.approx(at_end, rel=0.02) and found[1] == pytest.approx(lifted, rel=0.03)
    assert found[2] == pytest.approx(found[0] + found[1], rel=1e-5)
    # The work of one force over the way of the other is the same both ways round (Maxwell).
    (other,) = plate_sags_mm(1000.0, 40.0, strip, supports, [([(6.0, 1000.0, 20.0)], (300.0, 20.0))])
    (back,) = plate_sags_mm(1000.0, 40.0, strip, supports, [([(6.0, 300.0, 20.0)], (1000.0, 20.0))])
    assert other == pytest.approx(back, rel=1e-4)


@pytest.mark.parametrize(("poisson", "factor"), [(0.3, 0.0249)])
def test_a_square_plate_on_its_corners(poisson: float, factor: float) -> None:
    """Evenly loaded: 0.0249 q a⁴/D in the middle (Timoshenko & Woinowsky-Krieger, plates supported at the corners; from memory, so 4 %)."""
    bending = Stiffness(1e6, 1e6, poisson * 1e6, (1.0 - poisson) / 2.0 * 1e6)
    side, count = 400.0, 12
    places = [(side * (k + 0.5) / count) for k in range(count)]
    pushes = [(1.0, x, y) for x in places for y in places]
    (sag,) = plate_sags_mm(side, side, bending, [(0, 0), (side, 0), (0, side), (side, side)], [(pushes, (side / 2, side / 2))])
    assert sag == pytest.approx(factor * (count**2 / side**2) * side**4 / 1e6, rel=0.04)


def test_a_push_never_lifts_its_own_place() -> None:
    """Twist of three held corners, w = P a b / (4 D) downwards (pure twist)."""
    bending = sheet_stiffness(9000.0, 6000.0, 600.0, 12.0)
    (sag,) = plate_sags_mm(400, 300, bending, [(0, 0), (400, 0), (0, 300)], [([(20.0, 400, 300)], (400, 300))])
    assert sag == pytest.approx(20.0 * 400 * 300 / (4 * 600 * 144), rel=0.01)


def test_a_board_with_feet_at_its_very_corners() -> None:
    """The board reaches from −50 to 350 and to 250; its feet stand at the edges or just within."""
    for inset, count in ((0.0, 1), (0.4, 1), (-0.1, 0)):
        low_x, low_y, high_x, high_y = -50.0 + inset, -50.0 + inset, 350.0 - inset, 250.0 - inset
        feet = (foot("sw", low_x, low_y), foot("se", high_x, low_y), foot("ne", high_x, high_y), foot("nw", low_x, high_y))
        for near in (load(100.0, 150.0, 100.0), load(100.0, -49.0, -49.0), load(100.0, 349.0, 249.0), load(100.0, 349.5, 100.0)):
            found = stiff(feet, (near,), material="mdf")
            assert len(found) == count and all(item.modulus_x == 2200.0 for item in found)


def test_each_foot_is_held_to_the_board() -> None:
    """One foot beyond one edge is enough to know nothing."""
    for name, x, y in (("sw", -50.5, 0.0), ("sw", 0.0, -50.5), ("ne", 350.5, 200.0), ("ne", 300.0, 250.5)):
        feet = tuple(foot(name, x, y) if item.gear == name else item for item in corners())
        assert stiff(feet, (load(100.0, 150.0, 100.0),)) == () and len(stiff(corners(), (load(100.0, 150.0, 100.0),))) == 1


def test_a_load_is_where_it_is_on_the_board() -> None:
    """Feet in a square on a board that stands out by 50 all round: by symmetry four places sag alike, and the middle more."""
    places = [(100.0, 60.0), (200.0, 60.0), (100.0, 140.0), (200.0, 140.0)]
    found = stiff(corners(), tuple(load(100.0, x, y) for x, y in places), material="mdf")
    assert [item.sag_mm for item in found] == [pytest.approx(found[0].sag_mm, rel=1e-4)] * 4
    (middle,) = stiff(corners(), (load(100.0, 150.0, 100.0),), material="mdf")
    assert middle.sag_mm > found[0].sag_mm > 0.0


# Recesses.
@pytest.mark.parametrize(
    ("deepest", "said"),
    [
        # 1 deeper than 6.35: 19/64 in is 7.541, 0.29 in is 7.366, and below 7.35 nothing does.
        (7.6, "`head recessed 19/64 in` (0.297 in) lets a screw of 40 mm do as bought"),
        (7.5, "`head recessed 0.29 in` lets a screw of 40 mm do as bought"),
        (7.366, "`head recessed 0.29 in` lets a screw of 40 mm do as bought"),
        (7.36, ""),
    ],
)
def test_a_recess_in_hundredths_where_no_64th_does(deepest: float, said: str) -> None:
    assert recess_remedy.recess_for_stock(HALF_THREADED, 41.0, 43.0, 60.0, Recess(6.35, 0.0, deepest), "in") == said


def test_a_pivot_without_a_recess() -> None:
    assert recess_remedy.pivot_recess(pin(head_recessed=None), 17.6, 0.2) == Recess(0.0, 0.0, pytest.approx(14.4))


@pytest.mark.parametrize(
    ("facts", "least", "said"),
    [
        # 6 and what is lacking and a half: up to 17 − 0.2 − 3 = 13.8 where no other nut is let in.
        ({}, 45.0, "`recessed 13 mm` in the `jam_nut`"),
        ({}, 45.8, "`recessed 13.8 mm` in the `jam_nut`"),
        ({}, 46.0, ""),
        ({"nut": DriveNut(hardware=HEX_NUT, side="above", recessed=mm(1))}, 45.0, ""),
        ({"nut": DriveNut(hardware=HEX_NUT, side="above", recessed=mm("0.8"))}, 45.0, "`recessed 13 mm` in the `jam_nut`"),
        # No deeper than it is: 38 and a half less 38.5 asks for nothing more.
        ({}, 38.0, ""),
        ({}, 38.1, "`recessed 6.1 mm` in the `jam_nut`"),
    ],
)
def test_how_deep_a_drives_nut_may_go(facts: dict[str, Any], least: float, said: str) -> None:
    found = recess_remedy.nut_recess_that_fits(crank(**facts), least, (38.5, 39.0), 17.0, 0.2, "mm")
    assert found.startswith(said) and bool(found) == bool(said)


@pytest.mark.parametrize(
    ("recessed", "least", "most", "wood", "said"),
    [
        # Nothing let in, 6.8 high: 60, the longest sold, is what 66.8 leaves, and at 9 deep 69 asks for just that.
        (None, 69.0, 66.8, 17.8, "9 mm"),
        # Let in deeper than it is high: nothing stands out, 48 is the room, and 50 less 2 asks for it.
        ("8", 50.0, 48.0, 16.0, "10 mm"),
        ("8", 50.0, 48.0, 15.9, ""),
    ],
)
def test_how_deep_a_pivots_nut_may_go(recessed: str | None, least: float, most: float, wood: float, said: str) -> None:
    nut = DriveNut(hardware=HEX_NUT, side="above", recessed=mm(recessed) if recessed else None)
    found = recess_remedy.pivot_nut_recess(pin(screw=BOLT, nut=nut), least, most, 0.0, wood, "mm")
    assert found == (f"`recessed {said}` in the `nut` leaves room for a length that is sold" if said else "")
