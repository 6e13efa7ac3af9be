"""Distances of discs and plates against a general geometry library, and the squares against trying every pair."""

from __future__ import annotations

import itertools
import math
import random

import pytest
from shapely.geometry import Point, Polygon
from tests.quick_solve import findings_alone

from trivet.checks._examples import BASE
from trivet.solve.contour_shapes import rectangle
from trivet.solve.plan import disc_gap_mm, plates_gap_mm
from trivet.solve.solid import Solid, share_height
from trivet.solve.solid_grid import SolidGrid, gap_mm
from trivet.solve.spanner import socket_mm


@pytest.mark.parametrize("seed", range(40))
def test_a_disc_and_a_plate(seed: int) -> None:
    """Outside: the library's distance. Inside or across: negative, by the depth of the disc's nearest rim."""
    draw = random.Random(seed)
    plate = rectangle(0.0, 0.0, 120.0, 60.0, 0.0).rotated(draw.uniform(0, 3))
    x, y, r = draw.uniform(-100, 200), draw.uniform(-100, 150), draw.uniform(1, 40)
    polygon = Polygon(plate.points(0.001))
    gap = disc_gap_mm((x, y), r, plate)
    middle = Point(x, y)
    signed = -polygon.exterior.distance(middle) if polygon.contains(middle) else polygon.distance(middle)
    assert gap == pytest.approx(signed - r, abs=1e-6)
    assert (gap < 0.0) == (polygon.distance(middle) < r)


@pytest.mark.parametrize("seed", range(60))
def test_two_plates(seed: int) -> None:
    """The gap is the library's distance where they are apart, and negative exactly where they overlap."""
    draw = random.Random(seed)
    one = rectangle(0.0, 0.0, 120.0, 60.0, 0.0).rotated(draw.choice((0.0, draw.uniform(0, 3))))
    other = rectangle(0.0, 0.0, 120.0, 60.0, 0.0).rotated(draw.choice((0.0, draw.uniform(0, 3))))
    other = other.translated(draw.choice((0.0, draw.uniform(-160, 160))), draw.uniform(-120, 120))
    first, second = Polygon(one.points(0.001)), Polygon(other.points(0.001))
    gap = plates_gap_mm(one, other)
    shared = first.intersection(second).area
    if shared > 0.01:
        assert gap < 0.0
    else:
        assert gap == pytest.approx(first.distance(second), abs=1e-6)


def _solids(seed: int) -> list[Solid]:
    draw = random.Random(seed)
    return [
        Solid(
            "gear" if k % 2 else "head", f"p{k}", f"p{k}", draw.uniform(0, 900), draw.uniform(0, 900), draw.uniform(2, 90), 0.0, 9.0
        )
        for k in range(60)
    ]


@pytest.mark.parametrize("seed", range(10))
def test_squares_lose_no_pair(seed: int) -> None:
    solids = _solids(seed)
    grid = SolidGrid(solids, 1.0)
    for one in solids:
        near = {item.part for item in grid.near(one)}
        for other in solids:
            if math.dist((one.x_mm, one.y_mm), (other.x_mm, other.y_mm)) < one.radius_mm + other.radius_mm + 1.0:
                assert other.part in near


def test_a_solid_too_wide_for_the_squares_is_still_found() -> None:
    small = Solid("gear", "a", "a", 0.0, 0.0, 10.0, 0.0, 1.0)
    huge = Solid("head", "b", "b", 50_000.0, 0.0, 60_000.0, 0.0, 1.0)
    grid = SolidGrid([small, huge], 1.0)
    assert {item.part for item in grid.near(small)} == {"a", "b"} == {item.part for item in grid.near(huge)}
    assert gap_mm(small, huge) == -10_010.0


@pytest.mark.parametrize("moves", list(itertools.product((False, True), repeat=2)))
def test_heights_that_are_shared_at_some_place_of_the_travel(moves: tuple[bool, bool]) -> None:
    """Against stepping through the travel by hundredths."""
    draw = random.Random(7)
    for _ in range(40):
        lows, tall = (draw.uniform(-40, 0), draw.uniform(-40, 0)), (draw.uniform(1, 20), draw.uniform(1, 20))
        travel = draw.uniform(0, 15)
        one, other = (Solid("gear", "ab"[k], "ab"[k], 0, 0, 1, lows[k], lows[k] + tall[k], moves[k]) for k in range(2))
        best = -math.inf
        for step in range(1001):
            down = [travel * step / 1000 if moving else 0.0 for moving in moves]
            top = min(lows[k] + tall[k] - down[k] for k in range(2))
            best = max(best, top - max(lows[k] - down[k] for k in range(2)))
        assert share_height(one, other, travel) == pytest.approx(best, abs=0.02) or (
            best < 0.0 and share_height(one, other, travel) < 0.0
        )


def test_socket_spanners() -> None:
    """Common practice: about 19 mm outside for 13 mm across flats, 15 mm for 10 mm, 27 mm for 19 mm."""
    assert [round(socket_mm(flats)) for flats in (10, 13, 19)] == [15, 19, 27]


def test_a_nut_recess_deeper_than_its_board() -> None:
    text = BASE
    for old, new in (
        ("  thread ST6.3\n  screw ISO 7049, head recessed 7 mm\n", "  thread M6\n  bolt ISO 4017, head recessed 5 mm\n"),
        ("  drill 5 mm\n", "  nut ISO 4032, above board, recessed {} mm, round 16 mm\n"),
    ):
        assert text.count(old) == 1
        text = text.replace(old, new)
    (item,) = findings_alone(text.replace("{}", "18"), "thin-pocket-floor")
    assert item.severity == "error" and "the recess for the nut of `pin`" in item.message and "goes through `deck`" in item.message
    assert findings_alone(text.replace("{}", "8"), "thin-pocket-floor") == []
