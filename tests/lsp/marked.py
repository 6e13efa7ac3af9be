"""Texts with a cursor mark, the view of them, and findings as plain values that two checks can be compared by."""

from __future__ import annotations

from typing import Any

from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.lsp.view import View
from trivet.lsp.workspace import Workspace
from trivet.pipeline import check
from trivet.source import SourceFile, Span

MARK = "‸"


def marked(text: str) -> tuple[str, int]:
    """The text without its one cursor mark, and where that stood."""
    assert text.count(MARK) == 1, text
    return text.replace(MARK, ""), text.index(MARK)


def view_of(text: str, good: str | None = None, **others: str) -> View:
    """The view of a text after a check of it; `good` was checked before. `others` are open files beside it."""
    workspace = Workspace()
    for name, other in others.items():
        workspace.put(f"/plan/{name}.trivet", other, 1)
    for version, version_text in enumerate((text,) if good is None else (good, text), start=1):
        workspace.put("/plan/main.trivet", version_text, version)
        workspace.check("/plan/main.trivet")
    return workspace.view("/plan/main.trivet")


def plain(found: tuple[Diagnostic, ...]) -> list[Any]:
    """Findings with their places as offsets."""

    def place(span: Span | None) -> Any:
        return None if span is None else (span.file.name, span.start, span.end, span.text)

    return [
        (
            item.rule, item.severity, item.message, place(item.span), [(label.message, place(label.span)) for label in item.related],
            item.remedy, item.parts, [(place(edit.span), edit.text, edit.safe) for edit in item.edits], item.accepted_because,
        )
        for item in found
    ]  # fmt: skip


def fresh(name: str, text: str, files: dict[str, str]) -> list[Any]:
    """The findings of a check that knows nothing of an earlier one."""
    return plain(check(SourceFile(name, text), MemoryFiles(files | {name: text})).findings)
