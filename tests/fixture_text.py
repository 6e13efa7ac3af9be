"""Fixture texts for tests: what a text gives when it goes through the whole pipeline."""

from __future__ import annotations

from functools import lru_cache

from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.pipeline import Compilation, check
from trivet.source import SourceFile

NAME = "fixture.trivet"


@lru_cache(maxsize=256)
def compiled(text: str) -> Compilation:
    """Everything that came of a text."""
    return check(SourceFile(NAME, text), MemoryFiles({NAME: text}), full=True)


def check_text(text: str) -> tuple[Diagnostic, ...]:
    """All findings of a text, in order."""
    return compiled(text).findings


def findings_of(text: str, slug: str) -> tuple[Diagnostic, ...]:
    """The findings of one rule."""
    return tuple(item for item in check_text(text) if item.rule == slug)
