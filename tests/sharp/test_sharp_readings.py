"""Pockets for hexagons in words, workpieces in words, odd holes and flats on the card: each alone, figures by hand. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest
from tests.designs_feet import riding, riser
from tests.sharp.test_sharp_card import bore, drilled, row, told

from trivet.model.base import Ref
from trivet.model.board import Workpiece
from trivet.solve import hex_pocket
from trivet.solve.contour import Contour, Vertex
from trivet.solve.inspection_gears import across_flats_mm
from trivet.solve.inspection_holes import BoardHoles, spacing_readings
from trivet.solve.matching import foot_blocks, match
from trivet.solve.measured_facts import with_depths_and_lengths
from trivet.source import LibraryRow


# Hexagons.
def test_room_in_a_hexagonal_pocket() -> None:
    """Trade practice, no source: a glued head has 0.1 to 0.3 of room; one that slides in plywood 0.15 to 0.3, and never less than a glued one."""
    assert 0.1 <= hex_pocket.GLUED_ROOM_MM < hex_pocket.SLIDING_ROOM_MM <= 0.3 and hex_pocket.SLIDING_ROOM_MM >= 0.15


def test_a_narrow_cutter_in_a_hexagon() -> None:
    # A sharp corner wants (2 - √3) r more across flats, whatever r is.
    sharp = 26.0 / math.sqrt(3.0)
    for radius in (0.25, 0.5, 0.9, 3.0):
        assert hex_pocket.hex_across_flats_mm(13.0, sharp, radius) == pytest.approx(13.0 + radius * (2.0 - math.sqrt(3.0)))


def test_a_chamfered_corner_ends_on_the_cutters_arc() -> None:
    """Built from the found size: the arc of r in the corner, and on it the points of the head at e/2 and at psi from the corner's line."""
    s, e, r = 13.0, 14.7, 3.0
    found = hex_pocket.hex_across_flats_mm(s, e, r)
    assert s < found < s + r * (2.0 - math.sqrt(3.0))
    psi = math.radians(30.0) - math.acos(s / e)
    middle = found / math.sqrt(3.0) - 2.0 * r / math.sqrt(3.0)
    assert math.hypot(e / 2.0 * math.cos(psi) - middle, e / 2.0 * math.sin(psi)) == pytest.approx(r)


def test_words_of_a_hexagonal_pocket() -> None:
    row = LibraryRow("my_nuts", "M8", "own", "measured")
    # 13 · 2/√3 is 15.01; (2 − √3) 2 is 0.536.
    assert hex_pocket.hex_size(13.0, 14.38, None, 4.0, 0.1).because == (
        "13 mm across flats, plus 0.54 mm for the corners that a 4 mm cutter leaves round (15.01 mm across corners, taken sharp), plus 0.1 mm of room"
    )
    measured = hex_pocket.hex_size(13.0, 13.0, row, 4.0, 0.1).because
    assert "plus 0 mm for the corners" in measured and "(13 mm across corners, as measured)" in measured
    assert "(15.01 mm across corners, taken sharp)" in hex_pocket.hex_size(13.0, None, row, 4.0, 0.1).because
    assert hex_pocket.hex_size(12.7, None, None, 6.35, 0.254, "in").because.startswith("0.5 in across flats")


# Workpieces.
def said(least: float, most: float, low: float, high: float, riser: float = 0.0, unit: str = "mm") -> tuple[str, float | None, int | None]:
    found = match(Workpiece(name=Ref("panel"), least_mm=least, most_mm=most, riser_mm=riser), low, high, unit)
    return found.text, found.riser_mm, found.blocks


def test_what_is_said_of_a_workpiece() -> None:
    assert said(40.0, 45.0, 38.0, 48.0) == ("`panel` is matched flush from 40 mm to 45 mm", None, 0)
    # 20 under the lowest height; on the riser the tallest comes to 65: 17 over 10 of travel, in steps of 9.
    riser = "a riser of 20 mm brings its least thickness to the lowest height"
    blocks = "its tallest needs 2 foot blocks under each foot, of 9 mm each at most"
    assert said(18.0, 45.0, 38.0, 48.0) == (f"`panel` is matched flush from 38 mm to 45 mm; {riser}; {blocks}", 20.0, 2)
    assert said(18.0, 24.0, 38.0, 48.0, 15.0) == ("`panel` is matched flush from 23 mm to 24 mm; " + riser, 20.0, 0)
    one = "its tallest needs 1 foot block under each foot, of 9 mm each at most"
    assert said(40.0, 57.0, 38.0, 48.0) == (f"`panel` is matched flush from 40 mm to 48 mm; {one}", None, 1)
    assert said(60.0, 61.0, 38.0, 48.0)[0].startswith("no thickness of `panel` is matched flush; its tallest needs 2 ")
    assert said(40.0, 45.0, 38.0, 38.5)[0].endswith("; its tallest is out of reach: the travel is too short for foot blocks")
    # On 18 the least comes to 38, 30 to 48.
    assert said(20.0, 45.0, 38.0, 48.0, 18.0)[0].startswith("`panel` is matched flush from 20 mm to 30 mm; its tallest needs")
    assert said(48.5, 49.0, 38.0, 48.0)[0].startswith("no thickness of `panel` is") and said(37.5, 40.0, 38.0, 48.0)[1] == 0.5
    assert said(20.0, 45.0, 38.0, 48.0, 18.0)[1] is None and said(48.0, 48.0, 38.0, 48.0)[0] == "`panel` is matched flush from 48 mm to 48 mm"
    assert said(38.1, 38.1, 38.1, 50.8, unit="in")[0] == "`panel` is matched flush from 1.5 in to 1.5 in"


def test_travel_too_short_for_blocks() -> None:
    assert [foot_blocks(9.0, travel) for travel in (9.0, 8.0, 1.5, 1.0, 0.5)] == [0, 1, 15, None, None]
    assert foot_blocks(0.5, 0.5) == 0 and foot_blocks(9.0, 3.0, 2.0) == 6 and foot_blocks(9.0, 3.0, 3.0) is None and foot_blocks(9.0, 3.0) == 3
    # Three steps of 0.7 and 1.3 more: no fourth for the rounding of the sum.
    assert foot_blocks(3.0 * 0.7 + 1.7, 1.7) == 3


# Readings.
def test_a_bore_whose_clearance_is_just_used_up() -> None:
    on_both = "profile_offset on both sides of the hole"
    assert [told(bore(), "gear", bore_clearance=clearance)[0].why for clearance in (0.1, 0.2)] == [on_both] * 2
    assert told(bore(), "gear", bore_clearance=0.09)[0].why == "below, bore_clearance used up; above, profile_offset on both sides"


def test_short_flats_count() -> None:
    # Two flats 0.9 long lie 6 from the middle, the slopes beside them farther, and the sides 10.
    half = [(-0.45, -6.0), (0.45, -6.0), (10.0, -5.9), (10.0, 5.9)]
    around = [*half, *((-x, -y) for x, y in half)]
    slope = abs(0.45 * 5.9 - 10.0 * 6.0) / math.hypot(9.55, 0.1)
    assert slope > 6.0 and across_flats_mm(Contour(tuple(Vertex(*at) for at in around))) == pytest.approx(12.0)


@pytest.mark.parametrize(("x", "y"), [(9.9996, 20.5), (10.5, 19.9996), (9.9996, 19.9996), (10.0003, 20.0003)])
def test_a_hole_a_hair_beside_a_whole_millimetre(x: float, y: float) -> None:
    place: Any = Of(x_mm=100.0, y_mm=50.0)
    found = BoardHoles(drilled((x, y, 9.0)), place)
    for dx in (-0.0006, 0.0, 0.0006):
        for dy in (-0.0006, 0.0, 0.0006):
            assert found.at(x + 100.0 + dx, y + 50.0 + dy) is not None
    assert found.at(x + 100.0 - 0.0011, y + 50.0) is None and found.at(x + 100.0, y + 50.0 + 0.0011) is None


def test_the_first_board_that_has_both_holes() -> None:
    boards = {"lid": Of(x_mm=0.0, y_mm=0.0, machine=None), "deck": Of(x_mm=0.0, y_mm=0.0, machine=None)}
    context: Any = Of(
        design=Of(shop=Of(hole_position_mm=0.15, profile_offset_mm=0.05), units="mm"),
        derived=Of(train=Of(meshes=(Of(id="a-b", a="a", b="b"),))), parts=Of(machines={}, boards=boards),
        states={"a": Of(x_mm=10.0, y_mm=20.0), "b": Of(x_mm=40.0, y_mm=60.0)},
    )  # fmt: skip
    lid, deck = drilled((10.0, 20.0, 9.0)), drilled((10.0, 20.0, 9.0), (40.0, 60.0, 6.0))
    lid.part, other = "lid", drilled((40.0, 60.0, 9.0))
    other.part = "lid"
    assert [[item.part for item in spacing_readings(context, parts)] for parts in ((lid, deck), (other, deck), (lid, other))] == [["deck"], ["deck"], []]


def test_a_length_that_the_file_leaves_open_is_the_first_planned_one() -> None:
    rows = [row("length", f"crank.{name}.length", (f"crank.{name}",), nominal=nominal) for name, nominal in (("hub", 43.0), ("other", 45.0))]
    found = with_depths_and_lengths(riser(riding()), rows, {"crank.hub.length": -0.5, "crank.other.length": -0.25})
    length = found.drives[0].length
    assert with_depths_and_lengths(riser(riding()), rows[:1], {"crank.hub.length": 9e-7}).drives[0].length is None
    assert length is not None and length.mm == 43.0 - 0.375
