"""Findings as a terminal prints them, for goldens that guard their words, numbers, places, remedies and parts.

The truth of the numbers is held elsewhere (the oracles, the laws, `tests/test_remedies_applied.py`); here no word changes unseen.
"""

from __future__ import annotations

from collections.abc import Iterator

from tests.messages.case import Case

from trivet.checks._check import Check
from trivet.checks._examples import example_text
from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.pipeline import check
from trivet.report.terminal import terminal
from trivet.source import SourceFile

NAME = "base.trivet"
# The comment goes, so that lines keep their numbers.
INCHES = "- # Four riding feet, two idlers, one hub.\n- hardware metric\n+   hardware metric\n+   units in\n"


def whole(edits: str) -> bool:
    """Whether it is a whole file and no edit of the base."""
    return edits.lstrip().startswith(("fixture", "#"))


def in_inches(edits: str) -> str | None:
    """The same fixture with lengths shown in inches; None where the file says itself what it shows."""
    if "units in" in edits or "fixture empty" in edits:
        return None
    if not whole(edits):
        return edits.strip("\n") + "\n" + INCHES
    heading, _, rest = edits.strip("\n").partition("\n")
    return f"{heading}\n  units in\n{rest.replace(chr(10) * 2, chr(10), 1)}"


def findings(rules: tuple[str, ...], edits: str, full: bool) -> tuple[Diagnostic, ...]:
    """Those of the rules, in order; a fixture that is not wrong in this way is a fault of the case."""
    text = example_text(edits)
    found = tuple(item for item in check(SourceFile(NAME, text), MemoryFiles({}), full=full).findings if item.rule in rules)
    assert found, (rules, edits)
    return found


def printed(found: tuple[Diagnostic, ...]) -> Iterator[str]:
    """The lines of the report without the file's name, each finding's followed by the words at its places and by its parts."""
    for item in found:
        for line in terminal((item,), width=10_000).splitlines()[:-1]:
            yield line.removeprefix(f"{NAME}:")
        spans = (item.span, *(label.span for label in item.related))
        words = (span.file.text[span.start : span.end].split("\n")[0] if span is not None else "-" for span in spans)
        yield f"  at {' | '.join(words)}"
        yield from (f"  of {', '.join(item.parts)}",) if item.parts else ()
        yield from (f"  edit {edit.span.file.text[edit.span.start : edit.span.end]!r} -> {edit.text!r}" for edit in item.edits)


def section(title: str, rules: tuple[str, ...], edits: str, full: bool, inches: bool) -> Iterator[str]:
    """One case; of the same in inches only the lines that differ."""
    yield f"## {rules[0]}: {title}"
    lines = tuple(printed(findings(rules, edits, full)))
    yield from lines
    other = in_inches(edits) if inches else None
    if other is not None:
        again = [line for line in printed(findings(rules, other, full)) if line not in lines]
        yield from ("in inches:", *again) if again else ("in inches: the same",)
    yield ""


def further(item: Check, cases: tuple[Case, ...]) -> str:
    """Cases of one check, without its page."""
    rules = (item.rule.slug, *(rule.slug for rule in item.more_rules))
    return "\n".join(
        line for case in cases for line in section(case.title, rules, case.edits, case.full or item.full_only, case.inches)
    )


def family(checks: tuple[Check, ...], cases: tuple[Case, ...]) -> str:
    """The failing examples of the checks' pages, each with its further cases."""
    lines: list[str] = []
    for item in checks:
        rules = (item.rule.slug, *(rule.slug for rule in item.more_rules))
        lines += section("the example of its page", rules, item.rule.failing, item.full_only, True)
        for case in cases:
            if case.rule == item.rule.slug:
                lines += section(case.title, rules, case.edits, case.full or item.full_only, case.inches)
    return "\n".join(lines)


def slips(cases: tuple[tuple[str, str], ...]) -> str:
    """What is said of files that do not hold together: errors and warnings, each with its edits."""
    lines: list[str] = []
    for title, edits in cases:
        found = check(SourceFile(NAME, example_text(edits)), MemoryFiles({})).findings
        standing = tuple(item for item in found if item.severity != "note")
        assert standing, title
        lines += (f"## {title}", *printed(standing), "")
    return "\n".join(lines)
