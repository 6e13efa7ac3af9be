"""Every check's page is whole, its examples fail and pass as they say, and checking changes nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest
from tests.fixture_text import check_text, compiled, findings_of

from trivet.checks._check import Check, all_checks, run_checks
from trivet.checks._examples import BASE, example_text
from trivet.diagnostics import Diagnostic, Rule, rank
from trivet.model.design import Design
from trivet.solve.derived import Derived

CHECKS = all_checks()
SLUGS = [check.rule.slug for check in CHECKS]
BY_SLUG = {check.rule.slug: check for check in CHECKS}
GOLDEN = Path(__file__).parent / "golden" / "slugs.txt"
# What a source may be: design/checks names the kinds; a published one names its publication and place.
SOURCE = re.compile(
    r"common practice|from memory|derived|no published|\bp\. |\beq\. |section |example |clause |Table |ISO |ASME |DIN "
)


def page(slug: str) -> Rule:
    return BY_SLUG[slug].rule


@pytest.mark.parametrize("slug", SLUGS)
def test_page(slug: str) -> None:
    """Headings are present, the file is named like the slug and short."""
    rule = page(slug)
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", slug)
    module = import_module(f"trivet.checks.{slug.replace('-', '_')}")
    assert rule is module.RULE
    assert module.__doc__ and module.check.__doc__
    assert rank(rule.severity) in (0, 1, 2)
    for heading in (rule.what, rule.why, rule.source, rule.failing, rule.passing):
        assert heading.strip()
    for words in (rule.what, rule.why):
        assert not words.endswith(".") and "!" not in words and words[0] == words[0].lower(), words
    assert SOURCE.search(rule.source), rule.source
    assert rule.failing != rule.passing


def test_slugs_are_unique() -> None:
    assert len(set(SLUGS)) == len(SLUGS)


@pytest.mark.parametrize("slug", SLUGS)
def test_failing_example(slug: str) -> None:
    """It yields the rule, at a place, and says what to do about which part; none of its words break the house's form."""
    found = findings_of(example_text(page(slug).failing), slug)
    assert found, [item.message for item in check_text(example_text(page(slug).failing))]
    assert min(rank(item.severity) for item in found) >= rank(page(slug).severity)
    for item in found:
        check_form(item)


def check_form(item: Diagnostic) -> None:
    assert item.span is not None and item.span.end > item.span.start
    assert item.parts and (item.remedy or item.severity == "note")
    assert item.message[0] == item.message[0].lower()
    for words in (item.message, item.remedy, *(label.message for label in item.related)):
        assert not words.endswith(".") and "!" not in words and "\n" not in words, words
        assert not re.search(r"\b(I|we|nan|inf|None)\b", words), words


@pytest.mark.parametrize("slug", SLUGS)
def test_passing_example(slug: str) -> None:
    """It is a whole fixture that holds together and does not yield the rule."""
    text = example_text(page(slug).passing)
    assert compiled(text).derived is not None, [item.message for item in check_text(text)]
    assert not findings_of(text, slug)


@pytest.mark.parametrize("slug", SLUGS)
def test_every_part_can_be_accepted(slug: str) -> None:
    """Each part that a finding names may stand after `on`, and accepts it; without `on` all of the rule's findings are accepted."""
    text = example_text(page(slug).failing)
    whole = findings_of(f'{text}\naccept {slug} because "tried"\n', slug)
    assert whole and all(item.accepted for item in whole)
    parts = sorted({part for item in whole for part in item.parts})
    lines = "".join(f'accept {slug} on {part} because "tried"\n' for part in parts)
    found = check_text(f"{text}\n{lines}")
    assert all(item.accepted for item in found if item.rule == slug)
    # One that accepts nothing would say so.
    assert [item.message for item in found if item.rule in ("acceptance-matches-nothing", "unknown-rule")] == []


def test_base_has_no_error_and_no_warning() -> None:
    assert [(item.rule, item.message) for item in check_text(BASE) if item.severity != "note"] == []


@pytest.mark.parametrize("slug", SLUGS)
def test_checks_change_nothing(slug: str) -> None:
    """Model and derived values print the same before and after each check, on a fixture that breaks its rule."""
    found = compiled(example_text(page(slug).failing))
    assert found.design is not None and found.derived is not None
    before = repr(found.design), repr(found.derived)
    first = list(BY_SLUG[slug].run(found.design, found.derived))
    assert (repr(found.design), repr(found.derived)) == before
    assert list(BY_SLUG[slug].run(found.design, found.derived)) == first


def test_a_check_that_crashes_is_one_finding() -> None:
    """The finding names the check; the others ran."""

    def crash(design: Design, derived: Derived) -> Iterator[Diagnostic]:
        raise ZeroDivisionError("planted")
        yield

    found = compiled(example_text(page("thin-wall").failing))
    assert found.design is not None and found.derived is not None
    planted = Check(Rule("planted-crash", "error", "what", "why", "derived: a test"), crash)
    got = run_checks(found.design, found.derived, checks=(planted, BY_SLUG["thin-wall"]))
    assert [item.rule for item in got] == ["check-crashed", "thin-wall"]
    assert "planted-crash" in got[0].message and "planted" in got[0].message
    assert got[0].fault_of_ours and got[0].span is not None


def test_no_check_crashes_on_any_example() -> None:
    texts = [example_text(text) for slug in SLUGS for text in (page(slug).failing, page(slug).passing)]
    assert [item.message for text in texts for item in check_text(text) if item.rule == "check-crashed"] == []


def test_slugs_only_grow() -> None:
    """A slug that was shipped keeps its meaning and its file; new ones are added to the list by hand, in order."""
    listed = GOLDEN.read_text("utf-8").split()
    assert listed == sorted(set(listed))
    assert [slug for slug in listed if slug not in SLUGS] == [], "a shipped slug is gone"
    assert [slug for slug in SLUGS if slug not in listed] == [], "add these to tests/golden/slugs.txt"
