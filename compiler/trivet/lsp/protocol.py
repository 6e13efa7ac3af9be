"""Answers to objects of the standard protocol, and the protocol's positions to offsets: the one door for lines and columns."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from lsprotocol import types

from trivet.diagnostics import Diagnostic, Edit, Severity
from trivet.lsp.answers import Action, Change, Choice, Coloured, Fold, Hint, Hover, Signature, Symbol
from trivet.lsp.positions import Positions
from trivet.source import SourceFile, Span

_SEVERITIES: dict[Severity, types.DiagnosticSeverity] = {
    "error": types.DiagnosticSeverity.Error,
    "warning": types.DiagnosticSeverity.Warning,
    "note": types.DiagnosticSeverity.Information,
}
_CHOICES = {
    "heading": types.CompletionItemKind.Class, "fact": types.CompletionItemKind.Property, "word": types.CompletionItemKind.EnumMember,
    "name": types.CompletionItemKind.Variable, "hardware": types.CompletionItemKind.Constant, "unit": types.CompletionItemKind.Unit,
    "rule": types.CompletionItemKind.Event, "value": types.CompletionItemKind.Value,
}  # fmt: skip
_SYMBOLS = {
    "fixture": types.SymbolKind.Module, "fact": types.SymbolKind.Property, "parameter": types.SymbolKind.Variable,
    "table": types.SymbolKind.Array, "read": types.SymbolKind.File, "require": types.SymbolKind.Event,
    "accept": types.SymbolKind.Event, "default": types.SymbolKind.Class,
}  # fmt: skip


class Door:
    """Conversions for one encoding of columns; `uri_of` gives a file's address."""

    def __init__(self, encoding: str, uri_of: Callable[[str], str]) -> None:
        self._encoding = encoding
        self._uri_of = uri_of
        self._last: tuple[SourceFile, Positions] | None = None

    def positions(self, file: SourceFile) -> Positions:
        """The positions of a file; those of the file asked for last are kept."""
        if self._last is None or self._last[0] is not file:
            self._last = (file, Positions(file.text, self._encoding))
        return self._last[1]

    def offset(self, file: SourceFile, position: types.Position) -> int:
        """The offset of a position."""
        return self.positions(file).offset(position.line, position.character)

    def range(self, file: SourceFile, start: int, end: int) -> types.Range:
        """The range of two offsets."""
        positions = self.positions(file)
        return types.Range(types.Position(*positions.of(start)), types.Position(*positions.of(end)))

    def span(self, span: Span) -> types.Range:
        """The range of a span in its own file."""
        return self.range(span.file, span.start, span.end)

    def location(self, span: Span) -> types.Location:
        """A span with its file's address."""
        return types.Location(self._uri_of(span.file.name), self.span(span))

    def diagnostic(self, item: Diagnostic) -> types.Diagnostic:
        """A finding: its remedy and the places without an address stand in the message, the others as related places."""
        lines = [f"accepted: {item.message}, because {item.accepted_because}" if item.accepted else item.message]
        lines += [label.message for label in item.related if label.span is None]
        if item.remedy:
            lines.append(f"remedy: {item.remedy}")
        if item.fault_of_ours:
            lines.append("this is a fault of trivet, not of the file")
        start = types.Position(0, 0)
        return types.Diagnostic(
            range=self.span(item.span) if item.span is not None else types.Range(start, start),
            message="\n".join(lines),
            severity=types.DiagnosticSeverity.Hint if item.accepted else _SEVERITIES[item.severity],
            code=item.rule,
            source="trivet",
            related_information=[
                types.DiagnosticRelatedInformation(self.location(label.span), label.message)
                for label in item.related
                if label.span is not None
            ],
        )

    def hover(self, file: SourceFile, found: Hover | None) -> types.Hover | None:
        """Markdown over a range."""
        return None if found is None else types.Hover(_markdown(found.text), self.range(file, found.start, found.end))

    def completions(self, file: SourceFile, found: Sequence[Choice]) -> types.CompletionList:
        """A whole list; its order is that of the answers."""
        return types.CompletionList(
            is_incomplete=False,
            items=[
                types.CompletionItem(
                    label=choice.label,
                    kind=_CHOICES[choice.kind],
                    detail=choice.detail or None,
                    documentation=_markdown(choice.about) if choice.about else None,
                    sort_text=f"{index:05d}",
                    filter_text=choice.label,
                    text_edit=types.TextEdit(self.range(file, choice.start, choice.end), choice.insert),
                )
                for index, choice in enumerate(found)
            ],
        )

    def symbols(self, found: Iterable[Symbol]) -> list[types.DocumentSymbol]:
        """The outline."""
        return [
            types.DocumentSymbol(
                name=symbol.name,
                detail=symbol.detail or None,
                kind=_SYMBOLS.get(symbol.kind, types.SymbolKind.Object),
                range=self.span(symbol.span),
                selection_range=self.span(symbol.name_span),
                children=self.symbols(symbol.children),
            )
            for symbol in found
        ]

    def folds(self, file: SourceFile, found: Iterable[Fold]) -> list[types.FoldingRange]:
        """Folded lines."""
        positions = self.positions(file)
        return [
            types.FoldingRange(
                start_line=positions.line_of(fold.start),
                end_line=positions.line_of(fold.end),
                kind=types.FoldingRangeKind.Comment if fold.comment else types.FoldingRangeKind.Region,
            )
            for fold in found
        ]

    def changes(self, file: SourceFile, found: Iterable[Change]) -> list[types.TextEdit]:
        """Edits of one file."""
        return [types.TextEdit(self.range(file, change.start, change.end), change.text) for change in found]

    def workspace_edit(self, edits: Iterable[Edit]) -> types.WorkspaceEdit:
        """Edits of any files."""
        changes: dict[str, list[types.TextEdit]] = {}
        for edit in edits:
            uri = self._uri_of(edit.span.file.name)
            changes.setdefault(uri, []).append(types.TextEdit(self.span(edit.span), edit.text))
        return types.WorkspaceEdit(changes=changes)

    def action(self, found: Action) -> types.CodeAction:
        """A quick fix with the finding that it mends."""
        return types.CodeAction(
            title=found.title,
            kind=types.CodeActionKind.QuickFix,
            diagnostics=[self.diagnostic(found.mends)],
            is_preferred=found.safe or None,
            edit=self.workspace_edit(found.edits),
        )

    def hints(self, file: SourceFile, found: Iterable[Hint]) -> list[types.InlayHint]:
        """Derived numbers behind lines."""
        positions = self.positions(file)
        return [
            types.InlayHint(
                position=types.Position(*positions.of(hint.offset)),
                label=hint.text,
                padding_left=True,
                tooltip=_markdown(hint.about) if hint.about else None,
            )
            for hint in found
        ]

    def tokens(self, file: SourceFile, found: Iterable[Coloured], kinds: Sequence[str]) -> types.SemanticTokens:
        """Tokens as the protocol packs them: each relative to the one before."""
        positions = self.positions(file)
        data: list[int] = []
        last = (0, 0)
        for token in found:
            line, column = positions.of(token.start)
            width = positions.of(token.end)[1] - column
            data += [line - last[0], column - (last[1] if line == last[0] else 0), width, kinds.index(token.kind), int(token.declares)]
            last = (line, column)
        return types.SemanticTokens(data=data)

    @staticmethod
    def signatures(found: Sequence[Signature]) -> types.SignatureHelp | None:
        """The forms of a fact."""
        if not found:
            return None
        return types.SignatureHelp(
            signatures=[
                types.SignatureInformation(
                    label=item.label,
                    documentation=_markdown(item.about) if item.about else None,
                    parameters=[types.ParameterInformation(label=_units(item.label, part)) for part in item.parameters],
                    active_parameter=item.active if item.active >= 0 else None,
                )
                for item in found
            ],
            active_signature=0,
            active_parameter=found[0].active if found[0].active >= 0 else None,
        )


def _units(label: str, part: tuple[int, int]) -> tuple[int, int]:
    """A range of a label in UTF-16, which labels always count in; ours are ASCII."""
    assert label.isascii()
    return part


def _markdown(text: str) -> types.MarkupContent:
    return types.MarkupContent(types.MarkupKind.Markdown, text)
