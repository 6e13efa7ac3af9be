"""Lines of tokens to nodes: one diagnostic for each broken line, the good lines kept; no text makes it raise."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache

from trivet.diagnostics import Diagnostic
from trivet.source import SourceFile, Span
from trivet.syntax.build import builders
from trivet.syntax.driver import Stopped, drive
from trivet.syntax.explain import explain
from trivet.syntax.fault import Fault
from trivet.syntax.hidden import hidden_fault
from trivet.syntax.neighbours import MOST_ITEMS, first_fault
from trivet.syntax.nodes import Block, Document, Line, Name, Phrase
from trivet.syntax.stopped import stopped_fault
from trivet.syntax.table import table
from trivet.syntax.tokens import Token, TokenLine, token_lines

MOST_CHARACTERS = 1_000_000
# A fixture of a thousand gears has a tenth of this; a longer file is something else.
MOST_LINES = 20_000
# After so many broken lines the file is something else than a fixture, and reading stops.
MOST_BROKEN_LINES = 200

_WORDS = frozenset({"NAME", "CONNECTIVE", "UNIT"})


class LineReader:
    """Reads the lines of one file, one at a time."""

    def __init__(self, file: SourceFile) -> None:
        self.file = file
        self.table = table()
        self.builders = builders(file)
        self._hidden = _hidden().search(file.text, 1 if file.text.startswith("\ufeff") else 0) is not None

    def read_line(self, line: TokenLine) -> tuple[Line | None, Fault | None]:
        """The node of a line, None where it has no items or is broken, and what is wrong with it."""
        fault = hidden_fault(self.file, line, _hidden()) if self._hidden else None
        if not line.items:
            return None, fault
        read = self.read(line)
        if not isinstance(read, Line):
            return None, fault or read
        return (read if fault is None or _in_comment(line, fault) else None), fault

    def explained(self, line: TokenLine, fault: Fault) -> Diagnostic:
        """The one diagnostic of a broken line."""
        return explain(self.file, line, fault, _find)

    def read(self, line: TokenLine) -> Line | Fault:
        """The node of a line that has items, or the first fault in it."""
        items = line.items
        if not line.complete:
            last = items[-1]
            message = f"this line has more than {MOST_ITEMS:,} items"
            return Fault("limit-exceeded", last.start, last.end, message, hint="split it over several facts")
        fault = first_fault(items)
        if fault is not None:
            return fault
        first = items[0]
        if first.kind not in _WORDS:
            message = f"a line starts with a word, not with `{first.shown}`"
            return Fault("unexpected-item", first.start, first.end, message, hint="write the fact's word first")
        word = Name(first.text, Span(self.file, first.start, first.end))
        if len(items) == 1:
            empty = Phrase((), Span(self.file, first.end, first.end))
            return Line(word, (empty,), word.span)
        rest = items[1:]
        found = drive(self.table, _kinds(items), rest, self.builders)
        if isinstance(found, Stopped):
            return stopped_fault(items, found)
        return Line(word, tuple(found), Span(self.file, first.start, items[-1].end))


def parse(file: SourceFile) -> tuple[Document, tuple[Diagnostic, ...]]:
    """The document and what is wrong with it. Linear in the text; never raises on any text."""
    if len(file.text) > MOST_CHARACTERS:
        message = f"the file has {len(file.text):,} characters; {MOST_CHARACTERS:,} are allowed"
        remedy = "split it and join the parts with `read`"
        return Document(file, (), 0), (Diagnostic("file-too-large", "error", message, Span(file, 0, 0), remedy=remedy),)
    found: list[Diagnostic] = []
    document = Document(file, *blocks_of(_lines(file, found), found))
    return document, tuple(found)


def blocks_of(lines: Iterable[tuple[bool, Line | None]], found: list[Diagnostic]) -> tuple[tuple[Block, ...], int]:
    """Blocks, and how many headings are broken; of each line that has items it is given whether it is indented, and its node."""
    blocks: list[Block] = []
    heading: Line | None = None
    facts: list[Line] = []
    broken = seen_heading = homeless = False
    broken_headings = 0

    def close() -> None:
        if heading is not None:
            end = facts[-1] if facts else heading
            blocks.append(Block(heading, tuple(facts), broken, heading.span.to(end.span)))

    for indented, result in lines:
        if not indented:
            close()
            heading, facts, broken, seen_heading = result, [], False, True
            broken_headings += result is None
        elif not seen_heading:
            # One message for all of them, and none where the line has a fault of its own.
            if result is not None and not homeless:
                homeless = True
                message = f"`{result.word.text}` is indented, and no heading stands above it"
                remedy = "write a heading such as `board deck` at the margin above it, or move it to the margin"
                found.append(Diagnostic("fact-before-heading", "error", message, result.word.span, remedy=remedy))
        elif result is None:
            broken = True
        else:
            facts.append(result)
    close()
    return tuple(blocks), broken_headings


def _lines(file: SourceFile, found: list[Diagnostic]) -> Iterator[tuple[bool, Line | None]]:
    """Each line that has items: whether it is indented, and its node or None where it is broken."""
    reader = LineReader(file)
    broken = 0
    for number, line in enumerate(token_lines(file, MOST_ITEMS + 1), start=1):
        if number > MOST_LINES:
            message = f"the file has more than {MOST_LINES:,} lines that are not empty; reading stops here"
            remedy = "split it and join the parts with `read`"
            found.append(Diagnostic("limit-exceeded", "error", message, Span(file, line.start, line.start + 1), remedy=remedy))
            return
        result, fault = reader.read_line(line)
        if fault is not None:
            broken += 1
            if broken < MOST_BROKEN_LINES:
                found.append(reader.explained(line, fault))
            elif broken == MOST_BROKEN_LINES:
                message = f"this is broken line number {MOST_BROKEN_LINES:,}; reading stops here"
                found.append(Diagnostic("limit-exceeded", "error", message, Span(file, fault.start, fault.end)))
                return
        if line.items:
            yield line.indented, result


def _find(other: SourceFile, line: TokenLine) -> Fault | None:
    result = hidden_fault(other, line, _hidden()) or LineReader(other).read(line)
    return result if isinstance(result, Fault) else None


def _kinds(items: tuple[Token, ...]) -> list[str]:
    """The kinds of all items but the first; a unit that follows neither a number nor a bracket stands alone."""
    kinds = [item.kind for item in items]
    for index, kind in enumerate(kinds):
        if kind == "UNIT" and (index < 2 or kinds[index - 1] not in ("NUMBER", "CLOSE")):
            kinds[index] = "LONE_UNIT"
    return kinds[1:]


def _in_comment(line: TokenLine, fault: Fault) -> bool:
    return any(token.kind == "COMMENT" and token.start <= fault.start for token in line.tokens)


@cache
def _hidden() -> re.Pattern[str]:
    from trivet.syntax.hidden import HIDDEN

    return re.compile(HIDDEN)
