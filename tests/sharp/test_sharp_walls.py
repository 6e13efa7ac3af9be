"""Wood between cuts and what gives it back, rings that close, teeth that slip, function by function. Lengths mm."""

from __future__ import annotations

import math
import re
from types import SimpleNamespace
from typing import Any

import pytest

from trivet.checks import (
    _collide_remedy,
    _kite,
    _ring_remedy,
    _teeth_changed,
    _wall_remedy,
    _walls,
)
from trivet.model.base import Ref
from trivet.model.board import Hole
from trivet.model.outline import Placed
from trivet.record import replace
from trivet.solve.contour_shapes import rectangle
from trivet.solve.feature import Round
from trivet.solve.gear_size import ToothGeometry

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0))


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def ring_words(*teeth: int) -> str:
    names = tuple("abcdefgh"[: len(teeth)])
    states = {name: named(gear=named(z=count)) for name, count in zip(names, teeth, strict=True)}
    return _ring_remedy._alike_teeth(named(train=named(gear=states.__getitem__)), named(gears=names))


@pytest.mark.parametrize(
    ("teeth", "said"),
    [
        ((20, 30, 20, 31), "30 teeth on `d` close it"),
        ((20, 30, 21, 30), "20 teeth on `c` close it"),
        ((20, 31, 20, 31, 20, 32), "31 teeth on `f` close it"),  # (6 - 2) · 11 is a multiple of 4
        ((20, 31, 20, 31), "20 teeth on `b` and `d` close it"),  # (4 - 2) · 11 is not
        ((20, 30, 20, 30), "give every other gear of it equal teeth"),
        ((20, 30, 21, 30, 20, 31), "20 teeth on `c` and 30 teeth on `f` close it"),
    ],
)
def test_teeth_with_which_a_ring_closes(teeth: tuple[int, ...], said: str) -> None:
    assert ring_words(*teeth) == said


def test_when_a_ring_closes() -> None:
    loops = (named(residual_mm=left, allowed_mm=0.3) for left in (0.3, 0.301, 0.3011))
    assert [_ring_remedy.closes(loop) for loop in loops] == [True, True, False]


def test_direction_in_which_a_wall_grows() -> None:
    away = _wall_remedy._away
    assert away(Round(10.0, 10.0, 4.0), Round(7.0, 6.0, 4.0), SQUARE) == pytest.approx((0.6, 0.8))
    assert away(Round(10.0, 10.0, 4.0), Round(10.0, 10.0, 2.0), SQUARE) == (1.0, 0.0)
    assert away(Round(10.0, 30.0, 4.0), None, SQUARE) == pytest.approx((1.0, 0.0))
    assert away(Round(50.0, 63.0, 4.0), None, SQUARE) == pytest.approx((0.0, -1.0))  # outside: back in
    assert away(Round(50.0, 60.0, 4.0), None, SQUARE) == pytest.approx((0.0, -1.0), abs=1e-9)  # on the edge
    assert away(Round(100.0, 30.0, 4.0), None, SQUARE) == pytest.approx((-1.0, 0.0), abs=1e-9)
    assert away(Round(40.0, 30.0, 4.0), rectangle(50.0, 20.0, 10.0, 30.0), SQUARE) == pytest.approx((-1.0, 0.0))
    assert away(rectangle(50.0, 20.0, 10.0, 30.0), Round(40.0, 20.0, 4.0), SQUARE) == pytest.approx((1.0, 0.0))
    assert _wall_remedy._nearest((50.0, 70.0), SQUARE) == (50.0, 60.0) and _wall_remedy._nearest((-3.0, -4.0), SQUARE) == (0.0, 0.0)


@pytest.mark.parametrize(
    ("value", "direction", "to"), [(5.003, 0.5, 5.01), (5.007, -0.5, 5.0), (5.007, 0.0, 5.01), (5.003, 0.0, 5.0), (5.0, 1.0, 5.0)]
)
def test_places_move_on_to_a_step(value: float, direction: float, to: float) -> None:
    assert _wall_remedy._rounded(value, direction, 0.01) == pytest.approx(to, abs=1e-9)


def cut(hole: Hole, x: float, *, cutter: float = 4.0) -> Any:
    feature = named(shape=Round(x, 30.0, hole.diameter_mm), cutter_diameter_mm=cutter)
    return named(names=(hole.name.text,), whole="deck", feature=feature)


def test_what_gives_a_wall_its_wood() -> None:
    one = Hole(name=Ref("one"), into=Ref("deck"), diameter_mm=8.0, because="diameter as stated", places=(Placed("one", 20.0, 30.0),))
    many = one.model_copy(update={"name": Ref("many"), "places": (Placed("many.1", 20.0, 30.0), Placed("many.2", 40.0, 30.0))})
    board = named(name=Ref("deck"), x_mm=5.0, y_mm=10.0)

    def said(hole: Hole, other: Any, lacking: float, unit: str = "mm", cutter: float = 4.0) -> str:
        design: Any = named(units=unit, holes=(hole,), pockets=(), magnets=(), boards=(board,))
        return _wall_remedy.wall_remedy(design, cut(hole, 20.0, cutter=cutter), other, SQUARE, lacking)

    # From an edge on the left: 0.5 and a step to the right, in the board's frame; 1 less of diameter.
    near = ((18.0, -500.0), (100.0, -500.0), (100.0, 500.0), (18.0, 500.0))
    design: Any = named(units="mm", holes=(one,), pockets=(), magnets=(), boards=(board,))
    assert _wall_remedy.wall_remedy(design, cut(one, 20.0), None, near, 0.5) == "`at (15.51, 20) mm` for `one`, or `diameter 7 mm` for `one`"
    stranger = named(names=("x",), whole="deck", feature=named(shape=Round(10.0, 30.0, 4.0), cutter_diameter_mm=4.0))
    assert said(one, stranger, 1.0) == "`at (16.01, 20) mm` for `one`, or `diameter 6 mm` for `one`"
    assert said(one, stranger, 1.0, "in") == "`at (0.631, 0.787) in` for `one`, or `diameter 15/64 in` for `one`"
    assert said(many, cut(many, 40.0), 1.0) == "`diameter 7 mm` for `many`"  # both shrink
    assert said(many, cut(many, 40.0), 4.5) == "move one of them 4.5 mm away, or make it smaller"  # 3.5 is under the cutter's 4
    assert said(many.model_copy(update={"fit": "push"}), None, 4.5).startswith("an outline of `deck` that reaches 4.5 mm further")


def test_largest_shift_that_leaves_a_tip() -> None:
    teeth = ToothGeometry(12, 4.0, profile_shift=0.5)
    found = _teeth_changed.largest_shift(teeth, 1.6)
    assert found is not None and 0.0 <= found < 0.5
    lands = [replace(teeth, profile_shift=shift).tip_land_mm for shift in (found, found + 0.01)]
    assert lands[0] >= 1.6 > lands[1]
    assert _teeth_changed.largest_shift(teeth, 99.0) is None
    assert _teeth_changed.largest_shift(teeth, 0.0) == 0.49 and _teeth_changed.largest_shift(replace(teeth, profile_shift=0.485), 0.0) == 0.48
    assert _teeth_changed._shorter(replace(teeth, tip_shortening_mm=0.2), 0.3).tip_shortening_mm == pytest.approx(0.5)


@pytest.mark.parametrize(("ratio", "depth", "slips"), [(1.2, 4.8, False), (1.19, 4.8, True), (1.2, 4.79, True), (1.5, 9.0, False)])
def test_meshes_that_slip(ratio: float, depth: float, slips: bool) -> None:
    # 1.2 pairs and 1.2 modules of 4, as `teeth-slip` says.
    assert _teeth_changed.slips(named(contact_ratio_min=ratio, working_depth_min_mm=depth), 4.0) == slips
    assert math.isclose(_teeth_changed.LEAST_RATIO, 1.0)


def test_boxes_and_squares() -> None:
    one = Round(10.0, 20.0, 8.0)
    assert _walls.box_of(one) == (6.0, 16.0, 14.0, 24.0)
    assert _walls.box_of(rectangle(1.0, 2.0, 3.0, 5.0)) == (1.0, 2.0, 4.0, 7.0)
    # 5 apart along x, 3 along y; the greater counts, whichever lies first.
    other = Round(23.0, 29.0, 8.0)
    for pair in ((one, other), (other, one), (Round(20.0, 10.0, 8.0), Round(29.0, 23.0, 8.0))):
        assert [_walls.far_apart(*pair, margin) for margin in (5.0, 5.001)] == [True, False]
    assert list(_walls.squares_of(Round(41.0, 20.0, 4.0), 0.5)) == [(0, 0), (1, 0)]
    assert list(_walls.squares_of(Round(43.0, 20.0, 4.0), 0.5)) == [(1, 0)]
    assert list(_walls.squares_of(Round(78.0, 20.0, 4.0), 0.5)) == [(1, 0), (2, 0)]
    assert list(_walls.squares_of(Round(0.0, 0.0, 4000.1), 0.5)) == [(0, 0)]
    assert list(_walls.squares_of(rectangle(30.0, 0.0, 10.0, 4000.1), 0.5)) == [(0, 0)]
    assert len(list(_walls.squares_of(rectangle(1.0, 1.0, 3999.0, 10.0), 0.5))) == 100 + 1


@pytest.mark.parametrize(
    ("x", "y", "margin", "far"),
    [
        (50.0, 30.0, 5.0, True), (10.0, 30.0, 5.0, True), (9.0, 30.0, 5.0, False), (91.0, 30.0, 5.0, False), (50.0, 9.0, 5.0, False),
        (50.0, 51.0, 5.0, False), (90.0, 50.0, 5.0, True), (3.0, 30.0, 1.0, False), (120.0, 30.0, 1.0, False),
    ],
)  # fmt: skip
def test_cuts_far_inside(x: float, y: float, margin: float, far: bool) -> None:
    assert _walls.far_inside(Round(x, y, 10.0), SQUARE, margin) == far


def test_a_notch_comes_near_the_middle_of_a_box() -> None:
    notched = ((0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (51.0, 60.0), (50.0, 38.0), (49.0, 60.0), (0.0, 60.0))
    assert [_walls.far_inside(Round(50.0, 30.0, 10.0), notched, margin) for margin in (2.9, 3.1)] == [True, False]
    low = ((0.0, 0.0), (49.0, 0.0), (50.0, 22.0), (51.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0))
    assert [_walls.far_inside(Round(50.0, 30.0, 10.0), low, margin) for margin in (2.9, 3.1)] == [True, False]


@pytest.mark.parametrize(
    ("one", "other", "share"),
    [
        ((5.0, "topside"), (5.0, "topside"), True), ((5.0, "topside"), (5.0, "underside"), False), ((9.0, "topside"), (9.0, "underside"), False),
        ((9.0, "topside"), (9.1, "underside"), True), ((None, "topside"), (1.0, "underside"), True), ((1.0, "underside"), (None, "topside"), True),
    ],
)  # fmt: skip
def test_cuts_side_by_side(one: Any, other: Any, share: bool) -> None:
    assert _walls.share_height(named(depth_mm=one[0], face=one[1]), named(depth_mm=other[0], face=other[1]), 18.0) == share


BAR, POST = rectangle(20.0, 28.0, 60.0, 4.0), rectangle(48.0, 10.0, 4.0, 40.0)


@pytest.mark.parametrize(
    ("one", "other", "wall"),
    [
        (Round(0.0, 0.0, 6.0), Round(12.0, 5.0, 4.0), 8.0),  # 13 apart
        (Round(0.0, 0.0, 6.0), Round(3.0, 4.0, 6.0), -1.0),
        (Round(0.0, 0.0, 20.0), Round(3.0, 4.0, 10.0), None),  # just within
        (Round(0.0, 0.0, 20.0), Round(3.0, 4.0, 10.1), -10.05),
        (Round(3.0, 4.0, 10.0), Round(0.0, 0.0, 20.0), None),
        (rectangle(0.0, 0.0, 10.0, 10.0), rectangle(13.0, 14.0, 5.0, 5.0), 5.0),
        (rectangle(13.0, 14.0, 5.0, 5.0), rectangle(0.0, 0.0, 10.0, 10.0), 5.0),
        (rectangle(0.0, 0.0, 10.0, 10.0), rectangle(5.0, 5.0, 10.0, 10.0), None),
        (rectangle(0.0, 0.0, 30.0, 30.0), rectangle(5.0, 5.0, 10.0, 10.0), None),
        (rectangle(5.0, 5.0, 10.0, 10.0), rectangle(0.0, 0.0, 30.0, 30.0), None),
        (BAR, POST, None),  # a cross has no corner in either
        (rectangle(0.0, 0.0, 30.0, 10.0), rectangle(10.0, 12.0, 4.0, 4.0), 2.0),  # corners of the second face a side
        (rectangle(10.0, 12.0, 4.0, 4.0), rectangle(0.0, 0.0, 30.0, 10.0), 2.0),
        (Round(20.0, 5.0, 8.0), rectangle(0.0, 0.0, 10.0, 10.0), 6.0),
    ],
)
def test_wood_between_two_cuts(one: Any, other: Any, wall: float | None) -> None:
    found = _walls.wall_mm(one, other)
    assert found is None if wall is None else found == pytest.approx(wall, abs=1e-6)


@pytest.mark.parametrize(
    ("cut_out", "wall"),
    [
        (Round(10.0, 30.0, 8.0), 6.0), (Round(3.0, 30.0, 8.0), -1.0), (Round(-3.0, 30.0, 8.0), -7.0), (rectangle(90.0, 20.0, 8.0, 8.0), 2.0),
        (rectangle(96.0, 20.0, 8.0, 8.0), None), (rectangle(20.0, 5.0, 8.0, 8.0), 5.0),
    ],
)  # fmt: skip
def test_wood_to_the_edge(cut_out: Any, wall: float | None) -> None:
    assert _walls.edge_wall_mm(cut_out, SQUARE) == (None if wall is None else pytest.approx(wall))


def test_polygons_that_cross() -> None:
    bar, post = BAR.points(0.1), POST.points(0.1)
    assert _walls.cross(bar, post) and _walls.cross(post, bar)
    turned = [contour.translated(-50.0, -30.0).rotated(0.6).translated(50.0, 30.0).points(0.1) for contour in (BAR, POST)]
    assert _walls.cross(*turned) and not _walls.cross(turned[0], rectangle(60.0, 10.0, 4.0, 12.0).points(0.1))
    assert not _walls.cross(bar, rectangle(48.0, 33.0, 4.0, 20.0).points(0.1)) and not _walls.cross(SQUARE, bar)
    assert [_walls.inside(p, SQUARE) for p in ((1.0, 1.0), (99.0, 59.0), (-1.0, 30.0), (101.0, 30.0), (50.0, 61.0))] == [True, True, False, False, False]
    assert _walls.distance_mm((104.0, 63.0), SQUARE) == pytest.approx(5.0) and _walls.distance_mm((50.0, 58.0), SQUARE) == pytest.approx(2.0)


def gear_at(name: str, turn: float, tip: float, radius: float = 100.0) -> Any:
    return named(id=name, x_mm=7.0 + radius * math.cos(math.radians(turn)), y_mm=5.0 + radius * math.sin(math.radians(turn)), tip_radius_mm=tip)


@pytest.mark.parametrize(
    ("turn", "other", "tip", "said"),
    [
        # 30 + 20 + 1 apart on a circle of 100: a chord of 51 spans 29.55 deg.
        (0.0, -20.0, 20.0, "10"), (0.0, 20.0, 20.0, "350"), (0.5, -20.0, 20.0, "10"), (-0.5, 20.0, 20.0, "350"), (90.0, 70.0, 20.0, "100"),
        (0.0, -20.0, 76.0, "45"), (0.0, -20.0, 77.0, ""),  # 107 and 108 span 64.7 and 65.4 deg
    ],
)  # fmt: skip
def test_a_gear_turned_out_of_anothers_way(turn: float, other: float, tip: float, said: str) -> None:
    hub, moved, stays = gear_at("hub", 0.0, 20.0, 0.0), gear_at("b", turn, 30.0), gear_at("c", other, tip)
    placed = named(a=Ref("hub"), b=Ref("b"), angle=turn)
    train: Any = named(gears=(hub, moved, stays), gear={"hub": hub}.__getitem__)
    plain: Any = named(meshes=(placed,), gears=(named(on_shaft_with=None),), rings=())
    wanted = f"`with b at {said} deg` in `mesh hub`" if said else ""
    for one, two in ((stays, moved), (moved, stays)):
        assert _collide_remedy.turned_away(plain, named(train=train), one, two, 1.0) == wanted
    again = named(a=Ref("c"), b=Ref("b"), angle=None)
    shafted = named(name=Ref("d"), on_shaft_with=Ref("b"))
    bound: tuple[Any, ...] = (
        named(meshes=(placed, again), gears=(), rings=()), named(meshes=(placed,), gears=(shafted,), rings=()),
        named(meshes=(placed,), gears=(), rings=(named(gears=(Ref("b"),)),)), named(meshes=(named(a=Ref("b"), b=Ref("hub"), angle=1.0),), gears=(), rings=()),
        named(meshes=(named(a=Ref("hub"), b=Ref("b"), angle=None),), gears=(), rings=()),
    )  # fmt: skip
    assert {_collide_remedy.turned_away(held, named(train=train), stays, moved, 1.0) for held in bound} == {""}


@pytest.mark.parametrize("far", [150.0, 180.0, 213.5])
def test_sides_of_the_kite(far: float) -> None:
    text = _kite.kite(far)
    angle, last = (float(re.search(what, text)[1]) for what in (r"near_one at ([\d.]+) deg", r"at \(([\d.]+), 200\) mm\n  turns_on"))
    near = (100.0 + 100.0 * math.cos(math.radians(angle)), 200.0 + 100.0 * math.sin(math.radians(angle)))
    assert last == pytest.approx(100.0 + far) and math.dist(near, (last, 200.0)) == pytest.approx(140.0, abs=1e-4)
    assert f"near_two at -{angle:.6f} deg" in text
