"""Hover: what a thing is, its value, how that comes about, its source."""

from __future__ import annotations

import pytest
from tests.lsp.marked import marked, view_of
from tests.lsp.texts import RISER, with_mark

from trivet.lsp.features.hover import hover


def about(text: str, good: str | None = None) -> str:
    """The Markdown at the mark; empty where there is none."""
    plain, offset = marked(text)
    found = hover(view_of(plain, good), offset)
    assert found is None or found.start <= offset <= found.end
    return found.text if found is not None else ""


def test_a_centre_distance_with_formula_and_source() -> None:
    """Two gears of 16 and 20 teeth at module 6 stand (16 + 20) · 6 / 2 = 108 mm apart (the standard distance, any gear book)."""
    text = about(with_mark("  with we", "st at 180 deg\n"))
    assert "**centre distance `hub` `west`: 108 mm**" in text
    assert "gear `west`" in text and "source:" in text


def test_diameters_at_the_teeth() -> None:
    """A 16-tooth gear of module 6: pitch diameter 16 · 6 = 96 mm, tip diameter (16 + 2) · 6 = 108 mm."""
    text = about(with_mark("  teeth 1", "6\n"))
    assert "pitch diameter `hub`: 96 mm" in text and "tip diameter `hub`: 108 mm" in text
    assert "d_hub = m · z_hub" in text and "6 · 16" in text


def test_lift_at_the_drive() -> None:
    """M8 has a pitch of 1.25 mm (ISO 261); 16 teeth drive 20 twice, so a turn lifts 1.25 · 16 / 20 = 1 mm."""
    assert "**lift: 1 mm**" in about(with_mark("dri", "ve crank\n"))


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("  bolt ISO", " 4762,", "socket head, M8"),
        ("  thread M", "8\n  bolt", "pitch 1.25 mm"),
        ("accept gear-on", "-thread on pin", "an idler whose pivot is a bare screw thread"),
        ("  insert my_in", "sert,", "measured: five of a box of fifty"),
        ("  backlash pl", "ay", "parameter play 0.5 mm, within 0.4..0.8 mm"),
        ("  tooth_fo", "rm coarse\n\nboard", "`tooth_form NAME`"),
        ("  outl", "ine rectangle 480", "outline rectangle LENGTH by LENGTH"),
        ("require tra", "vel", "**travel:"),
        ("defa", "ult gear", "`default KIND`"),
    ],
)
def test_what_stands_under_the_cursor(before: str, after: str, said: str) -> None:
    assert said in about(with_mark(before, after))


@pytest.mark.parametrize(("before", "after"), [("# eight cal", "iper readings"), ("revision \"A\"\n", "  hardware"), ("", "# Raises")])
def test_comments_and_margins_say_nothing(before: str, after: str) -> None:
    assert about(with_mark(before, after)) == ""


def test_numbers_stay_while_the_file_is_broken() -> None:
    """The last text without errors still answers, at the statement's new place."""
    broken = RISER.replace("deck.centre", "deck.cen(tre").replace("fixture outfeed", "# said\nfixture outfeed")
    assert "centre distance `hub` `west`: 108 mm" in about(with_mark("  with we", "st at 180 deg\n", broken), RISER)


def test_nothing_is_known_of_a_file_that_never_worked() -> None:
    text = about("fixture x\ngear a\n  te‸eth 20\n")
    assert "`teeth COUNT`" in text and "**" not in text


def test_an_inch_fixture_shows_inches_too() -> None:
    text = RISER.replace("hardware metric", "hardware metric\n  units in")
    assert "108 mm (4.2520 in)" in about(with_mark("  with we", "st at 180 deg\n", text))
