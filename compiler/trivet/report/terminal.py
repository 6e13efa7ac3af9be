"""Findings for a person: one line each in the form of the GNU coding standards, places and remedy beneath."""

from __future__ import annotations

import textwrap
from collections import Counter

from trivet.diagnostics import Diagnostic
from trivet.report.places import Places
from trivet.report.visible import visible
from trivet.source import Span

_COLOURS = {"error": "1;31", "warning": "1;33", "note": "1;36"}
_NARROWEST = 40


def terminal(found: tuple[Diagnostic, ...], *, colour: bool = False, width: int = 100) -> str:
    """The findings in the order given, the accepted ones after them in one line each, and a line of sums.

    Lines and columns are 1-based, columns in code points. Only the remedy is broken at `width` characters: the lines
    that editors read stay whole. Colour adds nothing that the words do not say.
    """
    places = Places()
    lines: list[str] = []
    for item in found:
        if not item.accepted:
            lines += _standing(item, places, colour, max(width, _NARROWEST))
    lines += [_accepted(item, places) for item in found if item.accepted]
    lines.append(summary(found))
    return "\n".join(lines) + "\n"


def summary(found: tuple[Diagnostic, ...]) -> str:
    """Such as "2 errors, 1 warning; 3 accepted"; a clean result claims no more than was looked for."""
    counts = Counter(item.severity for item in found if not item.accepted)
    standing = ", ".join(_count(counts[word], word) for word in ("error", "warning", "note") if counts[word])
    accepted = [item for item in found if item.accepted]
    errors = sum(item.severity == "error" for item in accepted)
    clean = "no fault found but those accepted" if errors else "no known fault found"
    tail = f", {errors} of them an error" if errors else ""
    return (standing or clean) + (f"; {len(accepted)} accepted{tail}" if accepted else "")


def _standing(item: Diagnostic, places: Places, colour: bool, width: int) -> list[str]:
    word = f"\x1b[{_COLOURS[item.severity]}m{item.severity}:\x1b[0m" if colour else f"{item.severity}:"
    lines = [f"{_at(item.span, places)}{word} {visible(item.message)} [{visible(item.rule)}]"]
    for label in item.related:
        margin = "  " if label.span is None else _at(label.span, places)
        lines.append(f"{margin}note: {visible(label.message)}")
    if item.remedy:
        lines += textwrap.wrap(
            f"remedy: {visible(item.remedy)}",
            width,
            initial_indent="  ",
            subsequent_indent="    ",
            break_long_words=False,
            break_on_hyphens=False,
        )
    if item.fault_of_ours:
        lines.append("  this is a fault of trivet, not of the file")
    return lines


def _accepted(item: Diagnostic, places: Places) -> str:
    because = f", because {visible(item.accepted_because)}" if item.accepted_because else ""
    return f"{_at(item.span, places)}note: accepted: {visible(item.message)}{because} [{visible(item.rule)}]"


def _at(span: Span | None, places: Places) -> str:
    if span is None:
        return "trivet: "
    place = places.of(span)
    return f"{visible(place.file)}:{place.line}:{place.column}: "


def _count(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"
