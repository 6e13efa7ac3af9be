"""Findings on the base fixture of the rule pages, edited."""

from __future__ import annotations

from tests.fixture_text import NAME, compiled

from trivet.checks._examples import example_text
from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.model.design import Design
from trivet.pipeline import check
from trivet.solve.derived import Derived
from trivet.source import SourceFile

# The idlers' play is then the stated 0.3 mm at every sheet, which keeps sums by hand short.
NO_SLEEVE = "- sleeve outside 8 mm\n"
# Lines after which facts can be put in.
PLAY = "- play 0.2 mm\n+   play 0.2 mm\n"
SHEET = "- size 1220 by 610 mm\n+   size 1220 by 610 mm\n"
PAD = "- pad dome, drop 3 mm\n"


def findings(edits: str, *swaps: tuple[str, str]) -> tuple[Diagnostic, ...]:
    """All findings after edits and then swaps of text; the file must hold together."""
    text = example_text(edits)
    for old, new in swaps:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    found = compiled(text)
    assert found.derived is not None, found.findings
    return found.findings


def of_rule(slug: str, edits: str, *swaps: tuple[str, str]) -> tuple[Diagnostic, ...]:
    """Those of one rule."""
    return tuple(item for item in findings(edits, *swaps) if item.rule == slug)


def only(slug: str, edits: str, *swaps: tuple[str, str]) -> Diagnostic:
    """The one finding of a rule."""
    (item,) = of_rule(slug, edits, *swaps)
    return item


def plain(edits: str, slug: str) -> tuple[Diagnostic, ...]:
    """The findings of one rule in a plain run, which takes a fortieth of a full one."""
    text = example_text(edits)
    result = check(SourceFile(NAME, text), MemoryFiles({NAME: text}))
    assert result.derived is not None, [item.message for item in result.findings]
    return tuple(item for item in result.findings if item.rule == slug)


def solved(edits: str) -> tuple[Design, Derived]:
    text = example_text(edits)
    found = check(SourceFile(NAME, text), MemoryFiles({NAME: text}))
    assert found.design is not None and found.derived is not None, [item.message for item in found.findings]
    return found.design, found.derived
