"""Tabs of laminated parts, and tabs that make room for each other. Lengths mm along the edge, by hand."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from tests.designs import mm, q
from tests.designs_feet import riding, riser
from tests.part_samples import parts_of

from trivet.model.tabs import Tabs
from trivet.record import replace
from trivet.solve.contour import Contour
from trivet.solve.contour_shapes import circle, rectangle
from trivet.solve.part_features import PartFeatures
from trivet.solve.tabs import longest_run_mm, refusal, stated_tabs, tab_places, with_tabs


def deck(outline: Contour, **facts: Any) -> PartFeatures:
    return replace(parts_of(riser(riding()))["deck"], outline=outline, **facts)


def middles(part: PartFeatures, tabs: Tabs) -> list[tuple[float, float]]:
    return [((tab.run.x0 + tab.run.x1) / 2.0, (tab.run.y0 + tab.run.y1) / 2.0) for tab in tab_places(part, tabs)]


def test_tabs_that_make_room_for_each_other() -> None:
    """Twelve round 100 by 12 lie 18.67 apart: 9.33, 28, 46.67, 65.33, 84; the sixth, at 102.67, would find the end of the long side at 94.5 taken,
    for two need 5 + 2 · 3 between their middles, and goes to 105.5 on the short side; so does the last on the other.
    """
    step = 224.0 / 12.0
    wanted = [(step * (n + 0.5), 0.0) for n in range(5)] + [(100.0, 5.5)]
    wanted += [(212.0 - step * (n + 0.5), 12.0) for n in range(6, 11)] + [(0.0, 6.5)]
    found = middles(deck(rectangle(0, 0, 100, 12)), Tabs(count=q(12)))
    assert [value for place in found for value in place] == pytest.approx([value for place in wanted for value in place])


@pytest.mark.parametrize(("high", "place"), [(40.6, (40.0, 5.5)), (39.4, (34.5, 0.0)), (40.0, (34.5, 0.0))])
def test_a_tab_goes_to_the_nearer_side_of_a_corner(high: float, place: tuple[float, float]) -> None:
    """Of two round 40 by so much the first would lie a quarter round, 0.3 past the corner, before it, or on it: then the first of equals."""
    assert middles(deck(rectangle(0, 0, 40, high)), Tabs(count=q(2)))[0] == pytest.approx(place)


def test_tabs_a_little_farther_apart_than_they_must_be() -> None:
    # Eighteen round 100 by 12 lie 12.44 apart: eight on the lower side.
    found = middles(deck(rectangle(0, 0, 100, 12)), Tabs(count=q(18)))
    assert [x for x, y in found if y == 0.0] == pytest.approx([224.0 / 18.0 * (n + 0.5) for n in range(8)])


def test_tabs_as_near_as_they_may_be() -> None:
    """On 100 by 10 the short sides hold none of 5; 100 holds nine at 11 apart and no tenth: 89 between the outermost middles."""
    part = deck(rectangle(0, 0, 100, 10))
    for count in (2, 8, 18, 40):
        found = tab_places(part, Tabs(count=q(count)))
        for low in (0.0, 10.0):
            along = sorted((tab.run.x0 + tab.run.x1) / 2.0 for tab in found if tab.run.y0 == low)
            assert all(b - a >= 11.0 - 1e-9 for a, b in itertools.pairwise(along)) and along[0] >= 5.5 and along[-1] <= 94.5
            assert len(along) <= 9
        assert all(tab.run.y0 == tab.run.y1 for tab in found)
    assert len(tab_places(part, Tabs(count=q(8)))) == 8


def test_tabs_of_laminated_parts_are_stated_for_the_whole() -> None:
    made = riser(riding())
    (board,) = made.boards
    made = made.model_copy(update={"boards": (board.model_copy(update={"tabs": Tabs(count=q(3), width=mm(6))}),)})
    whole = deck(rectangle(0, 0, 100, 40))
    layer = replace(whole, part="deck.layer2", belongs_to="deck", layer=2)
    assert [len(with_tabs(made, part).tabs) for part in (whole, layer, replace(whole, part="lid"), replace(layer, belongs_to="lid"))] == [3, 3, 0, 0]
    assert {name: tabs.number for name, tabs in stated_tabs(made).items()} == {"deck": 3}
    # Too small for any: the whole part is named, its longest side said, and no tip of a tooth.
    small = rectangle(0, 0, 11, 9)
    for part in (replace(layer, outline=small), replace(whole, outline=small)):
        found = refusal(made, with_tabs(made, part))
        assert found is not None and (found.part, found.asked_mm, found.placed, found.longest_mm, found.tip_land_mm) == ("deck", 6.0, 0, 5.0, None)
    assert refusal(made, with_tabs(made, layer)) is None and refusal(made, replace(whole, part="lid")) is None
    # One of three: what has a place is counted.
    some = refusal(made, with_tabs(made, replace(layer, outline=rectangle(0, 0, 13, 9))))
    assert some is not None and some.placed == 2


def test_the_widest_tab_of_an_edge() -> None:
    """A straight run less 3 at either end; an arc half its radius, or less its ends where that is less."""
    assert [longest_run_mm(deck(shape)) for shape in (rectangle(0, 0, 30, 20), circle(0, 0, 50))] == pytest.approx([24.0, 25.0])
