"""Edits that mend findings: only those with which the text parses and checks better than before are offered."""

from __future__ import annotations

from collections.abc import Callable

from trivet.diagnostics import Diagnostic, Edit
from trivet.lsp.answers import Action
from trivet.lsp.view import View
from trivet.source import SourceFile

# A request is about a few findings; more are not worth the time of checking each.
MOST_TRIED = 8

Recheck = Callable[[SourceFile], tuple[Diagnostic, ...]]


def actions(view: View, findings: tuple[Diagnostic, ...], start: int, end: int, recheck: Recheck) -> tuple[Action, ...]:
    """The edits for the findings in [start, end] of the file that mend theirs and break nothing; `recheck` gives a text's findings."""
    near = [item for item in findings if item.edits and item.span is not None and item.span.start <= end and item.span.end >= start]
    found = []
    for item in near[:MOST_TRIED]:
        if all(edit.span.file is view.file for edit in item.edits) and _mends(view, item, findings, recheck):
            found.append(Action(_title(item), item.edits, item, all(edit.safe for edit in item.edits)))
    return tuple(found)


def edited(text: str, edits: tuple[Edit, ...]) -> str:
    """The text with edits made, the last first so that places hold."""
    for edit in sorted(edits, key=lambda edit: edit.span.start, reverse=True):
        text = text[: edit.span.start] + edit.text + text[edit.span.end :]
    return text


def breaks(before: tuple[Diagnostic, ...], after: tuple[Diagnostic, ...]) -> bool:
    """Whether there are more errors of any rule after than before, of those that were not there at all."""
    return any(_errors(after, item.rule) > _errors(before, item.rule) for item in after if item.severity == "error")


def _mends(view: View, item: Diagnostic, findings: tuple[Diagnostic, ...], recheck: Recheck) -> bool:
    """Whether there are fewer errors on the finding's line, no more of its rule, and none on lines that the edit adds.

    Errors that the fault hid until now may come to light elsewhere; they do not count.
    """
    text = edited(view.text, item.edits)
    after = recheck(SourceFile(view.file.name, text))
    assert item.span is not None
    line = view.text.count("\n", 0, item.span.start)
    added = {
        view.text.count("\n", 0, edit.span.start) + number
        for edit in item.edits
        for number in range(1, edit.text.count("\n") + 1)
    }
    lines = _lines_of_errors(after, view)
    before = _lines_of_errors(findings, view)
    fewer = lines.count(line) < before.count(line) or item.severity != "error"
    return fewer and not added & set(lines) and _errors(after, item.rule) <= _errors(findings, item.rule)


def _lines_of_errors(findings: tuple[Diagnostic, ...], view: View) -> list[int]:
    """The lines of the file with errors, one for each."""
    return [
        item.span.file.text.count("\n", 0, item.span.start)
        for item in findings
        if item.severity == "error" and item.span is not None and item.span.file.name == view.file.name
    ]


def _errors(findings: tuple[Diagnostic, ...], rule: str) -> int:
    return sum(item.rule == rule and item.severity == "error" for item in findings)


def _title(item: Diagnostic) -> str:
    if item.remedy.startswith(("write ", "leave ")):
        return item.remedy
    if len(item.edits) == 1 and item.edits[0].text.startswith("\n"):
        return f"add the line `{item.edits[0].text.strip()}`"
    if len(item.edits) == 1:
        new = item.edits[0].text.strip()
        return f"write `{new}`" if new else "take it out"
    return item.remedy or item.message
