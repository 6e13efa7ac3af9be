"""A placement that is kept, what its mark holds and what is said of one that does not hold; where names stand in parts. Lengths mm."""

from __future__ import annotations

import hashlib
import math
from typing import Any

import pytest
import shapely
from tests.sharp.test_sharp_nest import WIDE, job, piece
from tests.sharp.test_sharp_nest_job import deck

from trivet.record import replace
from trivet.solve.contour import Contour, Vertex
from trivet.solve.contour_shapes import circle, polygon, rectangle
from trivet.solve.feature import Feature, Round, Stroke
from trivet.solve.nest import assembled
from trivet.solve.nest_job import Jobs
from trivet.solve.nest_kept import NotKept, kept_nest, kept_record, mark_of
from trivet.solve.nest_laid import laid_part, name_place
from trivet.solve.nest_place import Laid
from trivet.solve.nest_records import Job, Lying, NestedSheet, Stock

STOCK = Stock(300.0, 200.0, 2, False)
MADE = job(piece(), piece("b", WIDE, (0.0, 90.0), 2, 350.0), stocks=(STOCK, Stock(250.0, 150.0, 1, True)), machine="m")
LAID = Laid((STOCK, STOCK), ((0, 0, 10.0, 10.0, 0.0), (1, 1, 60.0, 70.0, 90.0)), (), ())


def jobs(*items: Job) -> Jobs:
    return Jobs(items, (), (), ())


def mark(**facts: Any) -> str:
    return mark_of(jobs(replace(MADE, **facts)))


def test_a_mark_holds_to_a_thousandth() -> None:
    """Half of it and less is the same placement, one and a half another: of spacing, margin, dowels, sheets and outlines."""
    plain = mark()
    for name in ("spacing_mm", "margin_mm", "dowel_mm"):
        value = getattr(MADE, name)
        assert mark(**{name: value + 0.0004}) == plain != mark(**{name: value + 0.0015})
    for size in ("width_mm", "height_mm"):
        near, far = (replace(STOCK, **{size: getattr(STOCK, size) + by}) for by in (0.0004, 0.0015))
        assert mark(stocks=(near, MADE.stocks[1])) == plain != mark(stocks=(far, MADE.stocks[1]))
    corners = [Vertex(0.0, 0.0), Vertex(80.0, 0.0, 0.25), Vertex(80.0, 80.0), Vertex(-0.0, 80.0)]

    def shaped(x: float, y: float, bulge: float) -> str:
        moved = Contour((*corners[:1], Vertex(80.0 + x, y, 0.25 + bulge), *corners[2:]))
        return mark(pieces=(piece("a", moved), MADE.pieces[1]))

    base = shaped(0.0, 0.0, 0.0)
    assert shaped(0.0004, -0.0004, 0.000004) == base
    assert len({base, shaped(0.0015, 0.0, 0.0), shaped(0.0, 0.0015, 0.0), shaped(0.0, 0.0, 0.000015)}) == 4
    # A zero has no sign.
    signed = Contour((Vertex(-0.0, -0.0, -0.0), *corners[1:3], Vertex(0.0, 80.0, -0.0)))
    assert mark(pieces=(piece("a", signed), MADE.pieces[1])) == base


def test_a_mark_holds_what_else_a_placement_stands_on() -> None:
    """Machines by name, the face, pieces with work on both faces, how many sheets, and which pieces whatever their order."""
    others = [
        {"machine": "n"}, {"machine": ""}, {"first_face": "underside"}, {"two_faced": frozenset("a")}, {"stocks": MADE.stocks[:1]},
        {"stocks": (replace(STOCK, off_cut=True), MADE.stocks[1])}, {"pieces": MADE.pieces[:1]}, {"sheet": "mdf"},
    ]  # fmt: skip
    assert len({mark(), *(mark(**facts) for facts in others)}) == 9
    assert mark(pieces=MADE.pieces[::-1]) == mark() and mark(starts=9) == mark() and mark().startswith("sha256:")


def test_what_is_hashed() -> None:
    """Written out, so that a placement kept today is still known by a later version."""
    told = (
        "[('ply', 'topside', 10.0, 10.0, 8.0, [(300.0, 200.0, 2, False)], "
        "[('a', 1, ((0.0, 0.0, 0.0), (80.0, 0.0, 0.0), (80.0, 80.0, 0.0), (0.0, 80.0, 0.0)), (0.0,))], ['a'], 'm')]"
    )
    made = job(piece(), stocks=(STOCK,), machine="m", two_faced=frozenset("a"))
    assert mark_of(jobs(made)) == "sha256:" + hashlib.sha256(told.encode()).hexdigest()
    bare = told.replace(", 'm')]", ")]")
    assert mark_of(jobs(replace(made, machine=""))) == "sha256:" + hashlib.sha256(bare.encode()).hexdigest()


def kept(**changes: Any) -> Any:
    found: Any = kept_record(jobs(MADE), assembled(jobs(MADE), {MADE: LAID}))
    for key, value in changes.items():
        if key == "sheet":
            found["sheets"][1] |= value
        elif key == "piece":
            found["sheets"][1]["pieces"][0] |= value
        else:
            found[key] = value
    return found


def test_a_placement_as_data() -> None:
    """Turned by 350° as it is drawn and by 90° more: 80."""
    found = kept()
    assert found["form"] == 1 and found["holds"] == mark() and len(found["sheets"]) == 2
    assert found["sheets"][1] == {
        "machine": "m", "sheet": "ply", "first_face": "topside", "width_mm": 300.0, "height_mm": 200.0, "off_cut": False,
        "pieces": [{"part": "b", "copy": 2, "x_mm": 60.0, "y_mm": 70.0, "turn_deg": 80.0}],
    }  # fmt: skip
    assert [sheet.lying for sheet in kept_nest(jobs(MADE), found).sheets] == [(Lying("a", 1, 10, 10, 0.0),), (Lying("b", 2, 60, 70, 80.0),)]
    plain = replace(MADE, machine="")
    assert "machine" not in kept_record(jobs(plain), assembled(jobs(plain), {plain: LAID}))["sheets"][0]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"form": 0}, "is not in a form that this version reads"),
        ({"form": 2}, "is not in a form that this version reads"),
        ({"holds": "sha256:0"}, "is for other parts or sheets than these"),
        ({"sheets": 7}, "is damaged"),
        ({"sheet": {"width_mm": 301.0}}, "is damaged"),
        ({"sheet": {"off_cut": True}}, "is damaged"),
        ({"piece": {"part": "x"}}, "is damaged"),
        ({"piece": {"part": "a", "copy": 1}}, "is damaged"),
        ({"piece": {"x_mm": "far"}}, "is damaged"),
        ({"piece": {"x_mm": 20.0}}, "lays a part over the edge of its sheet"),
        ({"piece": {"turn_deg": 350.0, "x_mm": 40.0}}, "lays a part over the edge of its sheet"),
    ],
)
def test_what_is_said_of_a_placement_that_does_not_hold(changes: Any, words: str) -> None:
    with pytest.raises(NotKept) as said:
        kept_nest(jobs(MADE), kept(**changes))
    assert str(said.value) == words


def test_more_sheets_than_there_are() -> None:
    few = replace(MADE, stocks=(replace(STOCK, count=1),))
    record = kept() | {"holds": mark_of(jobs(few))}
    with pytest.raises(NotKept, match=r"^takes more sheets than there are$"):
        kept_nest(jobs(few), record)
    # A sheet of another machine or face is none of this job's: its pieces are left over.
    other = kept(sheet={"machine": "n"})
    assert kept_nest(jobs(MADE), other).left_over == (("ply", "b 2"),)
    assert kept_nest(jobs(MADE), kept(sheet={"first_face": "underside"})).left_over == (("ply", "b 2"),)


# Names.
def cut(shape: Any) -> Feature:
    return Feature("engrave", "topside", 0.5, shape, "t", "b")


@pytest.mark.parametrize("ends", [(50, -5, 50, 105), (40, -5, 60, 105), (60, 105, 40, -5), (-5, 30, 105, 70), (20, 20, 80, 80), (80, 30, 30, 80)])
def test_a_name_keeps_a_millimetre_off_a_line(ends: tuple[float, float, float, float]) -> None:
    part = deck(rectangle(0, 0, 100, 100), features=(cut(Stroke(*ends)),))
    x, y, radius = name_place(part)
    x1, y1, x2, y2 = ends
    along = max(0.0, min(1.0, ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / math.dist((x1, y1), (x2, y2)) ** 2))
    away = math.dist((x, y), (x1 + along * (x2 - x1), y1 + along * (y2 - y1)))
    assert radius == pytest.approx(min(away - 1.0, x, y, 100 - x, 100 - y), abs=0.016) and radius > 15.0


def test_a_name_to_a_hundredth_in_the_larger_part_of_what_is_free() -> None:
    """A triangle of 13, 14 and 15 ten times, at any turn: its inscribed circle has radius 40, found to half a millimetre."""
    for turn in (0.0, 0.3, 2.0):
        triangle = polygon([(0, 0), (140, 0), (50, 120)]).rotated(turn).translated(1.234, 5.678)
        x, y, radius = name_place(deck(triangle))
        away = shapely.Polygon(triangle.points(0.1)).exterior.distance(shapely.Point(x, y))
        assert 39.4 <= radius <= 40.0 and away == pytest.approx(radius, abs=0.013)
        assert all(round(value, 2) == value for value in (x, y, radius))
    # Chords of a round part lie within a tenth of it.
    x, y, radius = name_place(deck(circle(3, 4, 30)))
    assert radius + math.hypot(x - 3, y - 4) == pytest.approx(30.0, abs=0.11)
    # Cut in two at x = 40, and at x = 60: the larger rest.
    for at, side in ((40, 1.0), (60, -1.0)):
        x, *_ = name_place(deck(rectangle(0, 0, 100, 30), features=(cut(rectangle(at, -5, 2, 40)),)))
        assert (x - at) * side > 0.0
    # A round pocket as wide as the part leaves corners, all alike.
    x, y, radius = name_place(deck(rectangle(0, 0, 40, 40), features=(cut(Round(20, 20, 40)),)))
    assert math.hypot(x - 20, y - 20) >= 20.0 + radius - 0.2 and 2.5 < radius < 20 * (3.0 - 2.0 * math.sqrt(2.0)) + 0.1


def test_lying_parts_carry_their_move() -> None:
    sheet = NestedSheet("ply", 1, "topside", 300, 200, False, (), (0, 0, 1, 1), 1.0, True, 10, 10, 8)
    found = laid_part(deck(datum="topside"), Lying("deck", 1, 100, 50, 30.0), sheet, "topside")
    assert (found.flip_x_mm, found.dx_mm, found.dy_mm) == (None, 100, 50) and found.turn_rad == pytest.approx(math.radians(30.0))
    other = laid_part(deck(datum="topside"), Lying("deck", 1, 100, 50, 30.0), sheet, "underside")
    assert other.flip_x_mm == 150.0 and other.placed(Round(0, 0, 8)) == Round(200.0, 50.0, 8)
