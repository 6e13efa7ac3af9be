"""Whole sheets cut as polygons from the files alone, turned over and put back on their dowels. Nothing of the nesting is used.

Areas and places come from the SVG through svgelements; distances from shapely. What a wrong flip does is judged by the sides of the
triangle of holes and by its sense, which share no formula with the search for the holes.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import combinations, permutations
from pathlib import Path

import pytest
import shapely
from tests.oracles.sheet_files import Item, Written, written
from tests.part_samples import EXAMPLES, example

from trivet.solve.feature import Round
from trivet.solve.nest_records import Nest

each_example = pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
# Coordinates are written to 0.0001 mm; the reader's inch is 25.39998 mm, which is 0.001 mm over a sheet.
MEETS_MM = 0.01


@cache
def sheets(path: Path) -> tuple[Nest, dict[str, tuple[Written, ...]]]:
    """The nest and all faces of an example."""
    design, derived, _ = example(path)
    return written(design, derived)


def every_sheet(path: Path) -> list[tuple[Written, ...]]:
    return list(sheets(path)[1].values())


def turned_over(face: Written, x: float, y: float) -> tuple[float, float]:
    """A place on the second face as it lies when the first face is up: left and right exchanged over the sheet's width."""
    return face.sheet.width_mm - x, y


@each_example
def test_every_piece_is_on_a_sheet_once(path: Path) -> None:
    _, _, parts = example(path)
    wanted = sorted(f"{part.part} {n}" if n > 1 else part.part for part in parts for n in range(1, part.quantity + 1))
    laid = [item.part for first, *_ in every_sheet(path) for item in first.cut("outer edge")]
    assert sorted(laid) == wanted
    assert not sheets(path)[0].left_over


@each_example
def test_parts_keep_their_distance_and_stay_inside(path: Path) -> None:
    for first, *_ in every_sheet(path):
        sheet = first.sheet
        edges = [item.area for item in first.cut("outer edge")]
        assert all(edge.is_valid and edge.geom_type == "Polygon" for edge in edges)
        # The cutter and 4 mm at least: common practice (trade notes on nesting); here the cutter and 5 mm.
        cutter = max(part.cutter_diameter_mm for part in sheets(path)[0].parts)
        assert sheet.spacing_mm >= cutter + 4.0
        for one, other in combinations(edges, 2):
            assert shapely.distance(one, other) >= sheet.spacing_mm - MEETS_MM
        inside = shapely.box(0, 0, sheet.width_mm, sheet.height_mm).buffer(-10.0 + MEETS_MM, join_style="mitre")
        assert all(inside.contains(edge) for edge in edges)


@each_example
def test_work_lies_inside_its_own_part(path: Path) -> None:
    """A part drawn at one place and its pockets at another would show here, on either face."""
    for faces in every_sheet(path):
        edges = {item.part: item.area for item in faces[0].cut("outer edge")}
        for face in faces:
            for item in face.cut("pocket", "counterbore", "bore", "opening"):
                if not item.part:
                    continue
                area = item.area
                if face is not faces[0]:
                    area = shapely.transform(area, lambda at, w=face.sheet.width_mm: [[w - x, y] for x, y in at])
                assert edges[item.part].contains(area), (face.drawn.id, item.part, item.title)


@each_example
def test_faces_meet_when_the_sheet_is_turned_over(path: Path) -> None:
    """As many pairs of round cuts share a centre across the faces as do in the parts; each within 0.01 mm."""
    parts = {part.part: part for part in sheets(path)[0].parts}
    pairs = 0
    for first, *rest in every_sheet(path):
        for second in rest:
            for lying in second.sheet.lying:
                name = lying.part if lying.copy == 1 else f"{lying.part} {lying.copy}"
                part = parts[lying.part]
                rounds = [(item, item.shape) for item in part.features if isinstance(item.shape, Round)]
                front = [(s.x_mm, s.y_mm) for item, s in rounds if item.through or item.face == part.datum]
                back = [(s.x_mm, s.y_mm) for item, s in rounds if not item.through and item.face != part.datum]
                expected = sum(math.dist(a, b) < 1e-6 for a in front for b in back)
                here = [item.circle for item in first.cut() if item.part == name and item.circle]
                there = [item.circle for item in second.cut() if item.part == name and item.circle]
                met = sum(math.dist(a[:2], turned_over(second, *b[:2])) <= MEETS_MM for a in here for b in there)
                assert met == expected, (second.drawn.id, name)
                pairs += expected
            shown = [turned_over(second, *_middle(item)) for item in second.reference("outline")]
            edges = [_middle(item) for item in first.cut("outer edge")]
            assert len(shown) == len(edges)
            assert all(min(math.dist(a, b) for b in edges) <= MEETS_MM for a in shown)
    if path.stem in ("outfeed_riser", "small_riser", "inch_table"):
        assert pairs >= 1  # the counterbore for the drive bolt's head, from above, and the bolt's hole


def _middle(item: Item) -> tuple[float, float]:
    return item.area.centroid.x, item.area.centroid.y


def _holes(first: Written) -> list[tuple[float, float, float]]:
    return [item.circle for item in first.cut("bore") if not item.part and item.circle is not None]


@each_example
def test_index_holes_lie_in_the_waste(path: Path) -> None:
    """Three on each sheet that is turned over: inside it, off every part by the spacing, and far apart."""
    seen = 0
    for first, *rest in every_sheet(path):
        holes, sheet = _holes(first), first.sheet
        assert len(holes) == (3 if rest else 0)
        assert bool(rest) == sheet.two_faced
        edges = [item.area for item in first.cut("outer edge")]
        for x, y, diameter in holes:
            seen += 1
            assert all(edge.distance(shapely.Point(x, y)) - diameter / 2 >= sheet.spacing_mm - MEETS_MM for edge in edges)
            assert min(x, y, sheet.width_mm - x, sheet.height_mm - y) - diameter / 2 >= 4.0
        if holes:
            box = shapely.union_all(edges).bounds
            apart = max(math.dist(a[:2], b[:2]) for a, b in combinations(holes[:2], 2))
            assert apart >= 0.6 * max(box[2] - box[0], box[3] - box[1])
    assert seen == 3 * sum(first.sheet.two_faced for first, *_ in every_sheet(path))


def _sense(points: list[tuple[float, float]]) -> float:
    (ax, ay), (bx, by), (cx, cy) = points
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)


@each_example
def test_only_the_right_flip_goes_onto_the_dowels(path: Path) -> None:
    for first, *rest in every_sheet(path):
        for second in rest:
            holes, sheet = _holes(first), first.sheet
            dowels = sorted({item.circle for item in second.reference("registration") if item.circle})
            flipped = sorted((*turned_over(first, x, y), d) for x, y, d in holes)
            assert len(dowels) == 3
            assert all(math.dist(a[:2], b[:2]) <= MEETS_MM for a, b in zip(dowels, flipped, strict=True))
            assert all(d >= sheet.dowel_mm for _, _, d in holes)
            # Every wrong way in the same place: not turned, about the other axis, half round.
            w, h = sheet.width_mm, sheet.height_mm
            wrong = {
                "not turned over": [(x, y) for x, y, _ in holes],
                "about the other axis": [(x, h - y) for x, y, _ in holes],
                "turned half round": [(w - x, h - y) for x, y, _ in holes],
                "right, then half round": [(x, h - y) for x, y, _ in holes],
            }
            for how, places in wrong.items():
                off = [min(math.dist(place, dowel[:2]) for dowel in dowels) for place in places]
                assert max(off) > sheet.dowel_mm, how
            # Shifted and turned at will: sides that differ, or a sense that differs, cannot be put right by moving the sheet.
            room = max(d for _, _, d in holes) - sheet.dowel_mm
            pins = [(x, y) for x, y, _ in flipped]
            for mirrored in (False, True):
                for order in permutations(range(3)):
                    if not mirrored and order == (0, 1, 2):
                        continue
                    put = [pins[k] for k in order]
                    sides = [math.dist(put[a], put[b]) for a, b in ((0, 1), (1, 2), (2, 0))]
                    theirs = [math.dist(pins[a], pins[b]) for a, b in ((0, 1), (1, 2), (2, 0))]
                    differ = max(abs(a - b) for a, b in zip(sides, theirs, strict=True)) > 4.0 * room
                    kept = (_sense(put) > 0) != (_sense(pins) > 0)
                    other_sense = kept != mirrored
                    height = abs(_sense(pins)) / max(theirs)
                    assert differ or (other_sense and height > sheet.dowel_mm + room), (mirrored, order)


@each_example
def test_inner_work_comes_before_what_frees_a_part(path: Path) -> None:
    """In the order of the layers of the file: the outer edge is the last cut of each part, and index holes are the first of all."""
    for first, *_ in every_sheet(path):
        cut = [item for item in first.items if item.operation]
        edges = [k for k, item in enumerate(cut) if item.operation == "outer edge"]
        assert edges == list(range(len(cut) - len(edges), len(cut)))
        areas = [round(cut[k].area.area, 2) for k in edges]
        assert areas == sorted(areas) or len({item.layer for item in cut if item.operation == "outer edge"}) > 1
        if first.sheet.two_faced:
            assert [item.part for item in cut[:3]] == ["", "", ""]


@each_example
def test_letters_and_numbers_are_kept_out_of_the_cuts(path: Path) -> None:
    for faces in every_sheet(path):
        for face in faces:
            for layer in face.drawn.layers:
                assert layer.reference == layer.name.startswith("reference ")
