"""Pieces laid one after another on small sheets, what is asked of each sheet, and which parts go where. Lengths mm."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest
from tests.designs import design, gear, mm
from tests.sharp.test_sharp_nest import SQUARE, WIDE, job, piece
from tests.sharp.test_sharp_nest_job import deck

from trivet.model.base import Ref
from trivet.model.shop import Machine
from trivet.record import replace
from trivet.solve import nest_job
from trivet.solve.contour import Contour, Vertex
from trivet.solve.contour_shapes import circle, rectangle
from trivet.solve.feature import Feature, Round
from trivet.solve.nest import least_sheets, sheets_of
from trivet.solve.nest_apart import keeps_apart
from trivet.solve.nest_place import Bench, Laid, lay
from trivet.solve.nest_records import Job, Stock
from trivet.solve.nest_shapes import grown
from trivet.units import Quantity

ROOMY, UPRIGHT, EVEN = Stock(300, 200, None, False), Stock(200, 300, None, False), Stock(300, 300, None, False)


def laid(made: Job, *order: int) -> Laid:
    found = lay(Bench(made), order or range(len(made.pieces)))
    assert keeps_apart(made, found)
    return found


def spots(found: Laid) -> list[tuple[int, int, float, float, float]]:
    """To whole millimetres: grown outlines stand a little farther apart than they must, up to 0.4 for each."""
    return [(sheet, index, whole(x), whole(y), turn) for sheet, index, x, y, turn in found.spots]


def whole(mm: float) -> int:
    return math.floor(mm + 0.001)


@pytest.mark.parametrize(
    ("stock", "second"), [(ROOMY, (10, 100)), (EVEN, (10, 100)), (UPRIGHT, (100, 10)), (Stock(300, 180, None, False), (100, 10))]
)
def test_across_the_shorter_way_first(stock: Stock, second: tuple[float, float]) -> None:
    """The first in the lower left corner, the second beside it where the length used does not grow; on an even sheet along y."""
    found = laid(job(piece(), piece("b"), stocks=(stock,)))
    assert spots(found) == [(0, 0, 10, 10, 0.0), (0, 1, *second, 0.0)]
    far = 180.0 if second == (100, 10) and stock.width_mm > stock.height_mm else 90.0
    # Kept to a thousandth, and no coarser.
    places = [value for _, _, x, y, _ in found.spots for value in (x, y)]
    assert all(round(value, 3) == value for value in places) and any(round(value, 2) != value for value in places)
    assert found.cost[:3] == (0.0, 1.0, 1.0) and found.cost[3:] == pytest.approx((far, far), abs=0.5)


@pytest.mark.parametrize("outline", [rectangle(5, 7, 80, 80), rectangle(-10, -130, 80, 80), rectangle(-130, -10, 80, 80), rectangle(-300, -400, 80, 80)])
@pytest.mark.parametrize(("stock", "second"), [(Stock(210, 100, None, False), (100, 10)), (Stock(100, 210, None, False), (10, 100)), (EVEN, (10, 100))])
def test_wherever_its_origin_is_a_piece_lies_alike(outline: Any, stock: Stock, second: tuple[float, float]) -> None:
    found = laid(job(piece(outline=outline), piece("b", outline), stocks=(stock,)))
    x0, y0, *_ = outline.bounds
    assert [(whole(x + x0), whole(y + y0)) for _, _, x, y, _ in found.spots] == [(10, 10), second]


@pytest.mark.parametrize(("stock", "turn"), [(ROOMY, 90.0), (UPRIGHT, 0.0), (EVEN, 90.0)])
def test_the_turn_that_takes_the_least_length(stock: Stock, turn: float) -> None:
    """80 by 40 from its corner: along the longer side of the sheet it takes 40 in one of its turns."""
    for bar in (rectangle(0, 0, 80, 40), rectangle(200, -300, 80, 40)):
        found = laid(job(piece("b", bar, (0.0, 90.0)), stocks=(stock,)))
        assert found.spots[0][4] == turn and found.cost[3:] == (50.0, 50.0)
    assert laid(job(piece("b", rectangle(0, 0, 40, 80), (0.0, 90.0)), stocks=(stock,))).spots[0][4] == 90.0 - turn


def test_turns_that_a_sheet_is_too_narrow_for() -> None:
    """Bars of 80 by 40 on a strip 70 wide: upright only, one after another, and nothing is asked of the turn that has no room."""
    strip = Stock(70, 290, None, False)
    found = laid(job(piece("b", WIDE, (0.0, 90.0)), piece("c", WIDE, (0.0, 90.0)), piece("d", WIDE, (0.0, 90.0)), stocks=(strip,)))
    assert spots(found) == [(0, 0, 30, 50, 90.0), (0, 1, 30, 140, 90.0), (0, 2, 30, 230, 90.0)]


def test_the_first_sheet_with_room_is_taken() -> None:
    """60 and 70 wide each fill a sheet of 100; 8 fits beside the first only, 6 after that on none of the two."""
    high = [rectangle(0, 0, wide, 80) for wide in (60, 70, 8, 6)]
    pieces = [piece(name, outline) for name, outline in zip("abcd", high, strict=True)]
    sheet = Stock(100, 100, None, False)
    found = laid(job(*pieces, stocks=(sheet,)))
    assert [(number, index) for number, index, *_ in found.spots] == [(0, 0), (1, 1), (0, 2), (2, 3)] and len(found.stocks) == 3
    # A sheet that is full is passed over; one that is used up gives way to the next; what fits nowhere holds nothing up.
    other = laid(job(piece("a"), pieces[0], piece("c", rectangle(0, 0, 8, 70)), stocks=(sheet,)))
    assert [(number, index) for number, index, *_ in other.spots] == [(0, 0), (1, 1), (1, 2)]
    few = laid(job(piece("a"), piece("b"), piece("c"), stocks=(replace(sheet, count=1), Stock(105, 100, 1, True))))
    assert [(number, index) for number, index, *_ in few.spots] == [(0, 0), (1, 1)] and few.left_over == (2,) and len(few.stocks) == 2


def test_what_fits_nowhere_is_left_and_the_rest_laid() -> None:
    large = piece("big", rectangle(0, 0, 281, 9))
    found = laid(job(large, piece("a"), replace(large, copy=2), piece("b"), stocks=(Stock(300, 100, 1, False), Stock(100, 100, 1, False))))
    assert found.left_over == (0, 2) and [index for _, index, *_ in found.spots] == [1, 3] and found.cost[0] == 2.0


def test_only_what_waits_is_worked_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of kinds a, a, b each region is cut for those that still come: after the first for both, after the second for b, then for none."""
    bench = Bench(job(piece("a"), piece("b"), piece("c", WIDE), stocks=(ROOMY,)))
    asked: list[tuple[int, int]] = []
    apart = bench.apart

    def seen(first: tuple[int, float], second: tuple[int, float]) -> Any:
        asked.append((first[0], second[0]))
        return apart(first, second)

    monkeypatch.setattr(bench, "apart", seen)
    found = lay(bench, (0, 1, 2))
    assert asked == [(0, 0), (0, 1), (0, 1)] and keeps_apart(bench.job, found) and len(found.spots) == 3
    asked.clear()
    assert len(lay(bench, (2, 0, 1)).spots) == 3 and asked == [(1, 0), (0, 0)]
    assert bench.reserved_mm == 0.0 and Bench(bench.job, 9.5).reserved_mm == 9.5


def test_lengths_used_to_a_tenth() -> None:
    made = job(piece("a", rectangle(0, 0, 70.46, 80)), stocks=(Stock(300, 100, None, False),))
    assert laid(made).cost == (0.0, 1.0, 1.0, 80.5, 80.5)
    # An off-cut counts among the sheets and not among the whole ones.
    cut = job(piece(), piece("b"), stocks=(Stock(100, 100, 1, True), Stock(100, 120, None, False)))
    assert laid(cut).cost == (0.0, 1.0, 2.0, 90.0, 180.0)


def test_sheets_that_an_area_asks_for() -> None:
    """Three squares of 80, 19200; two panels of 100 by 95 from an off-cut leave 200, and one leaves 9700."""
    whole = Stock(100, 100, None, False)
    made = [job(piece(), piece("b"), piece("c"), stocks=(Stock(100, 95, 1, True, count), whole)) for count in (2, 1)]
    assert [least_sheets(item) for item in made] == [1, 1]
    assert least_sheets(replace(made[0], stocks=(Stock(100, 45, 1, True, 2), whole))) == 2
    assert least_sheets(replace(made[0], stocks=(Stock(100, 46.5, 1, True, 2), whole))) == 1


def test_turns_are_kept_to_a_millionth() -> None:
    made = job(piece(turned=0.12345678), stocks=(ROOMY,))
    (sheet,) = sheets_of(made, Laid((ROOMY,), ((0, 0, 10, 10, 90.0),), (), ()), 0)
    assert sheet.lying[0].turn_deg == 90.123457


# Which parts go where.
def sized(name: str, **facts: Any) -> Any:
    return design(()).sheets[0].model_copy(update=dict(name=Ref(name), width=mm(900), height=mm(500)) | facts)


def test_sheets_faces_and_machines_of_a_fixture(monkeypatch: pytest.MonkeyPatch) -> None:
    """A sheet without parts, one without a size, one with too many on one face: the others are nested all the same."""
    ply = sized("ply", off_cuts=((mm(400), mm(300)),))
    sheets = (sized("none"), sized("bare", width=None), sized("full"), ply)
    pocket = (Feature("pocket", "topside", 2.0, Round(9, 9, 5), "t", "b"),)
    both = (*pocket, Feature("pocket", "underside", 2.0, Round(9, 9, 5), "t", "b"))
    machine = Machine(name=Ref("m"), work_area_width=Quantity(Fraction(450), "mm"), work_area_height=Quantity(Fraction(450), "mm"))
    parts = (
        deck(part="p0", sheet=sheets[1]), deck(part="p1", sheet=ply, datum="underside", features=both, kind="gear"),
        deck(part="many", sheet=sheets[2], datum="underside", quantity=601), deck(part="few", sheet=sheets[2], datum="topside", features=pocket),
        deck(part="own", sheet=ply, datum="underside"),
    )  # fmt: skip
    monkeypatch.setattr(nest_job, "part_features", lambda *_: parts)
    monkeypatch.setattr(nest_job, "machines_of", lambda *_: {"own": machine})
    derived: Any = type("Of", (), {"train": type("Of", (), {"gears": [type("Of", (), {"id": "p1", "phase_rad": 0.0})]})})
    found = nest_job.jobs_of(design((), sheets=sheets), derived)
    assert found.not_sized == ("bare",) and found.too_many == ("full",)
    assert [(item.sheet, item.first_face, [p.part for p in item.pieces], item.machine) for item in found.jobs] == [
        ("full", "topside", ["few"], ""), ("ply", "underside", ["p1"], ""), ("ply", "underside", ["own"], "m"),
    ]  # fmt: skip
    # The off-cut is for the first of two groups; the machine gets what it can take of the sheets.
    assert [[stock.off_cut for stock in item.stocks] for item in found.jobs] == [[False], [True, False], [False]]
    assert found.jobs[2].stocks[0].cut_from_mm == (900, 500) and found.jobs[1].two_faced == {"p1"} and found.jobs[0].two_faced == frozenset()
    assert [part.part for part in found.parts] == ["p0", "p1", "many", "few", "own"]


def test_off_cuts_by_area() -> None:
    cuts = tuple((mm(x), mm(y)) for x, y in ((30, 100), (50, 50), (40, 60)))
    assert [(stock.width_mm, stock.height_mm) for stock in nest_job.stocks_of(sized("ply", off_cuts=cuts))] == [(40, 60), (50, 50), (30, 100), (900, 500)]


def test_work_ends_the_search() -> None:
    # 2000 pieces laid in all: of 667 gears two orders, of 666 three.
    made = design((gear("hub", 20, (0, 0), drive=True),))
    for quantity, starts in ((667, 2), (666, 3)):
        part = deck(SQUARE, quantity=quantity, kind="gear", part="hub")
        assert nest_job._job(made, made.sheets[0], "topside", [part], {"hub": 0.0}, (ROOMY,), None).starts == starts


def test_outlines_of_equal_gears_to_a_hundred_thousandth() -> None:
    """Corners to 0.00001 and bulges to a milliardth, no finer and no coarser."""
    shape = Contour((Vertex(30.0, 0.0, 0.123456789123), Vertex(0.0, 10.0), Vertex(-10.0, 0.0), Vertex(0.0, -10.0))).rotated(0.2345)
    found = nest_job._plain(shape)
    start = min(range(4), key=lambda k: shape.vertices[k].x)
    exact = [shape.vertices[(start + k) % 4] for k in range(4)]
    for plain, true in zip(found.vertices, exact, strict=True):
        assert (plain.x, plain.y, plain.bulge) == (round(true.x, 5), round(true.y, 5), round(true.bulge, 9))
    for values in ([v.x for v in exact], [v.y for v in exact]):
        assert any(round(value, 4) != round(value, 5) != round(value, 6) for value in values)


def test_grown_points_to_a_ten_thousandth() -> None:
    points = grown(circle(3.3, 4.4, 17.7), 5.0, 0.0).points
    for axis in (0, 1):
        values = [point[axis] for point in points]
        assert all(round(value, 4) == value for value in values) and any(round(value, 3) != value for value in values)
