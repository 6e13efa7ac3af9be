"""Wood between cuts against an independent library of plane geometry, on drawn shapes, and the borders that drawn ones do not meet. Lengths mm."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest
import shapely
from tests.edited_base import plain

from trivet.checks import _wall_remedy, _walls
from trivet.solve.contour_shapes import rectangle
from trivet.solve.feature import Round

# A circle is followed by 48 chords, each this part of its radius inside it at most.
ROUNDNESS = 1.0 - math.cos(math.pi / 48.0)


def drawn_polygon(draw: random.Random) -> list[tuple[float, float]]:
    """A closed polygon of three to seven corners round a middle, its sides aslant."""
    x, y = draw.uniform(-60.0, 60.0), draw.uniform(-60.0, 60.0)
    turns = sorted(draw.uniform(0.0, 2.0 * math.pi) for _ in range(draw.randint(3, 7)))
    radii = [draw.uniform(5.0, 40.0) for _ in turns]
    return [(x + r * math.cos(turn), y + r * math.sin(turn)) for turn, r in zip(turns, radii, strict=True)]


def drawn_cut(draw: random.Random, of: str) -> Any:
    if of == "round":
        return Round(draw.uniform(-50.0, 50.0), draw.uniform(-50.0, 50.0), draw.uniform(4.0, 60.0))
    return rectangle(0.0, 0.0, draw.uniform(0.5, 40.0), draw.uniform(5.0, 60.0)).rotated(draw.uniform(0.0, 6.0)).translated(
        draw.uniform(-50.0, 50.0), draw.uniform(-50.0, 50.0)
    )  # fmt: skip


def outline(cut: Any) -> Any:
    if isinstance(cut, Round):
        return shapely.Point(cut.x_mm, cut.y_mm).buffer(cut.diameter_mm / 2.0, quad_segs=64)
    return shapely.Polygon(cut.points(0.002))


@pytest.mark.parametrize("seed", range(4))
def test_polygons_that_hold_points_and_cross(seed: int) -> None:
    draw = random.Random(seed)
    seen = {"in": 0, "out": 0, "cross": 0, "apart": 0}
    for _ in range(150):
        one, other = drawn_polygon(draw), drawn_polygon(draw)
        polygon, second = shapely.Polygon(one), shapely.Polygon(other)
        for _ in range(4):
            point = (draw.uniform(-80.0, 80.0), draw.uniform(-80.0, 80.0))
            spot = shapely.Point(point)
            assert _walls.inside(point, one) == polygon.contains(spot)
            assert _walls.distance_mm(point, one) == pytest.approx(polygon.exterior.distance(spot), abs=1e-9)
            near = _wall_remedy._nearest(point, one)
            assert math.dist(point, near) == pytest.approx(polygon.exterior.distance(spot), abs=1e-9)
            assert polygon.exterior.distance(shapely.Point(near)) < 1e-9
            seen["in" if polygon.contains(spot) else "out"] += 1
        crosses = polygon.exterior.intersects(second.exterior)
        assert _walls.cross(one, other) == _walls.cross(other, one) == crosses
        seen["cross" if crosses else "apart"] += 1
    assert min(seen.values()) > 5


@pytest.mark.parametrize("kinds", [("round", "round"), ("round", "slot"), ("slot", "round"), ("slot", "slot")])
def test_wood_between_drawn_cuts(kinds: tuple[str, str]) -> None:
    draw = random.Random(7)
    walls = joins = 0
    for _ in range(250):
        one, other = (drawn_cut(draw, kind) for kind in kinds)
        first, second = outline(one), outline(other)
        found = _walls.wall_mm(one, other)
        slack = ROUNDNESS * sum(cut.diameter_mm / 2.0 for cut in (one, other) if isinstance(cut, Round)) + 1e-3
        if first.distance(second) > slack:
            assert found == pytest.approx(first.distance(second), abs=slack)
            walls += 1
        elif kinds == ("round", "round"):
            apart = shapely.Point(one.x_mm, one.y_mm).distance(shapely.Point(other.x_mm, other.y_mm))
            within = first.within(second) or second.within(first)
            assert found == (None if within else pytest.approx(apart - (one.diameter_mm + other.diameter_mm) / 2.0))
            joins += 1
        elif first.intersection(second).area > 0.5:
            assert found is None
            joins += 1
        assert _walls.wall_mm(other, one) == (None if found is None else pytest.approx(found))
        # Boxes alone show it only where it is so.
        for margin in (0.0, 5.0):
            gap = max(second.bounds[0] - first.bounds[2], first.bounds[0] - second.bounds[2])
            gap = max(gap, second.bounds[1] - first.bounds[3], first.bounds[1] - second.bounds[3])
            if abs(gap - margin) > 0.01:
                assert _walls.far_apart(one, other, margin) == (gap > margin)
        if first.distance(second) < 5.0:
            assert set(_walls.squares_of(one, 5.0)) & set(_walls.squares_of(other, 0.0))
    assert walls > 20 and joins > 20


@pytest.mark.parametrize("kind", ["round", "slot"])
def test_wood_to_a_drawn_edge(kind: str) -> None:
    draw = random.Random(11)
    edge = [(-80.0, -70.0), (75.0, -80.0), (90.0, 60.0), (10.0, 66.0), (5.0, 30.0), (-4.0, 70.0), (-70.0, 75.0)]
    wood = shapely.Polygon(edge)
    held = broken = far = 0
    for _ in range(250):
        cut = drawn_cut(draw, kind)
        shape, found = outline(cut), _walls.edge_wall_mm(cut, edge)
        if isinstance(cut, Round):
            centre = shapely.Point(cut.x_mm, cut.y_mm)
            away = wood.exterior.distance(centre) if wood.contains(centre) else -wood.exterior.distance(centre)
            assert found == pytest.approx(away - cut.diameter_mm / 2.0)
        elif wood.contains(shape):
            # The notch may point at one of its sides.
            assert found == pytest.approx(wood.exterior.distance(shape))
        else:
            assert found is None
        held, broken = held + (found is not None and found > 0.0), broken + (found is None or found < 0.0)
        box = shapely.box(*_walls.box_of(cut))
        for margin in (1.0, 10.0):
            inside = wood.contains(box) and wood.exterior.distance(box) >= margin
            assert _walls.far_inside(cut, edge, margin) == inside
            far += inside
    assert held > 20 and broken > 20 and far > 20


def test_borders_of_squares_and_thin_bars() -> None:
    assert list(_walls.squares_of(Round(4100.0, 20.0, 4.0), 0.5)) == [(102, 0)] and list(_walls.squares_of(Round(20.0, 4100.0, 4.0), 0.5)) == [(0, 102)]
    assert list(_walls.squares_of(Round(42.2, 20.0, 4.0), 0.5)) == [(0, 0), (1, 0)] and list(_walls.squares_of(Round(20.0, 37.8, 4.0), 0.5)) == [(0, 0), (0, 1)]
    # A bar of half a millimetre across a post.
    bar, post = rectangle(20.0, 28.0, 60.0, 0.5), rectangle(48.0, 10.0, 4.0, 40.0)
    assert _walls.wall_mm(bar, post) is None and _walls.wall_mm(post, bar) is None
    # One whose end reaches a tenth through a thin post.
    end, thin = rectangle(20.0, 28.0, 28.6, 4.0), rectangle(48.0, 10.0, 0.5, 40.0)
    assert _walls.wall_mm(end, thin) is None and _walls.wall_mm(thin, end) is None
    # A notch from the side, 2.9 from the middle of a box.
    notched = ((0.0, 0.0), (100.0, 0.0), (100.0, 29.0), (57.9, 30.0), (100.0, 31.0), (100.0, 60.0), (0.0, 60.0))
    assert [_walls.far_inside(Round(50.0, 30.0, 10.0), notched, margin) for margin in (2.8, 3.0)] == [True, False]
    assert _walls.distance_mm((3.0, 4.0), ((0.0, 0.0),)) == 5.0 and _wall_remedy._nearest((3.0, 4.0), ((0.0, 0.0),)) == (0.0, 0.0)
    # Sides under a millimetre count along their length.
    small = ((0.0, 0.0), (0.8, 0.0), (0.8, 0.6), (0.0, 0.6))
    assert _walls.distance_mm((0.4, -0.5), small) == pytest.approx(0.5) and _wall_remedy._nearest((0.4, -0.5), small) == pytest.approx((0.4, 0.0))


def pocket(width: int, height: int, x: float, y: float) -> str:
    return f"+ pocket tray\n+   into deck\n+   outline rectangle {width} by {height} mm\n+   depth 6 mm\n+   at ({x:g}, {y:g}) mm\n"


def test_a_hole_beside_the_middle_of_a_pockets_side() -> None:
    """The side stands at 60 + 15, the hole's edge at 79.5 - 4: 1.5 and a step to the left are wanted, and are enough."""
    hole = "+ hole dog\n+   into deck\n+   diameter 8 mm\n+   at (79.5, 175) mm\n"
    (found,) = plain(pocket(30, 40, 60.0, 165.0) + hole, "thin-wall")
    assert "0.5 mm of wood is left" in found.message and found.remedy == "`at (58.49, 165) mm` for `tray`"
    assert plain(pocket(30, 40, 58.49, 165.0) + hole, "thin-wall") == ()


def test_a_notch_that_comes_near_the_middle_of_a_pockets_side() -> None:
    """The notch, narrower than the pocket, ends at 281; the pocket's upper side stands at 265 + 15."""
    corners = ((0, 0), (480, 0), (480, 350), (250, 350), (250, 281), (230, 281), (230, 350), (0, 350))
    points = "".join(f"+   point ({x}, {y}) mm\n" for x, y in corners)
    notched = f"- outline rectangle 480 by 350 mm, corner_radius 12 mm\n+   outline polygon\n{points}"
    (found,) = plain(pocket(60, 30, 240.0, 265.0) + notched, "thin-wall")
    assert "the edge of `deck` 1 mm of wood is left" in found.message and found.remedy == "`at (240, 263.99) mm` for `tray`"
    assert plain(pocket(60, 30, 240.0, 263.99) + notched, "thin-wall") == ()
