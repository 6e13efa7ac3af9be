"""What the thing under the cursor is: its value, how that comes about, and where it is from."""

from __future__ import annotations

from trivet.lower.forms import Slot
from trivet.lsp.answers import Hover
from trivet.lsp.features.numbers import about_numbers, quantities_at
from trivet.lsp.hardware import about_standard, block_thread, catalog, find_thread, size_text, source, whole_standard
from trivet.lsp.lines import Piece, fact_form, heading_form, pieces, shown
from trivet.lsp.names import default_for
from trivet.lsp.view import View
from trivet.source import Span
from trivet.syntax.nodes import Block, Line, Name, RuleName, Standard
from trivet.tables.wording import thread_text


def hover(view: View, offset: int) -> Hover | None:
    """About the word, name, value, hardware or rule at an offset; None where nothing is known."""
    held = view.statement_at(offset)
    if held is None:
        return None
    block, line = held
    if line.word.span.start <= offset <= line.word.span.end:
        return _word(view, block, line)
    piece = next((item for item in _pieces(block, line) if item.item.span.start <= offset <= item.item.span.end), None)
    if piece is None:
        return None
    use = view.use_at(offset)
    span = use.span if use is not None else piece.item.span
    parts = [
        _name(view, use.name) if use is not None else "",
        _hardware(view, block, line, piece),
        _rule(piece),
        about_numbers(view, quantities_at(view, block, line)),
    ]
    text = "\n\n---\n\n".join(part for part in parts if part)
    return Hover(text, span.start, span.end) if text else _word(view, block, line)


def _pieces(block: Block, line: Line) -> tuple[Piece, ...]:
    kind = block.heading.word.text
    if line is block.heading:
        return pieces(heading_form(kind), line, heading=True)
    return pieces(fact_form(kind, line.word.text, default_for(block)), line, heading=False)


def _word(view: View, block: Block, line: Line) -> Hover | None:
    kind, word = block.heading.word.text, line.word.text
    heading = line is block.heading
    form = heading_form(kind) if heading else fact_form(kind, word, default_for(block))
    if form is None:
        return None
    takes = " or ".join(f"`{f'{word} {shown(head)}'.strip()}`" for head in form.heads)
    text = [f"{takes}" + (f"; then {', '.join(f'`{shown(detail)}`' for detail in form.details)}" if form.details else "")]
    if form.example:
        text.append(f"for example `{form.example}`")
    numbers = about_numbers(view, quantities_at(view, block, line))
    body = "\n\n---\n\n".join(["\n\n".join(text), *([numbers] if numbers else [])])
    return Hover(body, line.word.span.start, line.word.span.end)


def _name(view: View, name: str) -> str:
    held = view.declared[name]
    lines = [held.block.heading.span.text, *(f"  {line.span.text}" for line in held.block.facts[:12])]
    if len(held.block.facts) > 12:
        lines.append("  …")
    where = "" if held.span.file.name == view.file.name else f" in `{held.span.file.name.rpartition('/')[2]}`"
    return f"{held.kind} `{name}`{where}\n\n```trivet\n" + "\n".join(lines) + "\n```"


def _hardware(view: View, block: Block, line: Line, piece: Piece) -> str:
    item = piece.item
    tables = catalog(view)
    if size := size_text(item):
        thread = find_thread(tables, size)
        return f"{thread_text(thread)}\n\n{source(thread.origin)}" if thread is not None else ""
    unit = "in" if any(found.text == "inch" for found in _system(view)) else "mm"
    if isinstance(item, Standard):
        word = block.heading.word.text if line is block.heading else line.word.text
        named = next((whole_standard(phrase.items, item) for phrase in line.phrases if item in phrase.items), item.text)
        return about_standard(tables, word, named, find_thread(tables, block_thread(block)), unit)
    if isinstance(item, Name) and isinstance(piece.element, Slot) and piece.element.name == "table":
        rows = [table for table in tables.tables("insert") if table.name == item.text]
        return f"{rows[0].source}\n\nrows: {', '.join(row.key for row in rows[0].rows)}" if rows else ""
    return ""


def _system(view: View) -> list[Span]:
    return [
        line.phrases[0].span
        for document in view.documents
        for block in document.blocks
        if block.heading.word.text == "fixture"
        for line in block.facts
        if line.word.text == "hardware"
    ]


def _rule(piece: Piece) -> str:
    if not isinstance(piece.item, RuleName):
        return ""
    from trivet.rules import all_rules

    rule = all_rules().get(piece.item.text)
    return f"**{rule.slug}** ({rule.severity}): {rule.what}\n\n{rule.why}\n\nsource: {rule.source}" if rule is not None else ""
