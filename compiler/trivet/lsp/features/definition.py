"""Where a name is declared and used."""

from __future__ import annotations

from trivet.files import Files
from trivet.lsp.names import uses
from trivet.lsp.view import View
from trivet.source import SourceFile, Span
from trivet.syntax.nodes import Text


def definition(view: View, offset: int, files: Files | None = None) -> Span | None:
    """Where the name at an offset is declared; for the file named by `read`, its start."""
    use = view.use_at(offset)
    if use is not None:
        return view.declared[use.name].span
    held = view.statement_at(offset)
    if held is None or held[0].heading.word.text != "read" or files is None:
        return None
    item = next((item for item in held[1].phrases[0].items if isinstance(item, Text)), None)
    if item is None:
        return None
    found = files.read_beside(view.file.name, item.value, span=item.span)
    return Span(found, 0, 0) if isinstance(found, SourceFile) else None


def references(view: View, offset: int, declaration: bool = True) -> tuple[Span, ...]:
    """Every place in the fixture's files where the name at an offset stands, in order."""
    use = view.use_at(offset)
    if use is None:
        return ()
    documents = {document.file.name: document for document in (*view.documents, view.document)}
    return tuple(
        other.span
        for name in sorted(documents)
        for other in uses(documents[name])
        if other.name == use.name and (declaration or not other.declares)
    )
