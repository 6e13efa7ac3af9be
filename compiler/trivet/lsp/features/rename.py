"""Renames a declared name in every file of the fixture."""

from __future__ import annotations

from trivet.diagnostics import Edit
from trivet.lsp.features.definition import references
from trivet.lsp.names import uses
from trivet.lsp.view import View
from trivet.source import SourceFile, Span
from trivet.syntax.nodes import Name
from trivet.syntax.parse import parse


class CannotRename(Exception):
    """Why a name cannot be given, in words for the author."""


def renamable(view: View, offset: int) -> Span | None:
    """The name at an offset if it can be renamed: one that a file of the fixture declares."""
    use = view.use_at(offset)
    return use.span if use is not None else None


def rename(view: View, offset: int, new: str) -> tuple[Edit, ...]:
    """The edits that rename the name at an offset. CannotRename where the new name is none, or is taken."""
    use = view.use_at(offset)
    if use is None:
        raise CannotRename("no declared name stands here")
    if new == use.name:
        return ()
    if not _is_name(new):
        raise CannotRename(f"`{new[:40]}` is no name: letters, digits and `_`, never a unit, a connecting word or a designation")
    if new in view.declared:
        raise CannotRename(f"`{new}` is declared already, as a {view.declared[new].kind}")
    if any(other.name == new for document in view.documents for other in uses(document)):
        raise CannotRename(f"`{new}` is used already, as something that is not declared")
    return tuple(Edit(span, new, safe=True) for span in references(view, offset))


def _is_name(text: str) -> bool:
    """Whether the text is one name where a name stands, as the parser has it."""
    document, found = parse(SourceFile("", f"board {text}\n"))
    if found or len(document.blocks) != 1 or "#" in text:
        return False
    phrases = document.blocks[0].heading.phrases
    items = phrases[0].items
    return len(phrases) == 1 and len(items) == 1 and isinstance(items[0], Name) and items[0].text == text and "." not in text
