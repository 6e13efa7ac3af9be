"""Colours of a file's tokens by what they mean: a name is a name even where it is spelled like a fact."""

from __future__ import annotations

from trivet.lower.forms import Slot
from trivet.lsp.answers import Coloured
from trivet.lsp.lines import Piece, block_form, fact_form, heading_form, pieces
from trivet.lsp.names import default_for
from trivet.lsp.view import View
from trivet.syntax.nodes import Connective, Name
from trivet.syntax.tokens import tokenize

# The token types used, by the names of the standard protocol.
TYPES = ("keyword", "property", "variable", "number", "string", "comment", "operator", "enumMember", "type", "macro")
_BY_TOKEN = {
    "COMMENT": "comment", "STRING": "string", "NUMBER": "number", "UNIT": "type", "STANDARD": "enumMember",
    "DESIGNATION": "enumMember", "RULE_NAME": "macro", "COMPARATOR": "operator", "RANGE": "operator", "PLUS_MINUS": "operator",
    "PLUS": "operator", "MINUS": "operator", "NEGATIVE": "operator", "STAR": "operator", "SLASH": "operator",
    "CONNECTIVE": "keyword",
}  # fmt: skip


def coloured(view: View) -> tuple[Coloured, ...]:
    """Every token that has a meaning, in order."""
    words = _words(view)
    found = []
    for token in tokenize(view.file):
        kind, declares = words.get(token.start, (_BY_TOKEN.get(token.kind, ""), False))
        if token.kind == "NAME" and not kind:
            kind = "variable"
        if kind:
            found.append(Coloured(token.start, token.end, kind, declares))
    return tuple(found)


def _words(view: View) -> dict[int, tuple[str, bool]]:
    """What the words and names of good lines mean, by offset."""
    found: dict[int, tuple[str, bool]] = {}
    for block in view.document.blocks:
        kind = block.heading.word.text
        known = block_form(kind) is not None
        found[block.heading.word.span.start] = ("keyword" if known else "variable", False)
        for piece in pieces(heading_form(kind), block.heading, heading=True):
            _piece(piece, found)
        for line in block.facts:
            found[line.word.span.start] = ("property", False)
            for piece in pieces(fact_form(kind, line.word.text, default_for(block)), line, heading=False):
                _piece(piece, found)
    return found


def _piece(piece: Piece, found: dict[int, tuple[str, bool]]) -> None:
    item, element = piece.item, piece.element
    if not isinstance(item, (Name, Connective)):
        return
    if isinstance(element, str) or (isinstance(element, Slot) and "|" in element.kind):
        found[item.span.start] = ("enumMember" if isinstance(item, Name) else "keyword", False)
    elif isinstance(element, Slot) and element.kind == "rule":
        found[item.span.start] = ("macro", False)
    elif isinstance(item, Name):
        found[item.span.start] = ("variable", piece.declares)
