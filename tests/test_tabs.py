"""Tabs: where they sit, where they are refused, and how they are drawn."""

from __future__ import annotations

import math

import pytest
import shapely
from tests.fixture_text import compiled, findings_of

from trivet.checks._examples import BASE
from trivet.drawing.nested_sheets import nested_sheets
from trivet.drawing.parts import part_sheets
from trivet.drawing.shapes import Path
from trivet.solve.nest import nest
from trivet.solve.part_features import PartFeatures
from trivet.solve.tab_place import TabPlace

BOARD = ("corner_radius 12 mm", "corner_radius 12 mm\n  tabs 6, width 8 mm, height 3 mm")
HUB = ("gear hub\n", "gear hub\n  tabs 4, width 3 mm, height 3 mm\n")


def text_with(*swaps: tuple[str, str]) -> str:
    text = BASE
    for old, new in swaps:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def parts(*swaps: tuple[str, str]) -> dict[str, PartFeatures]:
    found = compiled(text_with(*swaps))
    assert found.derived is not None, [item.message for item in found.findings]
    return {part.part: part for part in found.derived.parts}


def middle(tab: TabPlace) -> tuple[float, float]:
    return (tab.run.x0 + tab.run.x1) / 2.0, (tab.run.y0 + tab.run.y1) / 2.0


def test_a_boards_tabs_lie_on_its_straight_runs_evenly() -> None:
    """480 by 350 mm with rounds of 12 mm: each 8 mm long, on a side, clear of the corners, and about a sixth of the way round apart."""
    deck = parts(BOARD)["deck"]
    assert len(deck.tabs) == 6 and all(tab.height_mm == 3.0 for tab in deck.tabs)
    edge = shapely.LinearRing(deck.outline.points(0.001))
    for tab in deck.tabs:
        assert tab.run.length_mm == pytest.approx(8.0)
        x, y = middle(tab)
        assert edge.distance(shapely.Point(x, y)) < 0.01
        on_x_side, on_y_side = min(abs(y), abs(350.0 - y)) < 1e-6, min(abs(x), abs(480.0 - x)) < 1e-6
        assert on_x_side != on_y_side
        assert (15.0 <= x <= 465.0) if on_x_side else (15.0 <= y <= 335.0)
    at = sorted(edge.project(shapely.Point(*middle(tab))) for tab in deck.tabs)
    steps = [b - a for a, b in zip(at, [*at[1:], at[0] + edge.length], strict=True)]
    assert max(abs(step - edge.length / 6.0) for step in steps) < 40.0


def test_a_gears_tabs_lie_on_tips_only() -> None:
    """Tip radius by hand: (16/2 + 1) modules of 6 mm; a flank or a root lies further in."""
    hub = parts(HUB)["hub"]
    assert len(hub.tabs) == 4
    for tab in hub.tabs:
        for x, y in ((tab.run.x0, tab.run.y0), (tab.run.x1, tab.run.y1)):
            assert math.hypot(x, y) == pytest.approx(54.0, abs=0.001)
        assert tab.run.length_mm == pytest.approx(3.0, abs=0.001)
    angles = sorted(math.atan2(*reversed(middle(tab))) % (2 * math.pi) for tab in hub.tabs)
    steps = [b - a for a, b in zip(angles, [*angles[1:], angles[0] + 2 * math.pi], strict=True)]
    assert max(abs(step - math.pi / 2) for step in steps) < math.pi / 8


@pytest.mark.parametrize(
    ("swap", "words"),
    [
        ((HUB[0], "gear hub\n  tabs 4, width 8 mm, height 3 mm\n"), "wide; the tips of its teeth are"),
        ((BOARD[0], "corner_radius 12 mm\n  tabs 4, width 500 mm, height 3 mm"), "wide; the longest run of its edge holds"),
        ((BOARD[0], "corner_radius 12 mm\n  tabs 4, width 8 mm, height 17.6 mm"), "so they are not cut at all"),
        # Straight runs of 456 and 326 mm hold two and one of 200 mm with 3 mm at each end.
        ((BOARD[0], "corner_radius 12 mm\n  tabs 9, width 200 mm, height 3 mm"), "has room for 6 tabs"),
    ],
)
def test_tabs_that_find_no_place_are_refused(swap: tuple[str, str], words: str) -> None:
    (item,) = findings_of(text_with(swap), "tab-has-no-place")
    assert words in item.message and item.severity == "error" and item.remedy
    assert item.span is not None and item.span.text.startswith("tabs ")


def test_the_width_that_the_remedy_names_has_a_place() -> None:
    (item,) = findings_of(text_with((HUB[0], "gear hub\n  tabs 4, width 8 mm, height 3 mm\n")), "tab-has-no-place")
    width = item.remedy.partition("`width ")[2].partition("`")[0]
    assert width and not findings_of(text_with((HUB[0], f"gear hub\n  tabs 4, width {width}, height 3 mm\n")), "tab-has-no-place")


def test_tabs_without_sizes_are_usual_ones() -> None:
    """5 mm wide and half of 17.8 mm on a board; on a gear as wide as its tips hold."""
    deck = parts((BOARD[0], "corner_radius 12 mm\n  tabs 4"))["deck"]
    assert [(tab.run.length_mm, tab.height_mm) for tab in deck.tabs] == [(pytest.approx(5.0), 8.9)] * 4
    hub = parts((HUB[0], "gear hub\n  tabs 4\n"))["hub"]
    assert len(hub.tabs) == 4 and 2.0 <= hub.tabs[0].run.length_mm <= 5.0


def test_tabs_are_drawn_on_a_layer_of_their_own_on_the_face_that_frees_the_part() -> None:
    found = compiled(text_with(BOARD, HUB))
    assert found.design is not None and found.derived is not None
    drawings = (*part_sheets(found.design, found.derived), *nested_sheets(found.design, nest(found.design, found.derived)))
    seen = 0
    for drawn in drawings:
        cut = any(layer.operation == "outer_edge" and layer.part in ("deck", "hub") for layer in drawn.layers)
        layers = [layer for layer in drawn.layers if layer.name == "reference tab 3.0 mm left"]
        assert bool(layers) == cut, drawn.id
        for layer in layers:
            seen += 1
            edges = [shape for other in drawn.layers if other.operation == "outer_edge" and other.part == layer.part for shape in other.shapes]
            (edge,) = [shape for shape in edges if isinstance(shape, Path)]
            whole = shapely.Polygon([(x, y) for x, y, _ in edge.vertices])
            assert layer.reference and len(layer.shapes) == {"deck": 6, "hub": 4}[layer.part]
            for mark in layer.shapes:
                assert isinstance(mark, Path) and not mark.closed
                ends = [(x, y) for x, y, _ in mark.vertices]
                # The bracket begins and ends on the edge and stands outside the part, whichever face is drawn.
                assert all(whole.exterior.distance(shapely.Point(end)) < 0.3 for end in (ends[0], ends[-1]))
                assert all(whole.distance(shapely.Point(end)) > 2.0 for end in ends[1:-1])
    assert seen == 4


def test_a_spacer_may_have_tabs() -> None:
    text = "\nspacer ring_shim\n  stock ply18\n  cutter straight6\n  outline circle 80 mm\n  tabs 3, width 6 mm, height 3 mm\n"
    found = compiled(BASE + text)
    assert found.derived is not None
    part = next(part for part in found.derived.parts if part.part == "ring_shim")
    assert len(part.tabs) == 3
    assert all(math.hypot(tab.run.x0, tab.run.y0) == pytest.approx(40.0) for tab in part.tabs)
