"""Remedies in words, applied: the number that a message gives ends its finding, and a little less does not.

`tests/test_remedies_applied.py` does the same with remedies that name a fact; here the words are put into the text by hand.
"""

from __future__ import annotations

import pytest
from tests.fixture_text import NAME
from tests.laws.borders import swap
from tests.messages.feet import SCREW
from tests.messages.hardware import bolted, kept, skirted
from tests.messages.use import needs
from tests.messages.wood import pocket

from trivet.checks._check import all_checks
from trivet.checks._examples import example_text
from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.pipeline import check
from trivet.source import SourceFile

CHECKS = {item.rule.slug: item for item in all_checks()}
# (rule, edits or "" for the failing example of its page, what the remedy says, the old text, text that ends it, text that falls short).
APPLIED = (
    ("coarse-step", "", "`hub` with 32 teeth or fewer", "teeth 36", "teeth 32", "teeth 33"),
    ("many-turns", "", "`hub` with 20 teeth or more", "teeth 16", "teeth 20", "teeth 19"),
    ("few-teeth", "", "18 teeth", "teeth 17", "teeth 18", ""),
    ("cutter-too-fat", "", "a cutter of 7.65 mm or less", "diameter 8 mm", "diameter 7.65 mm", "diameter 7.66 mm"),
    ("outlines-overlap", "", "a cutter of 7.5 mm or less", "diameter 8 mm", "diameter 7.5 mm", "diameter 7.6 mm"),
    ("hex-corner-not-cut", "", "a cutter of 7.3 mm or less", "diameter 7.5 mm", "diameter 7.3 mm", "diameter 7.4 mm"),
    ("cutter-too-short", "", "reaches 18 mm or more", "reach 17.9 mm", "reach 18 mm", "reach 17.99 mm"),
    ("feet-rise-differently", "", "20 teeth on `sw`", "  teeth 24", "  teeth 20", "  teeth 21"),
    ("head-hits-board", "", "let in, or the gear hung lower, by more than 2.8 mm", "proud 14 mm", "proud 11.1 mm", "proud 11.2 mm"),
    ("insert-breaks-through", "", "no longer than 17.6 mm", "0.1, 18, 4, 18,", "0.1, 17.6, 4, 17.6,", "0.1, 17.7, 4, 17.7,"),
    ("insert-presses-gear", "", "no longer than 17.6 mm", "0.1, 18, 4, 18,", "0.1, 17.6, 4, 17.6,", ""),
    ("insert-end-in-air", "", "a depth of 2.8 mm or less", "blind 6 mm", "blind 2.8 mm", "blind 3.4 mm"),
    # Two feet stand near either edge, so the board grows by twice as much: 250 + 2 x 3.71 mm.
    ("insert-near-edge", "", "move it 3.71 mm away", "480 by 250 mm", "480 by 257.42 mm", "480 by 257.4 mm"),
    (
        "keeper-hangs-free",
        "",
        "an outline of 152 mm or more one way",
        "rectangle 120 by 60 mm",
        "rectangle 152 by 60 mm",
        "rectangle 138 by 60 mm",
    ),
    (
        "magnet-proud",
        "",
        "a depth held to +/- 0.15 mm",
        "inserts guide_block",
        "inserts guide_block\n  depth +/- 0.15 mm",
        "inserts guide_block\n  depth +/- 0.16 mm",
    ),
    ("mesh-may-bind", "", "0.8 mm of backlash", "backlash 0.6 mm", "backlash 0.8 mm", "backlash 0.7 mm"),
    ("metal-in-cut-zone", "", "cut no deeper than 1 mm", "depth 8 mm", "depth 1 mm", "depth 1.1 mm"),
    ("metal-in-cut-zone", "", "make the zone 12.4 mm narrower", "width 80 mm", "width 67.6 mm", "width 67.8 mm"),
    ("no-room-for-spanner", "", "a recess 19.5 mm wide or more", "round 18 mm", "round 19.5 mm", "round 19 mm"),
    (
        "no-room-for-spanner",
        "",
        "no deeper than 1 mm",
        "recessed 6 mm, round 18",
        "recessed 1 mm, round 18",
        "recessed 1.1 mm, round 18",
    ),
    (
        "part-larger-than-sheet",
        "",
        "a sheet of at least 640 mm by 370 mm",
        "size 450 by 610 mm",
        "size 640 by 370 mm",
        "size 639.9 by 370 mm",
    ),
    (
        "part-larger-than-machine",
        "",
        "at least 128 mm by 128 mm",
        "work_area 100 by 200 mm",
        "work_area 128 by 128 mm",
        "work_area 127.9 by 128 mm",
    ),
    ("thin-gear-rim", "", "a cut of 57 mm across or less", "round 60 mm", "round 57 mm", "round 57.1 mm"),
    ("thin-pocket-floor", "", "a depth of 14.6 mm or less", "depth 15 mm", "depth 14.6 mm", "depth 14.7 mm"),
    ("stop-takes-travel", "", "feet that stand 20.5 mm farther out", "drop 3 mm", "drop 23.5 mm", "drop 22.5 mm"),
    (
        "teeth-slip",
        "",
        "`centre_distance 109.46 mm` or less",
        "centre_distance 115 mm",
        "centre_distance 109.46 mm",
        "centre_distance 109.6 mm",
    ),
    ("screw-bottoms", "", "a screw of 30 mm", "length 45 mm", "length 30 mm", ""),
    ("shank-in-insert", "", "a screw of 35 mm", "4014, length 50 mm", "4014, length 35 mm", ""),
    ("thread-leaves-insert", "", "a screw of 30 mm", "length 20 mm, pocket", "length 30 mm, pocket", ""),
    ("tip-through-board", "", "a screw of 30 mm", "length 45 mm", "length 30 mm", ""),
    ("no-stroke", "", "a rod of 52 mm", "length 12 mm", "length 52 mm", ""),
    ("gear-past-edge", "", "6.96 mm farther out", "480 by 330 mm", "480 by 343.92 mm", "480 by 343.88 mm"),
    ("gears-collide", "", "`with sw at 218 deg` in `mesh west`", "with sw at 210 deg", "with sw at 218 deg", ""),
    (
        "tip-through-board",
        swap(SCREW, "screw ISO 4017, length 150 mm, pocket 5.8 mm"),
        "a screw shorter than 40.5 mm",
        "length 150 mm",
        "length 40.4 mm",
        "length 40.5 mm",
    ),
    (
        "strikes-board-below",
        skirted("\n  outline rectangle 440 by 350 mm, corner_radius 20 mm\n  through"),
        "11.4 mm larger all round",
        "rectangle 440 by 350 mm",
        "rectangle 462.8 by 372.8 mm",
        "rectangle 462.4 by 372.4 mm",
    ),
    (
        "thin-pocket-floor",
        pocket("upper", "(240, 40)", "rectangle 40 by 24 mm", "depth 8 mm")
        + pocket("lower", "(240, 40)", "rectangle 30 by 20 mm", "depth 8 mm", ", underside"),
        "add up to 14.6 mm or less",
        "topside\n  outline rectangle 40 by 24 mm\n  depth 8 mm",
        "topside\n  outline rectangle 40 by 24 mm\n  depth 6.6 mm",
        "topside\n  outline rectangle 40 by 24 mm\n  depth 6.7 mm",
    ),
    (
        "hex-corner-not-cut",
        kept("170 by 70") + swap("diameter 6 mm", "diameter 7.9 mm"),
        "a cutter of 6.5 mm or less",
        "diameter 7.9 mm",
        "diameter 6.5 mm",
        "diameter 6.6 mm",
    ),
    (
        "no-bolt-fits",
        bolted("bolt ISO 4017, head recessed 6 mm", "nut ISO 4032, above board, recessed 3 mm"),
        "`recessed 8.6 mm` in the `nut`",
        "recessed 3 mm",
        "recessed 8.6 mm",
        "recessed 8.3 mm",
    ),
    ("board-sags", "", "`layers 2` in `deck`", "corner_radius 12 mm", "corner_radius 12 mm\n  layers 2", ""),
    (
        "require-not-met",
        needs("travel >= 7 mm") + swap(SCREW, "screw ISO 4017, length 25 mm, pocket 5.8 mm"),
        "a screw of 30 mm",
        "length 25 mm, pocket",
        "length 30 mm, pocket",
        "",
    ),
    ("require-not-met", needs("travel > 8.4 mm"), "a pad with a drop of 3.5 mm", "drop 3 mm", "drop 3.5 mm", ""),
    ("require-not-met", needs("height covers 42..50 mm"), "a pad with a drop of 5.5 mm", "drop 3 mm", "drop 5.5 mm", "drop 5 mm"),
    ("require-not-met", needs("lift_per_turn within 1.2..1.3 mm"), "a drive gear of 20 teeth", "teeth 16", "teeth 20", "teeth 19"),
    ("require-not-met", needs("turns_for_travel <= 6"), "a drive gear of 24 teeth", "teeth 16", "teeth 24", "teeth 23"),
    ("require-not-met", needs("turns_for_travel >= 12"), "a drive gear of 10 teeth", "teeth 16", "teeth 10", "teeth 11"),
)


def found_in(slug: str, text: str) -> list[Diagnostic]:
    result = check(SourceFile(NAME, text), MemoryFiles({}), full=CHECKS[slug].full_only)
    assert result.derived is not None, [item.message for item in result.findings]
    return [item for item in result.findings if item.rule == slug]


@pytest.mark.parametrize(("slug", "edits", "says", "old", "good", "short"), APPLIED)
def test_applied(slug: str, edits: str, says: str, old: str, good: str, short: str) -> None:
    text = example_text(edits or CHECKS[slug].rule.failing)
    before = found_in(slug, text)
    assert any(says in item.remedy for item in before), [item.remedy for item in before]
    assert text.count(old) == 1, old
    assert not found_in(slug, text.replace(old, good))
    assert not short or found_in(slug, text.replace(old, short))
