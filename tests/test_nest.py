"""Laying parts on sheets: off-cuts, limits, grain, faces, quantities, notches; and the same every time."""

from __future__ import annotations

import math

import pytest
import shapely
from tests.fixture_text import compiled

from trivet.checks._examples import BASE
from trivet.solve.nest import laid_job, nest
from trivet.solve.nest_job import jobs_of
from trivet.solve.nest_records import Job, Nest, Piece, Stock
from trivet.solve.nest_registration import least_miss_mm

LS = """
spacer ell
  stock ply18
  cutter straight6
  outline polygon
  point (0, 0) mm
  point (200, 0) mm
  point (200, 40) mm
  point (40, 40) mm
  point (40, 200) mm
  point (0, 200) mm
  quantity 6
"""


def laid(text: str) -> Nest:
    found = compiled(text)
    assert found.design is not None and found.derived is not None, [item.message for item in found.findings]
    return nest(found.design, found.derived)


def outlines(result: Nest, number: int = 0) -> list[shapely.Polygon]:
    """The outlines of a sheet's pieces where they lie, from the parts' own contours."""
    sheet = result.sheets[number]
    parts = {part.part: part for part in result.parts}
    found = []
    for item in sheet.lying:
        part = parts[item.part]
        points = part.outline.points(0.005)
        if part.datum == "underside":
            points = tuple((-x, y) for x, y in points)
        c, s = math.cos(math.radians(item.turn_deg)), math.sin(math.radians(item.turn_deg))
        found.append(shapely.Polygon([(item.x_mm + x * c - y * s, item.y_mm + x * s + y * c) for x, y in points]))
    return found


def least_distance(shapes: list[shapely.Polygon]) -> float:
    return min(a.distance(b) for k, a in enumerate(shapes) for b in shapes[:k])


def test_off_cuts_come_first_and_the_smallest_of_them() -> None:
    size = "  size 1220 by 610 mm"
    result = laid(BASE.replace(size, f"{size}\n  off_cut 520 by 400 mm\n  off_cut 300 by 160 mm"))
    assert [(sheet.width_mm, sheet.off_cut) for sheet in result.sheets][-1] == (1220.0, False)
    assert any(sheet.off_cut and sheet.width_mm == 520.0 for sheet in result.sheets)
    assert [sheet.number for sheet in result.sheets] == list(range(1, len(result.sheets) + 1))
    assert sum(len(sheet.lying) for sheet in result.sheets) == 8 and not result.left_over


def test_a_stated_number_of_sheets_is_kept_to() -> None:
    result = laid(BASE.replace("size 1220 by 610 mm", "size 500 by 610 mm\n  sheets 1"))
    assert len(result.sheets) == 1 and result.left_over
    assert {name for name, _ in result.left_over} == {"ply18"}
    whole = laid(BASE.replace("size 1220 by 610 mm", "size 500 by 610 mm"))
    assert len(whole.sheets) == 2 and not whole.left_over


def test_sheets_without_a_size_are_not_nested() -> None:
    result = laid(BASE.replace("  size 1220 by 610 mm\n", ""))
    assert result.sheets == () and result.not_sized == ("ply18",)


@pytest.mark.parametrize(("sheet", "board", "turns"), [("x", "", {0, 180}), ("x", "y", {90, 270}), ("y", "y", {0, 180}), ("", "y", None)])
def test_boards_keep_to_the_grain(sheet: str, board: str, turns: set[int] | None) -> None:
    text = BASE.replace("  size 1220 by 610 mm", "  size 1220 by 610 mm" + (f"\n  face_grain along {sheet}" if sheet else ""))
    text = text.replace("corner_radius 12 mm", "corner_radius 12 mm" + (f"\n  grain along {board}" if board else ""))
    found = compiled(text)
    assert found.design is not None and found.derived is not None
    (job,) = jobs_of(found.design, found.derived).jobs
    deck = next(piece for piece in job.pieces if piece.part == "deck")
    assert set(deck.turns_deg) == ({0, 90, 180, 270} if turns is None else turns)
    turned = {item.turn_deg for item in laid(text).sheets[0].lying if item.part == "deck"}
    assert turns is None or turned <= turns


def test_parts_that_begin_with_the_other_face_get_a_sheet_of_their_own() -> None:
    text = BASE + "\nboard lid\n  stock ply18\n  cutter straight6\n  outline rectangle 200 by 100 mm\n  datum topside\n  under deck\n"
    text += "\nhole peg\n  into lid, topside\n  diameter 10 mm\n  blind 6 mm\n  at lid (50, 50) mm\n"
    text = text.replace("default gear\n", "default foot\n  into deck\n\ndefault gear\n  under deck\n")
    result = laid(text)
    assert [(sheet.first_face, {item.part for item in sheet.lying} == {"lid"}) for sheet in result.sheets] == [
        ("underside", False),
        ("topside", True),
    ]


def test_notches_are_used() -> None:
    """Six angles of 200 by 200 mm, 40 mm wide, lie inside one another: less length than their boxes need side by side."""
    text = BASE.replace("size 1220 by 610 mm", "size 2000 by 225 mm\n  spacing 10 mm") + LS
    found = compiled(text)
    assert found.design is not None and found.derived is not None
    (job,) = jobs_of(found.design, found.derived).jobs
    only = Job(
        **{name: getattr(job, name) for name in job.__slots__ if name not in ("pieces", "starts")},
        pieces=tuple(piece for piece in job.pieces if piece.part == "ell"),
        starts=6,
    )
    result = laid_job(only)
    shapes = [shapely.Polygon(only.pieces[k].at(x, y, turn).points(0.005)) for _, k, x, y, turn in result.spots]
    assert len(shapes) == 6 and least_distance(shapes) >= 10.0 - 0.01
    assert max(shape.bounds[2] for shape in shapes) < 10.0 + 6 * 200.0 + 5 * 10.0 - 100.0


def test_quantities_are_laid_one_by_one() -> None:
    result = laid(BASE + LS.replace("quantity 6", "quantity 3"))
    ells = [item.copy for sheet in result.sheets for item in sheet.lying if item.part == "ell"]
    assert sorted(ells) == [1, 2, 3]
    for number, sheet in enumerate(result.sheets):
        shapes = outlines(result, number)
        assert least_distance(shapes) >= sheet.spacing_mm - 0.01
        inside = shapely.box(10, 10, sheet.width_mm - 10, sheet.height_mm - 10).buffer(0.01)
        assert all(inside.contains(shape) for shape in shapes)


def test_too_many_pieces_are_not_nested_and_that_is_said() -> None:
    result = laid(BASE + LS.replace("quantity 6", "quantity 2000"))
    assert result.sheets == () and result.not_sized == ("ply18",)


def test_stated_spacing_and_margin_hold() -> None:
    text = BASE.replace("size 1220 by 610 mm", "size 1220 by 610 mm\n  spacing 20 mm\n  edge_margin 25 mm\n  registration dowel 8 mm")
    result = laid(text)
    shapes = outlines(result)
    assert least_distance(shapes) >= 20.0 - 0.01
    assert min(min(shape.bounds[:2]) for shape in shapes) >= 25.0 - 0.002
    assert sorted(hole.diameter_mm for hole in result.sheets[0].holes) == [8.1, 8.1, 9.0]


def test_equal_gears_are_one_shape_and_keep_their_phase() -> None:
    """Laid with a tooth at +x; the turn written down brings the part, which is drawn in phase, to the same outline."""
    result = laid(BASE)
    shapes = dict(zip([item.part for item in result.sheets[0].lying], outlines(result), strict=True))
    centres = {item.part: (item.x_mm, item.y_mm) for item in result.sheets[0].lying}
    for one in ("sw", "ne", "se"):
        dx, dy = (a - b for a, b in zip(centres[one], centres["nw"], strict=True))
        moved = shapely.affinity.translate(shapes["nw"], dx, dy)
        assert moved.symmetric_difference(shapes[one]).area < 0.5  # 6 mm teeth of a 132 mm gear; turned by a tenth of a tooth: 150 mm2


def test_the_same_fixture_is_laid_alike() -> None:
    found = compiled(BASE)
    assert found.design is not None and found.derived is not None
    said: list[str] = []
    first = nest(found.design, found.derived)
    second = nest(found.design, found.derived, lambda words, wait: said.append(words))
    assert first == second
    assert said and all(line.startswith("nesting ply18: 8 pieces, order ") for line in said)


def test_a_piece_that_fits_exactly_finds_its_place() -> None:
    text = BASE.replace("size 1220 by 610 mm", "size 500 by 370 mm")
    result = laid(text)
    deck = next(sheet for sheet in result.sheets if any(item.part == "deck" for item in sheet.lying))
    assert deck.used_mm == pytest.approx((10.0, 10.0, 490.0, 360.0), abs=0.002)


def test_a_full_sheet_without_room_for_dowels_says_so_and_is_laid_all_the_same() -> None:
    result = laid(BASE.replace("size 1220 by 610 mm", "size 482 by 352 mm\n  edge_margin 1 mm"))
    full = next(sheet for sheet in result.sheets if any(item.part == "deck" for item in sheet.lying))
    assert full.no_room and full.holes == ()


@pytest.mark.parametrize(
    ("holes", "least"),
    [
        # A straight angle, an isosceles one and a scalene one; by hand: the mirror of three in line is itself, two equal sides change places.
        (((0.0, 0.0), (100.0, 0.0), (50.0, 0.0)), 0.0),
        (((0.0, 0.0), (100.0, 0.0), (50.0, 40.0)), 0.0),
    ],
)
def test_symmetric_holes_miss_nothing(holes: tuple[tuple[float, float], ...], least: float) -> None:
    assert least_miss_mm(holes) == pytest.approx(least, abs=1e-9)


def test_uneven_holes_miss_by_what_a_search_finds() -> None:
    """Every wrong way tried by turning in steps of half a degree and shifting the middles onto each other."""
    holes = ((0.0, 0.0), (400.0, 30.0), (120.0, 200.0))
    middle = [sum(point[axis] for point in holes) / 3 for axis in (0, 1)]
    at = [complex(x - middle[0], y - middle[1]) for x, y in holes]
    best = math.inf
    for step in range(1440):
        turn = complex(math.cos(step * math.pi / 720), math.sin(step * math.pi / 720))
        for mirrored in (False, True):
            for order in ((0, 1, 2), (0, 2, 1), (1, 0, 2), (1, 2, 0), (2, 0, 1), (2, 1, 0)):
                if not mirrored and order == (0, 1, 2):
                    continue
                put = [turn * (at[k].conjugate() if mirrored else at[k]) for k in order]
                best = min(best, max(abs(a - b) for a, b in zip(put, at, strict=True)))
    # The search aims at the greatest miss, the formula at the squares: their greatest miss is no less, and at most sqrt(3) times as much.
    assert best - 2.0 <= least_miss_mm(holes) <= best * math.sqrt(3.0)


def test_pieces_need_no_design() -> None:
    """Guards the records: two squares on a stock that takes one; the other is left over."""
    from trivet.solve.contour_shapes import rectangle

    square = rectangle(0.0, 0.0, 80.0, 80.0)
    job = Job(
        "s", "topside", (Piece("a", 1, square, (0.0,)), Piece("b", 1, square, (0.0,))), (Stock(100.0, 100.0, 1, False),), 10.0, 10.0,
        6.0, 6.0, frozenset(), 3,
    )  # fmt: skip
    assert laid_job(job).left_over == (1,)
