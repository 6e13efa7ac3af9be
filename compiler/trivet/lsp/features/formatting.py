"""Formatting in an editor: the whole file, a part of it, or the line that was just ended."""

from __future__ import annotations

from trivet.fmt.edits import format_edits
from trivet.lsp.answers import Change
from trivet.lsp.lines import block_form
from trivet.lsp.view import View


def formatted(view: View, start: int = 0, end: int | None = None) -> tuple[Change, ...]:
    """Edits of space alone, in the file or in [start, end)."""
    return tuple(Change(edit.start, edit.end, edit.text) for edit in format_edits(view.file, start, end))


def line_ended(view: View, offset: int) -> tuple[Change, ...]:
    """After a line end was typed: the line before `offset` formatted, and the new line indented where a fact is to come."""
    text = view.text
    before = text.rfind("\n", 0, offset)
    if before < 0:
        return ()
    start = text.rfind("\n", 0, before) + 1
    ended = before - (text[before - 1 : before] == "\r")
    changes = formatted(view, start, ended)
    new = text[before + 1 :].split("\n", 1)[0].rstrip("\r")
    if not new and _facts_follow(text[start:ended]):
        changes = (*changes, Change(before + 1, before + 1, "  "))
    return changes


def _facts_follow(line: str) -> bool:
    """Whether the next line is a fact: below a heading that takes facts, or below a fact."""
    if not line.strip() or line.lstrip().startswith("#"):
        return False
    if line[0] in (" ", "\t"):
        return True
    form = block_form(line.split()[0])
    return line.startswith("default ") or (form is not None and bool(form.facts))
