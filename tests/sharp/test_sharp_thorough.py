"""The stronger search for one sheet, its engine stood in for: what it is asked, and when its answer is taken. Lengths mm."""

from __future__ import annotations

import math
import sys
from types import SimpleNamespace
from typing import Any

import pytest
import shapely
from tests.sharp.test_sharp_nest import ELL, job, piece

from trivet.solve import nest_thorough
from trivet.solve.contour_shapes import circle, rectangle
from trivet.solve.nest_apart import nearness
from trivet.solve.nest_job import Jobs
from trivet.solve.nest_place import Laid
from trivet.solve.nest_records import Job, Nest, Stock
from trivet.solve.nest_thorough import thorough_nest

STOCK = Stock(400.0, 100.0, None, False)
MADE = job(piece(), piece("b"), stocks=(STOCK,))


def at(x: float, y: float = 10.0, stocks: int = 1, left: tuple[int, ...] = ()) -> Laid:
    """The first piece at 10, the second there, on the last of so many sheets."""
    return Laid((STOCK,) * stocks, ((0, 0, 10.0, 10.0, 0.0), (stocks - 1, 1, x, y, 0.0)), left, ())


def searched(monkeypatch: pytest.MonkeyPatch, usual: dict[Job, Laid], other: dict[Job, Laid | None], **facts: Any) -> Nest:
    monkeypatch.setitem(sys.modules, "spyrrow", SimpleNamespace())
    monkeypatch.setattr(nest_thorough, "jobs_of", lambda design, derived: Jobs(tuple(usual), (), (), ()))
    monkeypatch.setattr(nest_thorough, "laid_job", lambda job_, progress: usual[job_])
    monkeypatch.setattr(nest_thorough, "_on_one_sheet", lambda job_, seconds: other[job_])
    nothing: Any = None
    return thorough_nest(nothing, nothing, **facts)


@pytest.mark.parametrize(
    ("usual", "other", "taken"),
    [
        (at(120.0), at(110.0), True),
        (at(110.0), at(110.0, 12.0), False),
        (at(110.0), at(120.0), False),
        (at(110.0), None, False),
        (at(10.0, stocks=2), at(110.0), True),
        (at(120.0, left=(0,)), at(110.0), False),
        (at(120.0), at(119.995), True),
    ],
)
def test_which_of_two_nests_is_taken(monkeypatch: pytest.MonkeyPatch, usual: Laid, other: Laid | None, taken: bool) -> None:
    """What takes fewer sheets, or less of the last one; the usual one where both are alike or it leaves a piece over."""
    found = searched(monkeypatch, {MADE: usual}, {MADE: other})
    lying = [(sheet.number, item.part, item.x_mm, item.y_mm) for sheet in found.sheets for item in sheet.lying]
    wanted = other if taken and other is not None else usual
    assert lying == [(sheet + 1, "ab"[index], x, y) for sheet, index, x, y, _ in wanted.spots] and found.came_from == "thorough"


def test_each_job_is_told_and_judged_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    second = job(piece("a"), piece("b"), stocks=(STOCK,), margin_mm=9.0)
    told: list[tuple[str, bool]] = []
    found = searched(
        monkeypatch, {MADE: at(120.0), second: at(130.0)}, {MADE: None, second: at(115.0)}, progress=lambda words, wait: told.append((words, wait))
    )
    assert [sheet.lying[1].x_mm for sheet in found.sheets] == [120.0, 115.0]
    assert told == [("nesting ply: searching for 20 s", True)] * 2
    told.clear()
    searched(monkeypatch, {MADE: at(120.0)}, {MADE: None}, seconds=7, progress=lambda words, wait: told.append((words, wait)))
    assert told == [("nesting ply: searching for 7 s", True)]


def engine(monkeypatch: pytest.MonkeyPatch, placed: list[Any], fault: Exception | None = None) -> dict[str, Any]:
    asked: dict[str, Any] = {}

    def solve(config: Any) -> Any:
        asked["config"] = config
        if fault is not None:
            raise fault
        return SimpleNamespace(placed_items=placed)

    def instance(name: str, height: float, items: list[Any]) -> Any:
        asked.update(name=name, height=height, items=items)
        return SimpleNamespace(solve=solve)

    fake = SimpleNamespace(Item=lambda *facts: facts, StripPackingInstance=instance, StripPackingConfig=lambda **facts: facts)
    monkeypatch.setitem(sys.modules, "spyrrow", fake)
    return asked


def item(name: str, x: float, y: float, rotation: float) -> Any:
    return SimpleNamespace(id=name, translation=(x, y), rotation=rotation)


def test_shapes_and_turns_that_the_engine_is_given(monkeypatch: pytest.MonkeyPatch) -> None:
    """Grown by half the spacing, as they lie, with their notches open; turns as the pieces may have them."""
    made = job(piece("a", ELL, (0.0, 180.0)), piece("b", rectangle(0, 0, 70, 20), (90.0,)), stocks=(Stock(100, 90, 1, True), STOCK))
    asked = engine(monkeypatch, [item("1", 30.000049, 5.3, -270.0), item("0", 220.123456, 5.987654, 0.12345678)])
    assert nest_thorough._on_one_sheet(made, 5) is None and asked == {}
    made = job(*made.pieces, stocks=(STOCK,))
    found = nest_thorough._on_one_sheet(made, 5)
    for (name, points, count, turns), one in zip(asked["items"], made.pieces, strict=True):
        shape, given = shapely.Polygon(one.outline.points(0.01)), shapely.Polygon(points)
        assert given.buffer(1e-3).contains(shape.buffer(5.0)) and shape.buffer(5.5).contains(given)
        assert (made.pieces[int(name)], count, turns) == (one, 1, list(one.turns_deg))
    # Half the spacing less than the margin: 5 is added to each place, kept to a thousandth and a millionth of a degree.
    assert found is not None and found.spots == ((0, 0, 225.123, 10.988, 0.123457), (0, 1, 35.0, 10.3, 90.0))
    assert found.stocks == (STOCK,) and found.left_over == () and found.cost == ()
    for fault in (ValueError(), RuntimeError()):
        engine(monkeypatch, [], fault)
        assert nest_thorough._on_one_sheet(made, 5) is None


def test_the_last_sheet_counts() -> None:
    """Of two sheets the second reaches to 90, whatever the first one takes."""
    laid = Laid((STOCK, STOCK), ((0, 0, 200.0, 10.0, 0.0), (1, 1, 10.0, 10.0, 0.0)), (), ())
    assert nest_thorough._cost(laid, MADE) == (2, pytest.approx(90.0 - 0.01))


def test_round_pieces_that_lie_too_near() -> None:
    """Circles of 20 at 50 from each other keep 10, at 49.95 they do not, whichever way they lie; small spacings as well."""
    made = job(piece("a", circle(0, 0, 20)), piece("b", circle(0, 0, 20)))
    stock = Stock(400, 400, None, False)
    for angle in range(0, 360, 7):
        for away, words in ((50.0, ""), (49.95, "lays parts too near to each other")):
            x, y = 200 + away * math.cos(math.radians(angle)), 200 + away * math.sin(math.radians(angle))
            assert nearness(made, stock, [circle(200, 200, 20), circle(x, y, 20)]) == words
    close = job(piece(), piece("b"), spacing_mm=0.5)
    assert nearness(close, stock, [rectangle(20, 20, 30, 30), rectangle(50.7, 20, 30, 30)]) == ""
    assert nearness(close, stock, [rectangle(20, 20, 30, 30), rectangle(50.4, 20, 30, 30)]) != ""


def test_pieces_by_name() -> None:
    assert (piece("shim").id, piece("shim", copy=2).id, piece("shim", copy=12).id) == ("shim", "shim 2", "shim 12")
