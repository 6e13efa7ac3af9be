"""Where names are declared and used in a document."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from trivet.lower.forms import Slot
from trivet.lsp.lines import fact_form, heading_form, pieces
from trivet.record import record
from trivet.source import Span
from trivet.syntax.nodes import Block, Bracket, Document, Line, Name, Negative, PlusMinus, Product, Range, Sum


@record(eq=False)
class Declared:
    """A name with what it is declared as and where."""

    name: str
    kind: str
    span: Span
    block: Block


@record
class Use:
    """A place where a name stands; `declares` where that is its declaration."""

    name: str
    span: Span
    declares: bool


def default_for(block: Block) -> str:
    """The kind that a `default` block is for; empty for other blocks."""
    items = block.heading.phrases[0].items
    return items[0].text if block.heading.word.text == "default" and items and isinstance(items[0], Name) else ""


def declared(documents: Iterable[Document]) -> dict[str, Declared]:
    """Every declared name, the first declaration of each."""
    found: dict[str, Declared] = {}
    for document in documents:
        for block in document.blocks:
            kind = block.heading.word.text
            for piece in pieces(heading_form(kind), block.heading, heading=True):
                if piece.declares and isinstance(piece.item, Name):
                    found.setdefault(piece.item.text, Declared(piece.item.text, kind, piece.item.span, block))
    return found


def uses(document: Document) -> Iterator[Use]:
    """Every place where something stands that may be a name, in the order of the file."""
    for block in document.blocks:
        kind = block.heading.word.text
        yield from _in_line(block.heading, kind, "", "", True)
        for line in block.facts:
            yield from _in_line(line, kind, line.word.text, default_for(block), False)


def _in_line(line: Line, kind: str, word: str, default: str, heading: bool) -> Iterator[Use]:
    form = heading_form(kind) if heading else fact_form(kind, word, default)
    for piece in pieces(form, line, heading):
        item, element = piece.item, piece.element
        if isinstance(element, str) or (isinstance(element, Slot) and ("|" in element.kind or element.kind in ("rule", "column"))):
            continue
        if isinstance(item, Name):
            if not (isinstance(element, Slot) and element.kind == "standard"):
                yield from _segments(item, piece.declares, isinstance(element, Slot) and element.kind == "path")
        else:
            for name in _names_in(item):
                yield from _segments(name, False, False)


def _segments(name: Name, declares: bool, path: bool) -> Iterator[Use]:
    """The first part of a dotted name; in a path each part, since a set's part is named by its gear."""
    start = name.span.start
    for part in name.text.split(".") if path else name.text.split(".")[:1]:
        yield Use(part, Span(name.span.file, start, start + len(part)), declares)
        start += len(part) + 1


def _names_in(node: Any) -> Iterator[Name]:
    match node:
        case Name():
            yield node
        case Negative():
            yield from _names_in(node.of)
        case Sum() | Product():
            yield from _names_in(node.first)
            for _, part in node.rest:
                yield from _names_in(part)
        case Bracket():
            for member in node.members:
                yield from _names_in(member)
        case Range():
            yield from _names_in(node.low)
            yield from _names_in(node.high)
        case PlusMinus():
            if node.middle is not None:
                yield from _names_in(node.middle)
            yield from _names_in(node.deviation)
        case _:
            return
