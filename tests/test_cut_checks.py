"""Findings about what is cut: cutters, pockets, rims, walls; figures worked by hand, remedies tried."""

from __future__ import annotations

import math
import re

import pytest
from tests.fixture_text import compiled, findings_of

from trivet.checks._examples import BASE
from trivet.diagnostics import Diagnostic
from trivet.solve.contour_shapes import rectangle, slot
from trivet.solve.feature import Feature, Round


def swapped(text: str, *swaps: tuple[str, str]) -> str:
    for old, new in swaps:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    return text


def only(text: str, slug: str) -> Diagnostic:
    (found,) = findings_of(text, slug)
    return found


def hole(name: str, diameter: float, at: str, more: str = "") -> str:
    return f"\nhole {name}\n  into deck\n  diameter {diameter} mm\n  at {at} mm\n{more}"


def test_cutter_too_fat_names_the_largest_that_works() -> None:
    text = swapped(BASE, ("  diameter 6 mm\n", "  diameter 8 mm\n"))
    found = findings_of(text, "cutter-too-fat")
    said = [re.search(r"a cutter of ([\d.]+) mm or less", item.remedy) for item in found]
    sizes = sorted(float(match[1]) for match in said if match)
    assert len(sizes) == 2
    assert not findings_of(swapped(BASE, ("  diameter 6 mm\n", f"  diameter {sizes[0]} mm\n")), "cutter-too-fat")
    assert len(findings_of(swapped(BASE, ("  diameter 6 mm\n", f"  diameter {sizes[0] + 0.02} mm\n")), "cutter-too-fat")) == 1
    # Trade table of the reference (derived, simulated): 20 equal teeth at 20 deg take 1.22 modules unthinned, 0.06 more with 0.06
    # thinned off each: 7.3 mm and up to 7.7 mm with the 0.25 mm (0.042 modules) taken off here.
    assert 1.22 * 6 < sizes[0] < 1.28 * 6


def test_hex_corner_not_cut() -> None:
    """M8, ISO 4017: 13 across flats, at least 14.38 across corners; pocket 13 + 0.267949 r + 0.1, held while it is 0.3 mm under 14.38.

    r = (14.08 - 13.1)/0.267949 = 3.657, so 7.31 mm is the limit: 7.3 holds, 7.4 does not.
    """
    assert 2 * (14.38 - 0.3 - 13.1) / (2 * (1 - math.sin(math.radians(60)))) == pytest.approx(7.315, abs=0.001)
    for cutter, loose in (("7.3", False), ("7.4", True)):
        text = swapped(BASE, ("  diameter 6 mm\n", f"  diameter {cutter} mm\n"))
        found = findings_of(text, "hex-corner-not-cut")
        assert bool(found) is loose
        assert all("a cutter of 7.3 mm or less" in item.remedy for item in found)


def test_narrower_than_cutter() -> None:
    """Holes want a drill or a thinner cutter; what is drilled is left alone."""
    text = BASE + hole("peg", 5, "(240, 40)")
    item = only(text, "narrower-than-cutter")
    assert (
        "5 mm; at least 6 mm is required" in item.message and item.remedy == "state `drill 5 mm`, or use a cutter of 5 mm or less"
    )
    assert "peg" in item.parts
    assert not findings_of(text + "  drill 5 mm\n", "narrower-than-cutter")
    assert not findings_of(BASE + hole("peg", 6, "(240, 40)"), "narrower-than-cutter")


def test_narrow_bore_of_a_gear() -> None:
    text = swapped(BASE, ("gear hub\n  teeth 16", "gear hub\n  teeth 16\n  bore 5.5 mm"))
    item = only(text, "narrower-than-cutter")
    assert "5.5 mm; at least 6 mm is required" in item.message and item.parts == ("hub",)
    assert item.span is not None and item.span.text == "5.5 mm"


def test_narrow_pocket() -> None:
    text = BASE + "\npocket rest\n  into deck, topside\n  outline slot 60 by 5 mm\n  at (240, 40) mm\n  depth 6 mm\n"
    assert "`rest` is narrower than its cutter: 5 mm; at least 6 mm is required" in only(text, "narrower-than-cutter").message


@pytest.mark.parametrize(
    ("depth", "severity"), [("14.6", None), ("14.7", "warning"), ("17.5", "warning"), ("17.6", "error"), ("20", "error")]
)
def test_thin_pocket_floor(depth: str, severity: str | None) -> None:
    """The sheet is 17.6 mm at its thinnest; 3 mm are wanted under a pocket."""
    text = BASE + f"\npocket tray\n  into deck, topside\n  outline rectangle 40 by 20 mm\n  at (240, 30) mm\n  depth {depth} mm\n"
    found = findings_of(text, "thin-pocket-floor")
    assert [item.severity for item in found] == ([severity] if severity else [])
    assert all(item.remedy == "a depth of 14.6 mm or less" for item in found)


def test_floor_between_two_recesses_of_the_hub() -> None:
    """9 mm from below and 6 mm from above leave 17.6 - 15 = 2.6 mm."""
    text = swapped(
        BASE,
        ("nut tee_nut, above gear", "nut tee_nut, above gear, recessed 6 mm"),
        ("recessed 6 mm, round", "recessed 9 mm, round"),
    )
    item = only(text, "thin-pocket-floor")
    assert "15 mm deep, leaves 2.6 mm of `hub`" in item.message and "crank" in item.parts


@pytest.mark.parametrize(("across", "severity"), [(57, None), (58, "warning"), (76, "warning"), (78, "error")])
def test_thin_gear_rim(across: int, severity: str | None) -> None:
    """The root radius of 16 teeth, m 6, is 48 - 7.5 = 40.5 mm; two modules are 12 mm: 2 (40.5 - 12) = 57; 2 (40.5 - 2) = 77."""
    text = swapped(BASE, ("recessed 6 mm, round 24 mm", f"recessed 6 mm, round {across} mm"))
    found = findings_of(text, "thin-gear-rim")
    assert [item.severity for item in found] == ([severity] if severity else [])
    if across == 58:
        assert "is 11.5 mm; at least 12 mm is wanted" in found[0].message and "a cut of 57 mm across" in found[0].remedy


@pytest.mark.parametrize(
    ("holes", "words"),
    [
        # Centres 13 and 14 mm apart with radii 6 and 6: walls of 1 and 2 mm.
        (hole("peg", 12, "(240, 40)") + hole("post", 12, "(253, 40)"), "1 mm of wood is left"),
        (hole("peg", 12, "(240, 40)") + hole("post", 12, "(254, 40)"), None),
        (hole("peg", 12, "(240, 40)") + hole("post", 12, "(250, 40)"), "run into each other by 2 mm"),
        # One inside the other is a step, not a wall.
        (hole("peg", 12, "(240, 40)") + hole("post", 30, "(240, 40)", "  blind 6 mm\n"), None),
        # From opposite faces, 8 + 8 of 17.8 mm: they do not meet; 10 + 10 do.
        (
            hole("peg", 12, "(240, 40)", "  blind 8 mm\n")
            + hole("post", 12, "(253, 40)", "  blind 8 mm\n").replace("deck", "deck, underside"),
            None,
        ),
        (
            hole("peg", 12, "(240, 40)", "  blind 10 mm\n")
            + hole("post", 12, "(253, 40)", "  blind 10 mm\n").replace("deck", "deck, underside"),
            "1 mm of wood is left",
        ),
        # The edge: 7.5 - 6 mm, 4 - 6 mm, and in the corner of radius 12 mm round (12, 12): 12 - 4 sqrt 2 - 6.
        (hole("peg", 12, "(240, 7.5)"), "1.5 mm of wood is left"),
        (hole("peg", 12, "(240, 4)"), "breaks through the edge by 2 mm"),
        (hole("peg", 12, "(8, 8)"), "0.34 mm of wood is left"),
        (hole("peg", 12, "(240, 8)"), None),
    ],
)
def test_thin_wall(holes: str, words: str | None) -> None:
    found = findings_of(BASE + holes, "thin-wall")
    assert len(found) == (1 if words else 0), [item.message for item in found]
    assert all(words is not None and words in item.message for item in found)


def test_wall_beside_a_pocket() -> None:
    """A slot 60 by 8 mm ends at 240 + 30; a hole of 12 mm at 277.5 leaves 7.5 - 6 = 1.5 mm. A hole in its floor is no wall."""
    pocket = "\npocket rest\n  into deck, topside\n  outline slot 60 by 8 mm\n  at (240, 40) mm\n  depth 6 mm\n"
    assert "1.5 mm of wood is left" in only(BASE + pocket + hole("peg", 12, "(277.5, 40)"), "thin-wall").message
    assert not findings_of(BASE + pocket + hole("peg", 6, "(240, 40)"), "thin-wall")
    assert not findings_of(BASE + pocket + hole("peg", 12, "(270, 40)"), "thin-wall")


def test_walls_by_hand() -> None:
    """Two plates 10 by 10 mm set 3 mm apart and 4 mm up past each other's corner: 5 mm; a slot's round end to a circle."""
    from trivet.checks._walls import share_height, squares_of, wall_mm

    assert wall_mm(rectangle(0, 0, 10, 10), rectangle(13, 14, 10, 10)) == pytest.approx(5.0)
    assert wall_mm(slot(0, 0, 40, 10), Round(30, 0, 10)) == pytest.approx(5.0, abs=0.01)
    assert wall_mm(rectangle(0, 0, 10, 10), rectangle(2, 2, 3, 3)) is None
    assert set(squares_of(Round(0, 0, 10), 2)) == {(-1, -1), (-1, 0), (0, -1), (0, 0)}
    top = Feature("pocket", "topside", 6.0, Round(0, 0, 10), "a", "b")
    under = Feature("pocket", "underside", 11.0, Round(0, 0, 10), "a", "b")
    assert not share_height(top, under, 17.0) and share_height(top, under, 16.9)


def test_one_finding_for_many_neighbours() -> None:
    """A grid of 12 mm holes every 13 mm: 3 x 2 rows have 4 + 3 walls of 1 mm."""
    text = BASE + "\nhole peg\n  into deck\n  diameter 12 mm\n  grid 3 by 2, every 13 by 13 mm, first_at (230, 30) mm\n"
    (item,) = findings_of(text, "thin-wall")
    assert item.message.endswith("; the same at 6 other places")


def test_faulty_contour_names_both() -> None:
    text = BASE + hole("peg", 12, "(240, 40)") + hole("post", 12, "(240, 40)")
    item = only(text, "faulty-contour")
    assert "the hole `post` lies on the hole `peg`" in item.message and set(item.parts) >= {"peg", "post"}
    assert not findings_of(BASE + hole("peg", 12, "(240, 40)") + hole("post", 12.5, "(240, 40)"), "faulty-contour")


@pytest.mark.parametrize(
    ("swap", "words"),
    [
        (("gear hub\n", "gear hub\n  flip alternate\n"), "the flip of `hub`"),
        (("gear hub\n", "machine router\n  scale 1.001\n\ngear hub\n  machine router\n"), "the scale of `router`"),
        (("gear hub\n", "machine router\n  skew 0.02 deg\n\ngear hub\n  machine router\n"), "the skew of `router`"),
        (("gear hub\n", "machine router\n  slot_width 6.1 mm\n\ngear hub\n  machine router\n"), "the slot_width of `router`"),
    ],
)
def test_statement_not_yet_used(swap: tuple[str, str], words: str) -> None:
    text = swapped(BASE, swap)
    assert compiled(text).derived is not None, compiled(text).findings
    assert only(text, "statement-not-yet-used").message == f"{words}: nothing is computed from it yet"


def test_a_circle_by_two_names_is_cut_once() -> None:
    """A pocket with a round outline and a hole, or a hole from the other face: what goes through is one cut."""
    opening = "pocket round\n  into deck\n  outline circle 12 mm\n  through\n  at (240, 40) mm\n"
    assert "lies on" in only(BASE + hole("peg", 12, "(240, 40)") + opening, "faulty-contour").message
    wider = opening.replace("circle 12", "circle 12.5")
    assert not findings_of(BASE + hole("peg", 12, "(240, 40)") + wider, "faulty-contour")


@pytest.mark.parametrize("arm", [12, 13, 16, 40])
def test_bars_that_cross_are_meant_to_join(arm: int) -> None:
    """A cross of two pockets, neither with a corner in the other: no wall stands between them, however short its arms."""
    bars = "\npocket {}\n  into deck, topside\n  outline rectangle {} mm\n  depth 5 mm\n  at (240, 40) mm\n"
    assert not findings_of(BASE + bars.format("along", "40 by 10") + bars.format("over", f"10 by {arm}"), "thin-wall")
    beside = bars.format("beside", "40 by 10").replace("(240, 40)", "(240, 51)")
    assert "1 mm of wood" in only(BASE + bars.format("along", "40 by 10") + beside, "thin-wall").message


@pytest.mark.parametrize("lower", ["30 by 20", "10 by 40", "12 by 12"])
def test_pockets_from_both_faces(lower: str) -> None:
    """17.6 mm less 9 mm and 7 mm are 1.6 mm, whichever way the two lie over one another; side by side, or through, nothing is thin."""
    pocket = "\npocket {}\n  into deck, {}\n  outline rectangle {} mm\n  depth {} mm\n  at ({}, 40) mm\n"
    upper = pocket.format("upper", "topside", "40 by 20", 9, 240)
    item = only(BASE + upper + pocket.format("lower", "underside", lower, 7, 240), "thin-pocket-floor")
    assert "1.6 mm" in item.message and "14.6 mm" in item.remedy and "deck" in item.parts
    for depth, x in ((5.6, 240), (7, 290), (9.5, 240)):
        other = pocket.format("lower", "underside", lower, depth, x)
        assert not findings_of(BASE + upper + other, "thin-pocket-floor"), (depth, x)
