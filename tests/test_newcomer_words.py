"""What somebody who writes a first fixture spells wrong: each message says one thing, at its place, and its remedy is what was meant."""

from __future__ import annotations

import re

import pytest
from tests.fixture_text import check_text
from tests.newcomer import BASE, errors, marked, only

ROW = "row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5"


# What was right, what is written instead; the remedy must give back the right text.
WRITTEN_BACK = (
    ("thickness 17.8 +/- 0.2 mm", "thickness 17,8 +/- 0,2 mm", "number-form", "17,8"),
    (ROW, "row M8, 16,0 +/- 0,1, 15, 4, 15, 13.5", "number-form", "16,0"),
    ("drill 5 mm", "drill 5,0..6 mm", "number-form", "5,0"),
    ("thread ST6.3", "thread M8 x 1.25", "unexpected-item", "x"),
)


@pytest.mark.parametrize(("right", "wrong", "slug", "where"), WRITTEN_BACK)
def test_remedy_is_the_line_as_it_should_stand(right: str, wrong: str, slug: str, where: str) -> None:
    """A decimal comma is never taken for a list, and a thread with spaces is put together."""
    found = only(right, wrong)
    assert (found.rule, marked(found)) == (slug, where)
    fixed = re.search("write `([^`]+)`", found.remedy)
    assert fixed is not None
    wanted = {"thread M8 x 1.25": "thread M8x1.25", "drill 5,0..6 mm": "drill 5.0..6 mm"}.get(wrong, right)
    assert fixed[1] == wanted


MEANT = (
    ("  teeth 16\n", "  tooth 16\n", "teeth"),
    ("kind riding", "type riding", "kind"),
    ("nut tee_nut, above gear", "nut t-nut, above gear", "tee_nut"),
    ("corner_radius 12 mm", "radius 12 mm", "corner_radius"),
    ("  diameter 6 mm", "  dia 6 mm", "diameter"),
)


@pytest.mark.parametrize(("right", "wrong", "meant"), MEANT)
def test_a_makers_word_is_answered_with_the_languages(right: str, wrong: str, meant: str) -> None:
    """Words that makers use and the language does not."""
    assert only(right, wrong).remedy == f"did you mean `{meant}`?"


def test_a_bare_text_is_given_its_quotes() -> None:
    """The remedy holds the author's words, and works."""
    found = only("  hardware metric", "  title Saw riser")
    assert found.remedy == 'write `title "Saw riser"`'
    assert not errors(BASE.replace("  hardware metric", '  title "Saw riser"'))


@pytest.mark.parametrize("size", ["M8", "M8x30"])
def test_a_size_in_place_of_a_standard(size: str) -> None:
    """Makers order by size: the remedy says where the size and the length stand."""
    found = only("screw ISO 4017, length 30 mm, pocket 5.8 mm", f"screw {size}")
    assert "`thread M8`" in found.remedy
    assert ("`length 30 mm`" in found.remedy) == (size == "M8x30")


def test_names_without_commas_are_declared_all_the_same() -> None:
    """One missing comma is one finding, not one for each mesh."""
    found = only("gear nw, sw, ne, se", "gear nw sw ne se")
    assert (found.rule, found.remedy) == ("unexpected-item", "put a comma between the names")


def test_an_indented_heading_is_one_finding() -> None:
    """Its facts are read as its own, so nothing else is said; its names are declared."""
    found = only("gear hub\n", "  gear hub\n")
    assert (found.rule, marked(found)) == ("unknown-fact", "gear")
    assert "margin" in found.remedy


def test_a_fact_that_is_also_a_heading_stays_a_fact() -> None:
    """`cutter` and `sheet` are headings too: as a fact of a cutter it is a wrong fact, not a heading."""
    found = only("  reach 25 mm", "  board")
    assert found.message == "a cutter has no fact `board`"


def test_a_name_of_two_words_and_a_name_that_is_a_size() -> None:
    """Both remedies are names."""
    assert only("fixture base", "fixture my riser").remedy == "write `fixture my_riser`"
    found = [
        item
        for item in check_text(BASE.replace("cutter straight6\n  diameter", "cutter 6mm\n  diameter"))
        if item.rule == "name-form"
    ]
    assert [item.remedy for item in found] == ["write `cutter cutter_6mm`"]


def test_a_mesh_without_with() -> None:
    """The gear's name shows what was meant."""
    assert only("  with west at 180 deg", "  west at 180 deg").remedy == "write `with west at 180 deg`"


def test_a_range_is_turned_round() -> None:
    """The unit stays where it covers both."""
    assert only("thickness 17.8 +/- 0.2 mm", "thickness 18..17.6 mm").remedy == "write `17.6..18 mm`"
    assert only("thickness 17.8 +/- 0.2 mm", "thickness 18 mm..17.6 mm").remedy == "write `17.6 mm..18 mm`"


def test_half_a_tooth() -> None:
    """The neighbours are named, not the form's example."""
    assert only("  teeth 16\n", "  teeth 16.5\n").remedy == "write 16 or 17"


JOINED = (
    ("nut tee_nut, above gear", "nut tee nut, above gear", "tee_nut"),
    ("inserts guide_block", "inserts guide block", "guide_block"),
    ("  jam_nut ISO 4035", "  jam nut ISO 4035", "jam_nut"),
    ("corner_radius 12 mm", "corner radius 12 mm", "corner_radius"),
)


@pytest.mark.parametrize(("right", "wrong", "meant"), JOINED)
def test_words_that_the_language_joins(right: str, wrong: str, meant: str) -> None:
    """As detail, value and fact."""
    assert only(right, wrong).remedy == f"did you mean `{meant}`?"


@pytest.mark.parametrize("written", ["M8LH", "M8 LH", "LH-M8"])
def test_a_left_hand_thread_as_it_stands_on_the_bag(written: str) -> None:
    """All three are answered with the one form."""
    text = BASE.replace("thread M8\n  screw", f"thread {written}\n  screw")
    (found,) = errors(text)
    assert found.remedy.endswith(("`M8-LH`", "`thread M8-LH`"))


def test_a_parameter_may_be_called_like_a_left_hand_thread() -> None:
    """The file's own names come first."""
    text = BASE.replace("thread M8\n  screw", "thread M8LH\n  screw") + "\nparameter M8LH one_of M8\n"
    assert not errors(text)


RANGES = (
    ("thickness 17.8 +/- 0.2 mm", "thickness 17.6-18.0 mm", "write `thickness 17.6..18.0 mm`"),
    ("thickness 17.8 +/- 0.2 mm", "thickness 18.0-17.6 mm", "write `thickness 18.0 mm - 17.6 mm`"),
    ("thickness 17.8 +/- 0.2 mm", "thickness 17.6 to 18 mm", "write `17.6..18 mm`"),
    (
        "thickness 17.8 +/- 0.2 mm",
        "thickness 17.6 - 18 mm",
        "write the unit at each number; a range has two points, as in `17..18 mm`",
    ),
    ("at deck.centre", "at 240, 175", "write `at (240, 175) mm`"),
    ("at deck.centre", "at 240, 175 mm", "write `at (240, 175) mm`"),
    ("at deck.centre", "at 240 mm, 175 mm", "write `at (240, 175) mm`"),
    ("carries corner", "carries foot", "write `corner`, the only foot, or declare another"),
    ("default gear", "default gears", "write `default gear`"),
)


@pytest.mark.parametrize(("right", "wrong", "remedy"), RANGES)
def test_what_makers_write_for_a_range_a_place_or_a_name(right: str, wrong: str, remedy: str) -> None:
    """Each is answered with the line to write, in the author's own numbers."""
    assert only(right, wrong).remedy == remedy


def test_a_deviation_in_percent_is_pointed_at_itself() -> None:
    """Not at the mean, which is right once it has the unit."""
    assert marked(only("17.8 +/- 0.2 mm", "17.8 +/- 1 percent")) == "1 percent"


ADDED = (
    ("parameter slack = 0.7 mm", "=", "write `parameter slack 0.7 mm`"),
    ('accept few teeth because "it turns"', "few teeth", "write `accept few-teeth because` and the reason"),
    ("accept few-teeth because it turns", "it", 'write `accept few-teeth because "it turns"`'),
)


@pytest.mark.parametrize(("line", "where", "remedy"), ADDED)
def test_headings_that_say_something(line: str, where: str, remedy: str) -> None:
    """A parameter with a sign, a rule with spaces, a reason without quotes."""
    (found,) = errors(f"{BASE}\n{line}\n")
    assert (marked(found), found.remedy) == (where, remedy)
