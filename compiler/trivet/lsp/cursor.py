"""Where the cursor is in a line that may be half written: its block, the items before it, the word under it."""

from __future__ import annotations

import re

from trivet.record import record
from trivet.source import SourceFile
from trivet.syntax.nodes import Item
from trivet.syntax.parse import parse
from trivet.syntax.tokens import Token, token_lines

_WORD = re.compile(r"[\w./-]*\Z")
_BODIES = frozenset({"ISO", "DIN", "EN", "ASME"})
_OPERATORS = frozenset({"PLUS", "MINUS", "STAR", "SLASH", "NEGATIVE"})


@record
class Cursor:
    """`block`: the word of the heading above (empty at a margin line), `default_for`: the kind where that is a `default`.

    `stated`: the words of the block's other facts. `word`: the line's first word, empty while that is being written. `before`: the
    items of the phrase at the cursor that are complete, None where they cannot be parsed; `phrase` counts commas. `start` to `end`
    is what a choice replaces. `inside`: in a text, in a comment, in a bracket or behind an operator, else empty.
    """

    block: str
    default_for: str
    heading_line: str
    stated: tuple[str, ...]
    indented: bool
    word: str
    before: tuple[Item, ...] | None
    phrase: int
    start: int
    end: int
    typed: str
    inside: str


def cursor(text: str, offset: int) -> Cursor:
    """The cursor's place; total."""
    line_start = text.rfind("\n", 0, offset) + 1
    line_end = text.find("\n", offset)
    line = text[line_start : len(text) if line_end < 0 else line_end]
    cut = offset - line_start
    tokens = [token for found in token_lines(SourceFile("", line[:cut])) for token in found.tokens]
    indented = line[:1] in (" ", "\t")
    head, stated = _block(text, line_start, line_end) if indented else ("", ())
    words = head.split()
    block = words[0] if words else ""
    default_for = words[1] if block == "default" and len(words) > 1 else ""
    inside = "comment" if any(token.kind == "COMMENT" for token in tokens) else "text" if tokens and tokens[-1].kind == "UNCLOSED_STRING" else ""
    items = [token for token in tokens if token.kind not in ("SPACE", "BYTE_MARK", "COMMENT", "NEWLINE")]
    start = line_start + _word_start(line[:cut], items, inside)
    while items and items[-1].end > start - line_start:
        items.pop()
    typed = text[start:offset]
    first = items[0].text if items else ""
    if not inside and items:
        opened = sum((item.kind == "OPEN") - (item.kind == "CLOSE") for item in items)
        inside = "bracket" if opened > 0 else "operator" if items[-1].kind in _OPERATORS else ""
    before, phrase = _before(line, items)
    return Cursor(block, default_for, head, stated, indented, first, before, phrase, start, max(offset, start), typed, inside)


def _word_start(written: str, items: list[Token], inside: str) -> int:
    """Where the word begins that is being written: a name with its points, a designation, a standard with its number."""
    if inside == "text" and items:
        return items[-1].start + 1
    match = _WORD.search(written)
    start = match.start() if match else len(written)
    before = [item for item in items if item.end <= start]
    if before and (before[-1].kind == "STANDARD" or before[-1].text in _BODIES):
        return before[-1].start
    return next((item.start for item in items if item.kind == "STANDARD" and item.start <= start < item.end), start)


def _before(line: str, items: list[Token]) -> tuple[tuple[Item, ...] | None, int]:
    """The complete items of the phrase that the cursor is in, and the number of that phrase."""
    phrase = depth = begin = 0
    for index, item in enumerate(items):
        depth += (item.kind == "OPEN") - (item.kind == "CLOSE")
        if item.kind == "COMMA" and depth <= 0:
            phrase, begin = phrase + 1, index + 1
    inner = items[begin:] if phrase else items[1:]
    if not inner:
        return (), phrase
    document, found = parse(SourceFile("", f"w {line[inner[0].start : inner[-1].end]}"))
    if found or not document.blocks:
        return None, phrase
    return document.blocks[0].heading.phrases[0].items, phrase


def _block(text: str, line_start: int, line_end: int) -> tuple[str, tuple[str, ...]]:
    """The heading above a line, and the first words of the block's other facts."""
    stated: list[str] = []
    heading = ""
    for line in reversed(text[:line_start].split("\n")[:-1]):
        if line[:1] in (" ", "\t", "") or line.startswith("#") or not line.strip():
            stated += line.split()[:1]
            continue
        heading = line
        break
    for line in text[line_end + 1 :].split("\n") if line_end >= 0 else ():
        if line.strip() and line[:1] not in (" ", "\t"):
            break
        stated += line.split()[:1]
    return heading.split(" #")[0].rstrip(), tuple(word for word in stated if word != "#")
