"""The outline of a file: its blocks, and the facts in each."""

from __future__ import annotations

from trivet.lsp.answers import Symbol
from trivet.lsp.view import View
from trivet.syntax.nodes import Block


def symbols(view: View) -> tuple[Symbol, ...]:
    """One symbol for each block, with one for each of its facts."""
    return tuple(_symbol(block) for block in view.document.blocks)


def _symbol(block: Block) -> Symbol:
    heading = block.heading
    kind = heading.word.text
    rest = heading.span.text[len(kind) :].strip()
    facts = tuple(
        Symbol(line.word.text, "fact", line.span.text[len(line.word.text) :].strip()[:80], line.span, line.word.span)
        for line in block.facts
    )
    return Symbol(rest or kind, kind, kind if rest else "", block.span, heading.span, facts)
