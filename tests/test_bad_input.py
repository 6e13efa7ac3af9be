"""Text that is broken, absurd or hostile: every one is answered with findings at their places, and none with a fault of trivet."""

from __future__ import annotations

import pytest
from tests.hard_use import EXAMPLES, SHARED, example, rules, run

RISER = example("outfeed_riser")


def changed(old: str, new: str) -> str:
    """The riser with one part replaced."""
    assert RISER.count(old) >= 1, old
    return RISER.replace(old, new, 1)


@pytest.mark.parametrize("text", ["", "\n", " \t\n\n  \n", "# nothing but a comment\n", "\ufeff", "\ufeff\n"])
def test_a_file_without_a_heading_says_so_once(text: str) -> None:
    assert rules(run(text)) == ["missing-fixture"]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_half_of_every_example(path: object) -> None:
    """Cut at offsets that share no factor with line lengths; a cut file is answered, whatever it ends with."""
    text = path.read_text(encoding="utf-8")
    for offset in range(0, len(text), 97):
        run(text[:offset])
    run(text[len(text) // 2 :])


@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_line_ends(end: str) -> None:
    """CR LF is a line end; a lone CR is a character that cannot be seen, and reported as one."""
    found = run(RISER.replace("\n", end))
    if end == "\r\n":
        assert [item.rule for item in found.findings] == [item.rule for item in run(RISER).findings]
    else:
        assert rules(found) == ["hidden-character"]


def test_tabs_and_a_byte_order_mark_change_nothing() -> None:
    plain = [(item.rule, item.message) for item in run(RISER).findings]
    assert [(item.rule, item.message) for item in run(RISER.replace("\n  ", "\n\t")).findings] == plain
    assert [(item.rule, item.message) for item in run("\ufeff" + RISER).findings] == plain


@pytest.mark.parametrize("mark", ["\u202e", "\u2066", "\u200b", "\x00", "\x1b", "\x7f", "\u2028"])
def test_hidden_characters_are_refused_wherever_they_stand(mark: str) -> None:
    assert "hidden-character" in rules(run(changed("gear hub", f"gear h{mark}ub")))
    assert "hidden-character" in rules(run(changed("Outfeed riser", f"Outfeed {mark} riser")))
    assert "hidden-character" in rules(run(changed("# Raises", f"# Rai{mark}ses")))


@pytest.mark.parametrize(
    ("written", "rule"),
    [
        ("0", "value-not-allowed"), ("-1", "not-a-count"), ("16.5", "not-a-count"), ("1000000000000", "number-too-large"),
        ("16 mm", "unit-on-count"), ("1 / 0", "division-by-zero"), ("sixteen", "unknown-name"),
    ],
)  # fmt: skip
def test_a_wrong_number_of_teeth(written: str, rule: str) -> None:
    assert rules(run(changed("teeth 16", f"teeth {written}"))) == [rule]


@pytest.mark.parametrize(
    "written", ["1e400", "nan", "inf", "-inf", "0x10", "1_000", "٣", "1,5", "½", "1.", ".5", "--1", "+5", "1..", "9" * 400]
)
def test_what_is_no_number(written: str) -> None:
    assert rules(run(changed("module 6 mm", f"module {written} mm")))
    assert rules(run(changed("teeth 16", f"teeth {written}")))


def test_repetition_is_bounded() -> None:
    grid = "grid 3 by 2, every 50 by 210 mm, first_at (190, 70) mm"
    for written in (
        "grid 100000 by 100000, every 1 by 1 mm, first_at (1, 1) mm",
        "bolt_circle 1000000000, diameter 9 mm, around deck.centre",
    ):
        assert rules(run(changed(grid, written))) == ["too-many-instances"]
    assert rules(run(changed("gear hub\n", "gear hub\n  layers 1000000000\n")))
    assert rules(run(changed("board deck\n", "board deck\n  layers 1000000000\n")))
    run(changed("require travel >= 8 mm", "have 1000000000000 of ISO 4017 M8, length 30 mm"))
    run(
        changed(
            "require travel >= 8 mm",
            "spacer many\n  stock ply18\n  cutter straight6\n  outline circle 24 mm\n  quantity 1000000000",
        )
    )


def test_circles_of_names() -> None:
    assert rules(run(changed("parameter play 0.5 mm, within 0.4..0.8 mm", "parameter play other\nparameter other play"))) == [
        "cyclic-names"
    ]
    assert "cyclic-names" in rules(run(changed("parameter play 0.5 mm", "parameter play play")))
    assert "cyclic-likeness" in rules(run(changed("gear hub\n", "gear hub\n  like west\n").replace("turns_on pin", "like hub")))


def test_a_row_of_names_gives_the_same_answer_in_either_order() -> None:
    """Names may stand in any order; so may the bound on their depth."""
    blocks = [f"parameter p{number} p{number + 1} + 0.001 mm" for number in range(200)] + ["parameter p200 0.1 mm"]
    for ordered in (blocks, blocks[::-1]):
        found = run("\n".join(ordered) + "\n" + RISER.replace("  backlash play", "  backlash p0"))
        assert rules(found) == ["cyclic-names"]
    short = [f"parameter p{number} p{number + 1} + 0.01 mm" for number in range(30)] + ["parameter p30 0.3 mm"]
    assert not rules(run(RISER.replace("  backlash play", "  backlash p0") + "\n" + "\n".join(short)))


def test_exact_numbers_cannot_grow_without_end() -> None:
    squares = "\n".join(f"parameter p{number + 1} p{number} * p{number}" for number in range(40))
    assert rules(run(f"{RISER}\nparameter p0 1/3\n{squares}")) == ["number-too-large"]
    assert rules(run(f"{RISER}\nparameter p0 7\n{squares}")) == ["number-too-large"]


def test_a_name_as_long_as_a_book() -> None:
    assert rules(run("fixture " + "a" * 100_000)) == ["limit-exceeded"]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("module 6 mm", "module 0.2 mm"), ("module 6 mm", "module 200 mm"), ("teeth 16", "teeth 1000"), ("teeth 20", "teeth 4"),
        ("thickness 17.8 +/- 0.2 mm", "thickness 1 +/- 0.2 mm"), ("thickness 17.8 +/- 0.2 mm", "thickness 1 +/- 1 mm"),
        ("thickness 17.8 +/- 0.2 mm", "thickness 900 +/- 200 mm"), ("diameter 6.00 mm", "diameter 50 mm"),
        ("diameter 6.00 mm", "diameter 0.001 mm"), ("reach 25 mm", "reach 0.1 mm"), ("pressure_angle 20 deg", "pressure_angle 44 deg"),
        ("pressure_angle 20 deg", "pressure_angle 1 deg"), ("backlash play", "backlash 30 mm"), ("backlash play", "backlash 0 mm"),
        ("rectangle 480 by 350 mm, corner_radius 12 mm", "rectangle 1 by 1 mm"),
        ("rectangle 480 by 350 mm, corner_radius 12 mm", "rectangle 90000 by 90000 mm, corner_radius 1 mm"),
        ("rectangle 480 by 350 mm, corner_radius 12 mm", "circle 3 mm"), ("at deck.centre", "at (99000, -99000) mm"),
        ("with west at 180 deg", "with west at 1000000 deg"), ("with nw at 118 deg", "with nw at 0 deg"),
        ("hole_position +/- 0.15 mm", "hole_position +/- 90 mm"), ("bore_clearance 0.20 mm", "bore_clearance 90 mm"),
        ("moisture 6..12 percent", "moisture 0..400 percent"), ("length 30 mm, pocket 5.8 mm", "length 9000 mm, pocket 900 mm"),
        ("length 30 mm, pocket 5.8 mm", "length 1 mm, pocket 0.01 mm"), ("pad dome, drop 3 mm", "pad dome, drop 5000 mm"),
        ("head recessed 9 mm", "head recessed 9000 mm"), ("recessed 6 mm, round 24 mm", "recessed 600 mm, round 0.1 mm"),
        ("row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5", "row M8, 0.1 +/- 0.1, 1, 15, 15, 900"),
        ("drill 5 mm", "drill 500 mm"), ("slot 90 by 8 mm", "slot 8 by 8 mm"), ("slot 90 by 8 mm", "slot 8 by 90 mm"),
        ("depth 6.5 mm", "depth 6500 mm"), ("dowel 19 mm", "dowel 1900 mm"), ("size 1220 by 610 mm", "size 1 by 1 mm"),
        ("gear hub\n", "gear hub\n  profile_shift 90\n"), ("gear hub\n", "gear hub\n  profile_shift -9\n"),
        ("gear hub\n", "gear hub\n  web spokes 500, width 1 mm\n"), ("gear hub\n", "gear hub\n  web holes 6, diameter 2000 mm\n"),
        ("gear hub\n", "gear hub\n  bore 900 mm\n"), ("gear hub\n", "gear hub\n  layers 40\n"),
    ],
)  # fmt: skip
def test_numbers_that_are_valid_but_absurd(old: str, new: str) -> None:
    run(changed(old, new))


def test_a_large_thread_in_a_thin_gear() -> None:
    text = RISER.replace("thread M8", "thread M16").replace("row M8", "row M16").replace("module 6 mm", "module 1 mm")
    run(text.replace("teeth 20", "teeth 5").replace("thickness 17.8 +/- 0.2 mm", "thickness 3 +/- 0.2 mm"))


TEN_MISTAKES = """\
fixture riser
  title "Riser
sheet ply18
  material birch_plywood
  thickness 17,8 mm
  size 1220 by 610
  face_grian along x
cutter straight6
  diameter 6 deg
tooth_form coarse
  module 6 mm
  backlash 0.2 + 0.3 mm
board deck
  outline rectangle 480 by 350 mm
  stock ply18
  cutter straight6
gear hub
  stock ply18
  cutter straight6
  tooth_form coarse
  teeth 16.5
  at deck.center
  turns_on pin
pivot pin
  thread ST6.3
  screw ISO 7049, head recessed 7 mm
  drill 5 mm
  play 0.3 mm
hole dog
  into dek
  diameter 19 mm
  at (10, 10) mm
engrave name
  into deck, topside
  text "Riser"
  height 8 mm, twice
  depth 0.5 mm
  cutter straight6
  at (240, 40) mm
cutter deck
  diameter 6 mm
"""
TEN_RULES = {
    "unclosed-quote": '"', "number-form": "17,8", "unit-missing": "1220", "unknown-fact": "face_grian", "wrong-dimension": "6 deg",
    "mixed-dimensions": "0.2", "not-a-count": "16.5", "unknown-part": "deck.center", "unknown-name": "dek", "unknown-detail": "twice",
    "name-declared-twice": "deck",
}  # fmt: skip


def test_mistakes_of_different_kinds_are_each_said_once() -> None:
    """Eleven independent mistakes: each at its own place, none echoed by what needs the broken thing."""
    found = run(TEN_MISTAKES)
    said = sorted((item.rule, item.span.text) for item in found.findings if item.span is not None)
    assert said == sorted(TEN_RULES.items())


def test_the_shared_file_is_there() -> None:
    """Guards this file: without it, every example would fail for one reason."""
    assert "shared/shop.trivet" in SHARED
    assert not rules(run(RISER))
