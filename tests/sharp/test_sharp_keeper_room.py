"""Where a keeper's stand-offs find room under its board, direction by direction: plates and boards drawn for one place to fit. Lengths mm."""

from __future__ import annotations

import math
from types import SimpleNamespace as Of
from typing import Any

import pytest

from trivet.model.outline import Outline, OutlineVertex
from trivet.solve.keeper_room import StandOffs, reach_mm, stand_offs

Point = tuple[float, float]
WIDE = Outline("rectangle", 600.0, 400.0)


def named(text: str) -> Any:
    return Of(text=text)


def train(**tips: float) -> Any:
    """Gears by name; `nw_low` hangs on the shaft of `nw`. The gears of feet hang under `deck`."""
    gears = [Of(id=name, shaft=name.partition("_")[0] if "_" in name else "", tip_radius_mm=tip) for name, tip in tips.items()]
    return Of(gears=gears, gear=lambda name: Of(gear=Of(under=named("deck"))))


def foot(gear: str, at: Point, keeper: Outline | None) -> Any:
    return Of(id=f"corner.{gear}", gear=gear, x_mm=at[0], y_mm=at[1], foot=Of(keeper=None if keeper is None else Of(outline=keeper)))


def room(*feet: Any, board: Outline = WIDE, at: Point = (0.0, 0.0), **tips: float) -> list[StandOffs]:
    other = Of(name=named("lid"), outline=Outline("circle", 9.0, 9.0), x_mm=0.0, y_mm=0.0)
    design: Any = Of(boards=(other, Of(name=named("deck"), outline=board, x_mm=at[0], y_mm=at[1])))
    derived: Any = Of(feet=feet, train=train(**(tips or {"nw": 60.0})))
    return list(stand_offs(design, derived))


def opposite(keeper: Outline, at: Point, board: Outline = WIDE, place: Point = (0.0, 0.0), tip: float = 60.0) -> bool:
    (found,) = room(foot("nw", at, keeper), board=board, at=place, nw=tip)
    return found.opposite


def polygon(*corners: Point) -> Outline:
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    assert (min(xs), min(ys)) == (0.0, 0.0)
    return Outline("polygon", max(xs), max(ys), vertices=tuple(OutlineVertex(x, y) for x, y in corners))


def test_each_keeper_by_its_own_gear_and_place() -> None:
    """170 by 40: farthest at 10 deg of those tried, every 5 deg; the corner stands at 13 deg."""
    plate, disc = Outline("rectangle", 170.0, 40.0), Outline("circle", 150.0, 150.0)
    tips = {"sw": 90.0, "nw": 50.0, "nw_low": 60.0, "ne": 61.0, "se": 80.0}
    found = room(foot("sw", (9.0, 9.0), None), foot("nw", (300.0, 200.0), plate), foot("ne", (250.0, 150.0), disc), foot("se", (250.0, 150.0), disc), **tips)
    reach = 85.0 / math.cos(math.radians(10.0))
    # The wider of two gears on the shaft counts.
    assert [(item.foot, item.gear, item.board) for item in found] == [(f"corner.{gear}", gear, "deck") for gear in ("nw", "ne", "se")]
    assert [item.room_mm for item in found] == pytest.approx([reach - 60.0, 14.0, 0.0], abs=0.05)
    assert [item.tip_diameter_mm for item in found] == [120.0, 122.0, 160.0] and [item.opposite for item in found] == [True, True, False]


def test_short_sides_stop_a_ray() -> None:
    small = ((0.0, 0.0), (0.8, 0.0), (0.8, 0.6), (0.0, 0.6))
    assert [reach_mm((0.3, 0.4), way, small) for way in ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))] == pytest.approx([0.5, 0.2, 0.3, 0.4])


@pytest.mark.parametrize(("width", "found"), [(140.0, True), (139.8, False)])
def test_ten_past_the_teeth_are_enough(width: float, found: bool) -> None:
    # A strip 10 high: only east and west reach past teeth of 60.
    assert opposite(Outline("rectangle", width, 10.0), (300.0, 200.0)) is found


@pytest.mark.parametrize(("height", "found"), [(5.0, True), (4.8, False)])
def test_a_strip_keeps_two_and_a_half_either_side(height: float, found: bool) -> None:
    assert opposite(Outline("rectangle", 170.0, height), (300.0, 200.0)) is found


def test_two_at_a_right_angle_or_more() -> None:
    """A square of 120 reaches past teeth of 70 at its corners alone, by 14.85."""
    square = Outline("rectangle", 120.0, 120.0)
    # Over a corner of the board one of four lies under it, over an edge two: at 45 and 135 deg, or at 45 and -45.
    for at, found in (((0.0, 0.0), False), ((600.0, 400.0), False), ((600.0, 0.0), False), ((300.0, 0.0), True), ((0.0, 200.0), True), ((300.0, 200.0), True)):
        assert opposite(square, at, tip=70.0) is found, at
    # Where the board stands in the world.
    assert opposite(square, (250.0, 100.0), place=(100.0, 100.0), tip=70.0) and not opposite(square, (100.0, 100.0), place=(100.0, 100.0), tip=70.0)
    # One side only: all within some degrees.
    assert not opposite(Outline("rectangle", 170.0, 40.0), (0.0, 200.0)) and not opposite(Outline("rectangle", 40.0, 170.0), (300.0, 400.0))


def arms(west: Point, east: Point, axis: float = 500.0) -> Outline:
    """A board with two small squares left and right of a foot's axis, each from `x` to `x` from it and 12 high, on necks 4 wide to a frame far away."""
    y, far, neck = 300.0, 900.0, 2.0
    squares = [(axis - west[1], axis - west[0]), (axis + east[0], axis + east[1])]
    corners: list[Point] = [(0.0, 0.0), (0.0, far), (1000.0, far), (1000.0, 0.0), (990.0, 0.0), (990.0, 890.0)]
    for low, high in reversed(squares):
        middle = (low + high) / 2.0
        corners += [(middle + neck, 890.0), (middle + neck, y + 6.0), (high, y + 6.0), (high, y - 6.0), (low, y - 6.0), (low, y + 6.0)]
        corners += [(middle - neck, y + 6.0), (middle - neck, 890.0)]
    return polygon(*corners, (10.0, 890.0), (10.0, 0.0))


@pytest.mark.parametrize(
    ("half", "place", "found"),
    [
        # From the teeth at 60 outwards in steps of 1: the first stands at 65, and with 85 of plate the last at 80.
        (85.0, 65.0, True), (85.0, 66.0, True), (85.0, 72.0, True), (85.0, 79.0, True), (85.0, 80.0, True),
        (85.0, 64.0, False), (85.0, 72.5, False), (85.0, 81.0, False),
        # Where the last step overshoots it is held to 5 from the plate's end.
        (85.4, 80.4, True), (85.4, 80.0, True), (85.4, 81.2, False), (84.6, 79.6, True), (84.6, 80.4, False),
        # 300 past the teeth in 200 steps of 1.5: 65, 66.5 ... and 355.
        (360.0, 66.5, True), (360.0, 350.0, True), (360.0, 355.0, True), (360.0, 65.7, False), (360.0, 349.2, False), (360.0, 356.0, False),
    ],
)  # fmt: skip
def test_places_along_a_direction(half: float, place: float, found: bool) -> None:
    """On a strip 8 high, between squares that leave 0.4 either side of the place."""
    strip = Outline("rectangle", 2.0 * half, 8.0)
    span = (place - 5.4, place + 5.4)
    assert opposite(strip, (500.0, 300.0), arms(span, span)) is found
    # Both sides are wanted.
    assert not opposite(strip, (500.0, 300.0), arms(span, (1.0, 9.0))) and not opposite(strip, (500.0, 300.0), arms((1.0, 9.0), span))
