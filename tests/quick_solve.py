"""A text lowered and solved, and the findings of one check alone: many variants of a fixture in little time."""

from __future__ import annotations

from trivet.checks._check import all_checks
from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.inputs import load_library, read_parts
from trivet.lower.lower import lower
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.solve import solve
from trivet.source import SourceFile

NAME = "fixture.trivet"


def solved(text: str) -> tuple[Design, Derived]:
    """The design and what follows; the text must hold together."""
    source = SourceFile(NAME, text)
    parts, read = read_parts(source, MemoryFiles({NAME: text}), None)
    design, found = lower(parts, load_library, {})
    assert design is not None, [item.message for item in (*read, *found)]
    return design, solve(design)


def findings_alone(text: str, slug: str) -> list[Diagnostic]:
    """What one check says of a text."""
    design, derived = solved(text)
    (check,) = (item for item in all_checks() if item.rule.slug == slug)
    return list(check.run(design, derived))
