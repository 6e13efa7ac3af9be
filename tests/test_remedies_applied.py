"""A remedy that names a fact is that fact: written into the file as the words say, the finding is gone.

Rules whose remedy names a fact only as a pattern, or leaves the choice of the part to the author, are listed with why.
"""

from __future__ import annotations

import pytest
from tests.remedy_application import applied

from trivet.checks._check import all_checks
from trivet.checks._examples import example_text
from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.pipeline import check
from trivet.source import SourceFile

LEFT_TO_THE_AUTHOR = {
    "gear-without-place": "the place is the author's: `at (x, y) mm`",
    "no-drive": "which gear the drive turns is the author's choice",
    "part-larger-than-sheet": "the margin helps only where the part is a little too large",
}
EXAMPLES = {item.rule.slug: item.rule.failing for item in all_checks() if not item.full_only}
NO_SLEEVE = "- sleeve outside 8 mm\n"
INCHES = "- hardware metric\n+   hardware metric\n+   units in\n"
# (rule, edits): what a plain example of the rule does not show.
MORE = (
    ("thin-wall", "+ hole peg\n+   into deck\n+   diameter 12 mm\n+   at (255, 175) mm\n"),
    ("thin-wall", "+ hole peg\n+   into deck\n+   dowel 12 mm\n+   fit slide\n+   at (7, 100) mm\n"),
    ("thin-wall", "+ hole peg\n+   into deck\n+   diameter 12 mm\n+   at (480, 100) mm\n"),
    ("thin-wall", "+ magnet m\n+   into deck\n+   disc 10 by 3 mm\n+   fit push\n+   at (5, 100) mm\n"),
    ("thin-wall", "+ hole peg\n+   into deck\n+   diameter 12 mm\n+   at (10, 7) mm\n" + INCHES),
    ("bolt-not-sold", INCHES),
    ("bolt-not-sold", "-   thickness 17.8 +/- 0.2 mm\n+   thickness 17.6 +/- 0.2 mm\n"),
    ("no-bolt-fits", NO_SLEEVE + "-   thickness 17.8 +/- 0.2 mm\n+   thickness 18.5 +/- 0.2 mm\n"),
    ("no-bolt-fits", INCHES + NO_SLEEVE + "-   thickness 17.8 +/- 0.2 mm\n+   thickness 18.5 +/- 0.2 mm\n"),
    (
        "no-bolt-fits",
        "- jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm\n+   jam_nut ISO 4035, below gear, recessed 2 mm, round 24 mm\n",
    ),
    ("bolt-too-short", "- bolt ISO 4762, head recessed 9 mm\n+   bolt ISO 4762, head recessed 9 mm, length 20 mm\n"),
    ("narrower-than-cutter", "- drill 5 mm\n"),
    ("tip-interference", "- teeth 16\n+   teeth 10\n"),
)


def of_rule(slug: str, text: str) -> tuple[Diagnostic, ...]:
    result = check(SourceFile("plan.trivet", text), MemoryFiles({}))
    assert result.design is not None, (text, [item.message for item in result.findings])
    return tuple(item for item in result.findings if item.rule == slug)


def gone(slug: str, text: str) -> bool:
    """Whether applying the remedies of all findings of the rule, one after the other, ends them. False where none names a fact."""
    for _ in range(4):
        found = of_rule(slug, text)
        if not found:
            return True
        changed = applied(text, found[0])
        assert changed is not None and changed != text, found[0].remedy
        left = of_rule(slug, changed)
        assert len(left) < len(found), (found[0].remedy, left[0].message)
        text = changed
    return False


def names_a_fact(slug: str) -> bool:
    text = example_text(EXAMPLES[slug])
    return any(
        applied(text, item) is not None
        for item in check(SourceFile("plan.trivet", text), MemoryFiles({})).findings
        if item.rule == slug
    )


@pytest.mark.parametrize("slug", sorted(set(EXAMPLES) - set(LEFT_TO_THE_AUTHOR)))
def test_examples(slug: str) -> None:
    """Of each rule's failing example; remedies in words alone have nothing to apply."""
    if names_a_fact(slug):
        assert gone(slug, example_text(EXAMPLES[slug]))


def test_enough_remedies_name_a_fact() -> None:
    """That the test above applies something: these do, at least."""
    for slug in ("bolt-not-sold", "no-bolt-fits", "thin-wall", "head-proud", "mesh-binds", "few-teeth", "swelling-takes-play"):
        assert names_a_fact(slug), slug


@pytest.mark.parametrize(("slug", "edits"), MORE)
def test_more(slug: str, edits: str) -> None:
    text = example_text(edits)
    assert of_rule(slug, text)
    assert gone(slug, text)


def test_metric_stock_in_a_fixture_in_inches() -> None:
    """Screws to ISO standards are sold by the millimetre, whatever the fixture speaks."""
    (item,) = of_rule("bolt-not-sold", example_text(INCHES))
    assert "buy 30 mm and cut it to 1-5/64 in (1.078 in)" in item.message
    assert item.remedy == "`head recessed 7/16 in` (0.438 in) lets a screw of 25 mm do as bought"


def test_what_cannot_be_let_in_is_not_offered() -> None:
    """With 2.2 mm either way the sheets alone vary by more than any recess gives."""
    text = example_text("-   thickness 17.8 +/- 0.2 mm\n+   thickness 17.8 +/- 2.2 mm\n")
    (item,) = [item for item in of_rule("no-bolt-fits", text) if "crank" in item.message]
    assert "`" not in item.remedy and "sheets that vary less" in item.remedy
