"""Which orders are tried on a sheet and which one is kept, with laying stood in for; places and pieces on small sheets. Lengths mm."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest
from tests.sharp.test_sharp_nest import job, piece

from trivet.solve import nest as nest_module
from trivet.solve.contour_shapes import rectangle
from trivet.solve.nest import laid_job
from trivet.solve.nest_place import Laid
from trivet.solve.nest_records import Job, Stock

# Area 6400, 2000, 4200 and again 6400; longest 80, 100, 70, 80; shortest 80, 20, 60, 80.
PIECES = (
    piece("a"), piece("b", rectangle(0, 0, 100, 20)), piece("c", rectangle(0, 0, 60, 70)), piece("d"), piece("e", rectangle(0, 0, 9, 9)),
)  # fmt: skip
KINDS = (0, 1, 2, 0, 3)
BY_AREA, BY_LENGTH, BY_BREADTH = [0, 3, 2, 1, 4], [1, 0, 3, 2, 4], [0, 3, 2, 1, 4]


def exchanged(order: Sequence[int], state: int, times: int) -> tuple[list[int], int]:
    """So many pairs exchanged, drawn by Knuth's generator (MMIX, from memory), the upper 31 bits."""
    found = list(order)
    for _ in range(times):
        drawn = []
        for _ in "ab":
            state = (state * 6364136223846793005 + 1442695040888963407) % 2**64
            drawn.append((state >> 33) % len(found))
        found[drawn[0]], found[drawn[1]] = found[drawn[1]], found[drawn[0]]
    return found, state


def searched(
    monkeypatch: pytest.MonkeyPatch, made: Job, costs: Sequence[float], apart: Sequence[bool] = (), told: list[str] | None = None
) -> tuple[Laid, list[list[int]]]:
    """What comes of orders that cost so much one after another, and the orders."""
    orders: list[list[int]] = []

    def lay(bench: Any, order: Sequence[int]) -> Laid:
        orders.append(list(order))
        return Laid((), ((len(orders) - 1, 0, 0.0, 0.0, 0.0),), (), (costs[min(len(orders), len(costs)) - 1],))

    monkeypatch.setattr(nest_module, "lay", lay)
    monkeypatch.setattr(nest_module, "keeps_apart", lambda job_, laid: apart[laid.spots[0][0]] if laid.spots[0][0] < len(apart) else True)

    def progress(words: str, wait: bool) -> None:
        assert not wait and told is not None
        told.append(words)

    return nest_module._search_now(made, 0.0, None if told is None else progress), orders


def test_first_by_area_then_by_length_then_by_breadth(monkeypatch: pytest.MonkeyPatch) -> None:
    thick = (*PIECES[:2], piece("c", rectangle(0, 0, 64, 64)), PIECES[3], PIECES[4], piece("f", rectangle(0, 0, 69, 62)))
    # Where none keeps its distance it is the order by area that is exchanged.
    _, orders = searched(monkeypatch, job(*thick, starts=4), [1.0], [False] * 9)
    assert orders[3] == exchanged([0, 3, 5, 2, 1, 4], 20, 1)[0]
    _, orders = searched(monkeypatch, job(*thick, starts=3), [1.0])
    # 64 by 64 has 4096, 69 by 62 has 4278: the second has more area and is longer, the first is broader.
    assert orders == [[0, 3, 5, 2, 1, 4], [1, 0, 3, 5, 2, 4], [0, 3, 2, 5, 1, 4]]
    _, orders = searched(monkeypatch, job(*thick, starts=2), [1.0])
    assert len(orders) == 2
    # Pieces alike, wherever they stand in the list, go together, and of alike ones the first first.
    alike = (piece("x", rectangle(0, 0, 40, 160)), piece("a"), piece("y", rectangle(0, 0, 40, 160)), piece("b"))
    assert searched(monkeypatch, job(*alike, starts=1), [1.0])[1] == [[0, 2, 1, 3]]


def test_the_best_order_is_tried_with_pieces_exchanged(monkeypatch: pytest.MonkeyPatch) -> None:
    """By breadth is the same as by area: not laid again, and the search goes on. One, two and three exchanges by turns."""
    told: list[str] = []
    found, orders = searched(monkeypatch, job(*PIECES, starts=12), [5.0, 4.0, 6.0, 4.0, 3.0, 9.0], told=told)
    tried, wanted, state, best, said = {kinds_of(BY_AREA), kinds_of(BY_LENGTH)}, [BY_AREA, BY_LENGTH], 20, BY_LENGTH, [1, 2]
    for start in range(3, 12):
        order, state = exchanged(best, state, 1 + start % 3)
        if kinds_of(order) not in tried:
            tried.add(kinds_of(order))
            wanted.append(order)
            said.append(start + 1)
            # The fifth laid is the first that costs less.
            best = order if len(wanted) == 5 else best
    assert BY_AREA == BY_BREADTH and orders == wanted and len(wanted) > 6
    assert found.spots[0][0] == 4 and found.cost == (3.0,)
    assert told == [f"nesting ply: 5 pieces, order {number} of 12" for number in said]


def kinds_of(order: Sequence[int]) -> tuple[int, ...]:
    return tuple(KINDS[k] for k in order)


def test_of_equal_costs_the_first_that_keeps_its_distance(monkeypatch: pytest.MonkeyPatch) -> None:
    made = job(*PIECES, starts=2)
    assert searched(monkeypatch, made, [4.0, 4.0])[0].spots[0][0] == 0 and searched(monkeypatch, made, [4.0, 3.0])[0].spots[0][0] == 1
    assert searched(monkeypatch, made, [4.0, 5.0], [False, True])[0].spots[0][0] == 1
    assert searched(monkeypatch, made, [4.0, 3.0], [True, False])[0].spots[0][0] == 0
    none, orders = searched(monkeypatch, job(*PIECES, starts=4), [4.0], [False] * 9)
    assert none == Laid((), (), (0, 1, 2, 3, 4), ()) and orders[:2] == [BY_AREA, BY_LENGTH]
    # Nothing kept yet: exchanged is the order by area.
    assert orders[2] == exchanged(BY_AREA, 20, 1)[0]


def test_progress_is_told_and_nothing_is_remembered() -> None:
    """Watched, each search tells its orders anew; unwatched it is worked out once."""
    made = job(piece(), piece("b", rectangle(0, 0, 70, 60)), stocks=(Stock(300, 200, None, False),))
    told: list[str] = []
    for _ in range(2):
        found = laid_job(made, lambda words, wait: told.append(words))
    assert told[: len(told) // 2] == told[len(told) // 2 :] and len(told) >= 2
    assert found == laid_job(made) and laid_job(made) is laid_job(made)
