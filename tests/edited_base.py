"""Findings on the base fixture of the rule pages, edited."""

from __future__ import annotations

from tests.fixture_text import compiled

from trivet.checks._examples import example_text
from trivet.diagnostics import Diagnostic

# The idlers' play is then the stated 0.3 mm at every sheet, which keeps sums by hand short.
NO_SLEEVE = "- sleeve outside 8 mm\n"


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
