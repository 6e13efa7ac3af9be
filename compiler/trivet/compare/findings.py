"""Findings gained, lost, and worded with other numbers."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.compare.change import FindingChange
from trivet.diagnostics import Diagnostic, rank


def finding_changes(old: Sequence[Diagnostic], new: Sequence[Diagnostic]) -> tuple[FindingChange, ...]:
    """New ones first, then other words, then those that went; the graver first. A place that moved is no change."""
    before, after = list(old), list(new)
    _drop_equal(before, after)
    found: list[FindingChange] = []
    for item in after:
        mate = next((other for other in before if (other.rule, other.parts) == (item.rule, item.parts)), None)
        if mate is not None:
            before.remove(mate)
        found.append(FindingChange(item.rule, item.severity, item.parts, "" if mate is None else _words(mate), _words(item)))
    found += [FindingChange(item.rule, item.severity, item.parts, _words(item), "") for item in before]
    return tuple(sorted(found, key=_order))


def _drop_equal(before: list[Diagnostic], after: list[Diagnostic]) -> None:
    for item in tuple(after):
        mate = next((other for other in before if (other.rule, _words(other)) == (item.rule, _words(item))), None)
        if mate is not None:
            before.remove(mate)
            after.remove(item)


def _words(item: Diagnostic) -> str:
    reason = f", accepted because {item.accepted_because}" if item.accepted else ""
    return f"{item.message}{reason}"


def _order(change: FindingChange) -> tuple[int, int]:
    kind = 0 if not change.old else 1 if change.new else 2
    return kind, rank(change.severity)  # type: ignore[arg-type]  # a severity, kept as text in the record
