"""Bodies that lie near each other, that pass each other and that are raised, and threads in each other. Lengths mm, by hand."""

from __future__ import annotations

from typing import Any

import pytest
from tests.designs import INSERT, mm

from trivet.model.foot import InsertUse
from trivet.solve.board_levels import BoardZ
from trivet.solve.solid import Solid, SolidSet, share_height
from trivet.solve.solid_grid import SolidGrid, gap_mm
from trivet.solve.solids import lifted
from trivet.solve.thread_zone import ThreadZone, engagement_mm, insert_zone, needed_engagement_mm
from trivet.source import SourceFile, Span


def solid(low: float, high: float, moves: bool = False) -> Solid:
    return Solid("gear", "p", "s", 0.0, 0.0, 5.0, low, high, moves)


def test_raised_feet_are_lower() -> None:
    found = lifted(SolidSet(1, -1, (solid(-10.0, -2.0, True), solid(-9.0, -1.0)), 7.0, True))
    assert found == SolidSet(1, -1, (solid(-17.0, -9.0, True), solid(-9.0, -1.0)), 0.0, True)


def test_height_that_two_share_over_the_travel() -> None:
    still = solid(-20.0, -12.0)
    for moving in (True, False):
        assert share_height(solid(-10.0, -2.0, moving), solid(-5.0, 0.0, moving), 9.0) == 3.0
    # 8 and 10 high: one that passes the other wholly shares the thinner's height, one that only reaches 5 down shares 3.
    for travel, shared in ((0.0, -2.0), (5.0, 3.0), (30.0, 8.0)):
        assert share_height(solid(-10.0, 0.0, True), still, travel) == share_height(still, solid(-10.0, 0.0, True), travel) == shared


def disc(n: int, x: float, y: float, radius: float, kind: Any = "gear") -> Solid:
    return Solid(kind, str(n), "s", x, y, radius, 0.0, 1.0)


@pytest.mark.parametrize("margin", [0.0, 3.0])
@pytest.mark.parametrize("kinds", [("gear",), ("nut",), ("gear", "nut")])
def test_neighbours_as_by_comparing_all_with_all(margin: float, kinds: tuple[str, ...]) -> None:
    spots = [(37 * n % 211 - 105.0, 53 * n % 197 - 98.0) for n in range(60)]
    discs = [disc(n, x, y, 1.0 + 7 * n % 13, kinds[n % len(kinds)]) for n, (x, y) in enumerate(spots)]
    # One slip of the keyboard, first and last.
    discs = [disc(60, 11.0, -7.0, 2500.0, kinds[0]), *discs, disc(61, 3.0, 4.0, 9000.0, kinds[0])]
    grid = SolidGrid(discs, margin)
    found = 0
    for one in (*discs, disc(99, -105.0, 99.0, 12.0)):
        near = [
            other for other in discs
            if max(abs(other.x_mm - one.x_mm), abs(other.y_mm - one.y_mm)) < one.radius_mm + other.radius_mm + margin
        ]  # fmt: skip
        assert list(grid.near(one)) == near
        found += len(near)
    assert found > 200


def test_boxes_that_overlap_by_a_hair_over_a_squares_edge() -> None:
    """Squares of 20: what reaches to 20.2 meets what begins at 20.1, along either axis and either way."""
    for x, y in ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)):
        one, other = disc(0, 10.35 * x, 10.35 * y, 9.85), disc(1, 25.05 * x, 25.05 * y, 4.95)
        assert list(SolidGrid((other,), 0.0).near(one)) == [other] and list(SolidGrid((one,), 0.0).near(other)) == [one]


@pytest.mark.parametrize(
    ("discs", "side"),
    [
        # As wide as the mean gear; nuts do not count, and there is a least side.
        ((("gear", 30.0), ("gear", 50.0), ("nut", 7.0)), 80.0),
        ((("gear", 20.0), ("gear", 25.0), ("gear", 30.0)), 50.0),
        ((("gear", 5.0), ("nut", 90.0)), 20.0),
        ((("nut", 7.0),), 100.0),
        ((), 100.0),
    ],
)
def test_side_of_the_squares(discs: tuple[tuple[Any, float], ...], side: float) -> None:
    assert SolidGrid([disc(n, 0.0, 0.0, radius, kind) for n, (kind, radius) in enumerate(discs)], 1.0)._side == side


def test_squares_that_a_disc_touches() -> None:
    """Its own and the margin; more than 400 are too many to list: 20 by 20 is not, 20 by 21 is, either way."""
    grid = SolidGrid((disc(0, 0.0, 0.0, 5.0),), 0.0)
    assert grid._squares(disc(1, 0.0, 0.0, 5.0), 2.0) == [(-1, -1), (-1, 0), (0, -1), (0, 0)]
    assert grid._squares(disc(1, 30.0, 50.0, 5.0), 0.0) == [(1, 2)] and grid._squares(disc(1, 30.0, -50.0, 5.0), 6.0) == [
        (0, -4), (0, -3), (0, -2), (1, -4), (1, -3), (1, -2), (2, -4), (2, -3), (2, -2),
    ]  # fmt: skip
    assert len(grid._squares(disc(1, 0.0, 0.0, 199.0), 0.0) or ()) == 400 and len(grid._squares(disc(1, 800.0, 40.0, 199.0), 0.0) or ()) == 400
    assert grid._squares(disc(1, 10.0, 0.0, 199.0), 0.0) is None and grid._squares(disc(1, 0.0, 10.0, 199.0), 0.0) is None
    assert grid._squares(disc(1, 810.0, 0.0, 199.0), 0.0) is None and grid._squares(disc(1, 0.0, 810.0, 199.0), 0.0) is None


def test_where_a_body_was_declared_makes_it_no_other() -> None:
    here = Span(SourceFile("f.trivet", "xx"), 0, 1)
    assert Solid("nut", "p", "s", 0.0, 0.0, 5.0, 0.0, 1.0, origin=here) == Solid("nut", "p", "s", 0.0, 0.0, 5.0, 0.0, 1.0)


def test_gap_between_discs() -> None:
    assert gap_mm(disc(0, 3.0, 4.0, 1.0), disc(1, 9.0, 12.0, 2.0)) == 7.0 and gap_mm(disc(0, 3.0, 4.0, 7.0), disc(1, 9.0, -4.0, 4.0)) == -1.0


def test_thread_within_its_zone() -> None:
    """Live from 2 to 13: a screw's thread from 0 to 8 holds 6 of it, from 5 on 8, of one half in half a millimetre; beside it nothing."""
    zone = ThreadZone(2.0, 13.0, 0.0, 15.0)
    assert zone.live_mm == 11.0
    assert [engagement_mm(zone, *ends) for ends in ((0.0, 8.0), (5.0, 20.0), (0.0, 2.5), (0.0, 1.0), (14.0, 20.0))] == [6.0, 8.0, 0.5, 0.0, 0.0]
    assert [needed_engagement_mm(*sizes) for sizes in ((8.0, 11.0), (8.0, 5.0), (8.0, 0.5))] == [8.0, 5.0, 0.5]


@pytest.mark.parametrize(("flush", "proud", "ends"), [("underside", None, (3.0, 18.0)), ("underside", 2, (1.0, 16.0)), ("topside", 2, (8.0, 23.0))])
def test_where_an_insert_lies(flush: Any, proud: float | None, ends: tuple[float, float]) -> None:
    # 15 long in a board from 3 to 21, proud of the face that it lies flush with.
    use = InsertUse(hardware=INSERT, driven_from="topside", flush=flush, proud=None if proud is None else mm(proud))
    found = insert_zone(use, BoardZ(3.0, 21.0))
    assert (found.bottom_mm, found.top_mm) == ends and (found.low_mm, found.high_mm) == (ends[0], ends[1] - 4.0)
