"""What the compiler has to say about a file: frozen data, worded where it is raised and drawn only in reports."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from trivet.record import record, replace
from trivet.source import Span

Severity = Literal["error", "warning", "note"]

_RANK: dict[str, int] = {"error": 0, "warning": 1, "note": 2}


@record
class Rule:
    """What is required, named by a slug that reads well after the word *accept*.

    `source` is a published source with its place, or begins with "common practice, no source", "from memory: " or "derived: ".
    `failing` and `passing` are whole small files or edits to a base (see the checks' records).
    """

    slug: str
    severity: Severity
    what: str
    why: str
    source: str
    failing: str = ""
    passing: str = ""


@record
class Label:
    """A related place: where the other party was declared. `span` is None for a library row, which the message names."""

    message: str
    span: Span | None


@record
class Edit:
    """Replace `span` by `text`; `safe` edits keep the meaning, suggested ones need the author's eye."""

    span: Span
    text: str
    safe: bool = False


@record
class Diagnostic:
    """One finding.

    `remedy` says what would work, with its number. `accepted_because` is set by an `accept` statement; `parts` are the ids of the
    things it is about (an acceptance names one). `span` is None only for a file that cannot be read at all.
    """

    rule: str
    severity: Severity
    message: str
    span: Span | None
    related: tuple[Label, ...] = ()
    remedy: str = ""
    parts: tuple[str, ...] = ()
    edits: tuple[Edit, ...] = ()
    accepted: bool = False
    accepted_because: str = ""
    fault_of_ours: bool = False

    def accept(self, because: str) -> Diagnostic:
        """The same finding, accepted with a reason."""
        return replace(self, accepted=True, accepted_because=because)


def rank(severity: Severity) -> int:
    """0 for error, 1 for warning, 2 for note."""
    return _RANK[severity]


def in_order(found: Iterable[Diagnostic]) -> tuple[Diagnostic, ...]:
    """Sorted by file and place, each once."""
    unique: dict[tuple[str, str, int, int, str], Diagnostic] = {}
    for item in found:
        unique.setdefault(_key(item), item)
    return tuple(unique[key] for key in sorted(unique, key=lambda key: (key[0], key[2], key[3], key[1], key[4])))


def _key(item: Diagnostic) -> tuple[str, str, int, int, str]:
    if item.span is None:
        return "", item.rule, 0, 0, item.message
    return item.span.file.name, item.rule, item.span.start, item.span.end, item.message


def has_errors(found: Iterable[Diagnostic]) -> bool:
    """Whether an error stands that nobody accepted."""
    return any(item.severity == "error" and not item.accepted for item in found)
