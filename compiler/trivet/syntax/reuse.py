"""Parsing again after an edit: lines whose text was read before are moved to their new place, not read again."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.diagnostics import Diagnostic
from trivet.record import record
from trivet.source import SourceFile
from trivet.syntax.moved import moved
from trivet.syntax.neighbours import MOST_ITEMS
from trivet.syntax.nodes import Document, Line
from trivet.syntax.parse import MOST_BROKEN_LINES, MOST_CHARACTERS, MOST_LINES, LineReader, blocks_of, parse
from trivet.syntax.tokens import token_lines


@record(eq=False)
class _Known:
    """A line as read: its node (None for a line without items), and the offset at which it was read."""

    line: Line | None
    indented: bool
    start: int


class _TooMuch(Exception):
    """The file is at a limit: it is read as a whole."""


class Statements:
    """The lines of the last text that was parsed, by their text. The result is always that of `parse`."""

    def __init__(self) -> None:
        self._known: dict[str, _Known] = {}

    def parse(self, file: SourceFile) -> tuple[Document, tuple[Diagnostic, ...]]:
        """As `syntax.parse.parse`; the cost is that of the lines that are new, and a little for each other one."""
        text = file.text
        if len(text) > MOST_CHARACTERS or text.count("\n") >= MOST_LINES:
            return parse(file)
        found: list[Diagnostic] = []
        kept: dict[str, _Known] = {}
        try:
            document = Document(file, *blocks_of(self._lines(file, found, kept), found))
        except _TooMuch:
            return parse(file)
        # Only lines of this text stay, so that what is kept is never more than the file.
        self._known = kept
        return document, tuple(found)

    def _lines(self, file: SourceFile, found: list[Diagnostic], kept: dict[str, _Known]) -> Iterator[tuple[bool, Line | None]]:
        known = self._known
        reader = LineReader(file)
        position = broken = 0
        for text in _split(file.text):
            start, position = position, position + len(text)
            old = kept.get(text) or known.get(text)
            if old is not None:
                kept[text] = old
                if old.line is not None:
                    yield old.indented, moved(old.line, file, start - old.start)
                continue
            line = next(token_lines(file, MOST_ITEMS + 1, start, position), None)
            if line is None:
                continue
            node, fault = reader.read_line(line)
            if fault is not None:
                broken += 1
                if broken == MOST_BROKEN_LINES:
                    raise _TooMuch
                found.append(reader.explained(line, fault))
            elif not text.startswith("\ufeff"):
                # A byte order mark has its meaning at the start of the file alone.
                kept[text] = _Known(node, line.indented, start)
            if line.items:
                yield line.indented, node


def _split(text: str) -> Iterator[str]:
    """The lines with their line ends, at LF alone, as the lexer has them."""
    start = 0
    while (end := text.find("\n", start) + 1) > 0:
        yield text[start:end]
        start = end
    if start < len(text):
        yield text[start:]
