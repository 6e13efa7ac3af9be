"""Wood round inserts and wood screws, and inserts longer than their board; figures worked by hand beside each."""

from __future__ import annotations

import math

import pytest
from tests.fixture_text import compiled, findings_of

from trivet.checks._examples import BASE
from trivet.diagnostics import Diagnostic

# In the base the gear nw stands 108 mm left of the middle and then 120 mm from there at 118 deg.
NW_LEFT_MM = 108.0 - 120.0 * math.cos(math.radians(118))
NW_UP_MM = 120.0 * math.sin(math.radians(118))
OUTLINE = "outline rectangle 480 by 350 mm, corner_radius 12 mm"
INSERT_ROW = "row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5"


def swapped(text: str, *swaps: tuple[str, str]) -> str:
    for old, new in swaps:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    return text


def only(text: str, slug: str) -> Diagnostic:
    (found,) = findings_of(text, slug)
    return found


def outline(width: float, height: float) -> tuple[str, str]:
    return OUTLINE, f"outline rectangle {width:g} by {height:g} mm, corner_radius 12 mm"


def hole(name: str, diameter: float, x: float, y: float, more: str = "") -> str:
    return f"\nhole {name}\n  into deck\n  diameter {diameter:g} mm\n  at ({x:.4f}, {y:.4f}) mm\n{more}"


@pytest.mark.parametrize(
    ("length", "board", "broken"),
    [
        # 17.8 - 0.2 = 17.6 mm is the thinnest.
        ("17.6", "", False),
        ("17.7", "", True),
        # Two layers: 35.2 mm.
        ("35", "  layers 2\n", False),
        ("35.3", "  layers 2\n", True),
    ],
)
def test_insert_breaks_through(length: str, board: str, broken: bool) -> None:
    text = swapped(
        BASE, (INSERT_ROW, f"row M8, 16.0 +/- 0.1, {length}, 4, {length}, 13.5"), (f"  {OUTLINE}\n", f"  {OUTLINE}\n{board}")
    )
    found = findings_of(text, "insert-breaks-through")
    assert [item.severity for item in found] == (["error"] if broken else [])


def test_insert_that_stands_proud_below_has_more_room() -> None:
    """19 mm of insert, 2 mm of it below the board: 17 mm of 17.6 mm are taken."""
    row = (INSERT_ROW, "row M8, 16.0 +/- 0.1, 19, 4, 19, 13.5")
    assert findings_of(swapped(BASE, row), "insert-breaks-through")
    assert not findings_of(swapped(BASE, row, ("flush underside", "flush underside, proud 2 mm")), "insert-breaks-through")


@pytest.mark.parametrize(("length", "broken"), [("17", False), ("17.2", True)])
def test_insert_in_a_blind_hole_leaves_half_a_millimetre(length: str, broken: bool) -> None:
    """Over a guide bore the hole ends in the board: 17.6 - 17 = 0.6 mm, 17.6 - 17.2 = 0.4 mm; 0.5 mm are wanted."""
    text = swapped(
        BASE,
        (INSERT_ROW, f"row M8, 16.0 +/- 0.1, {length}, 4, {length}, 13.5"),
        ("driven_from topside, flush underside", "driven_from underside, flush underside\n  guide clearance 0.3 mm, length 10 mm"),
    )
    assert bool(findings_of(text, "insert-breaks-through")) is broken
    if broken:
        assert only(text, "insert-breaks-through").remedy.startswith("an insert no longer than 17.1 mm")


@pytest.mark.parametrize(
    ("wood", "severity"),
    [(16.01, None), (15.99, "warning"), (8.01, "warning"), (7.99, "error"), (2.01, "error")],
)
def test_insert_near_edge(wood: float, severity: str | None) -> None:
    """16 mm outside, its hole 13.5 mm: the axis stands half of that further from the edge than the wood is thick."""
    height = 2.0 * (NW_UP_MM + 13.5 / 2.0 + wood)
    found = findings_of(swapped(BASE, outline(480, height)), "insert-near-edge")
    assert [item.severity for item in found] == ([severity] if severity else [])
    assert all({"corner.nw", "corner.se", "corner"} <= set(item.parts) for item in found)


def test_thinner_than_a_wall_is_another_finding() -> None:
    text = swapped(BASE, outline(480, 2.0 * (NW_UP_MM + 13.5 / 2.0 + 1.9)))
    assert findings_of(text, "thin-wall") and not findings_of(text, "insert-near-edge")


@pytest.mark.parametrize(("wood", "severity"), [(16.01, None), (15.9, "note"), (8.1, "note"), (7.9, "warning")])
def test_insert_near_another_hole(wood: float, severity: str | None) -> None:
    """Wood on both sides: one grade lower. The hole stands to the right of the insert, 20 mm wide."""
    x, y = 240.0 - NW_LEFT_MM + 13.5 / 2.0 + 10.0 + wood, 175.0 + NW_UP_MM
    found = findings_of(BASE + hole("dog", 20, x, y), "insert-near-edge")
    assert [item.severity for item in found] == ([severity] if severity else [])
    assert all({"corner.nw", "dog"} <= set(item.parts) for item in found)


@pytest.mark.parametrize(("depth", "found"), [(2.5, False), (3.5, True)])
def test_cuts_above_an_insert_do_not_weaken_it(depth: float, found: bool) -> None:
    """The insert ends 17.8 - 15 = 2.8 mm under the topside; a pocket beside it counts from there."""
    x, y = 240.0 - NW_LEFT_MM + 13.5 / 2.0 + 10.0 + 5.0, 175.0 + NW_UP_MM
    pocket = hole("rest", 20, x, y, f"  blind {depth:g} mm\n")
    text = BASE + pocket
    assert compiled(text).derived is not None, compiled(text).findings
    assert bool(findings_of(text, "insert-near-edge")) is found


@pytest.mark.parametrize(("flush", "depth", "found"), [("underside", 20, False), ("underside", 21, True), ("topside", 3, True)])
def test_layers_are_counted_from_the_top(flush: str, depth: float, found: bool) -> None:
    """Two layers, 35.6 mm: the insert takes 0 to 15 mm or 20.6 to 35.6 mm; 20 mm from above end at 15.6 mm, 21 mm at 14.6 mm."""
    x, y = 240.0 - NW_LEFT_MM + 13.5 / 2.0 + 10.0 + 5.0, 175.0 + NW_UP_MM
    layers = (f"  {OUTLINE}\n", f"  {OUTLINE}\n  layers 2\n")
    text = swapped(BASE, layers, ("flush underside", f"flush {flush}")) + hole("rest", 20, x, y, f"  blind {depth:g} mm\n")
    assert compiled(text).derived is not None, compiled(text).findings
    assert len(findings_of(text, "insert-near-edge")) == int(found)


def test_screws_in_mdf_keep_further_off() -> None:
    """The pins stand 108 mm from the middle; 120 - 108 - 2.5 = 9.5 mm of wood: more than 6.3 mm, less than the 12 mm of MDF."""
    plain = swapped(BASE, outline(240, 350))
    mdf = swapped(plain, ("sheet ply18\n", "sheet ply18\n  material mdf\n"))
    assert not [item for item in findings_of(plain, "insert-near-edge") if "pin" in item.parts]
    (item,) = [item for item in findings_of(mdf, "insert-near-edge") if "pin" in item.parts]
    assert item.severity == "warning" and "9.5 mm of wood is left" in item.message and "at least 12 mm, for MDF" in item.message


def test_corners_in_mdf() -> None:
    """Edges 18.9 and 17.3 mm away; the corner, rounded by 12 mm, begins 12 (1 - 1/sqrt 2) = 3.51 mm inside the box's corner."""
    width, height = 380.0, 260.0
    x, y, inset = width / 2 - NW_LEFT_MM, height / 2 - NW_UP_MM, 12.0 * (1.0 - math.sqrt(0.5))
    wood = math.hypot(x - inset, y - inset) - 13.5 / 2.0
    assert 20.0 < wood < 25.0 and min(x, y) - 13.5 / 2.0 > 16.0
    plain = swapped(BASE, outline(width, height))
    mdf = swapped(plain, ("sheet ply18\n", "sheet ply18\n  material mdf\n"))
    assert not findings_of(plain, "insert-near-edge")
    item = only(mdf, "insert-near-edge")
    assert (
        item.severity == "warning"
        and f"a corner of `deck` {wood:.2f} mm of wood" in item.message
        and "25 mm, for MDF" in item.message
    )
