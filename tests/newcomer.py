"""The base fixture with what a newcomer writes instead, for the tests of what is then said."""

from __future__ import annotations

from tests.fixture_text import check_text

from trivet.checks._examples import example_text
from trivet.diagnostics import Diagnostic

BASE = example_text("")


def errors(text: str) -> tuple[Diagnostic, ...]:
    """The errors of a text."""
    return tuple(item for item in check_text(text) if item.severity == "error")


def only(old: str, new: str, text: str = BASE) -> Diagnostic:
    """The one error after a swap of text."""
    assert text.count(old) == 1, old
    (found,) = errors(text.replace(old, new))
    return found


def marked(found: Diagnostic) -> str:
    """The text that a finding points at."""
    assert found.span is not None
    return found.span.text
