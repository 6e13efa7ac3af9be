"""A table of comma-separated values as cells that keep their place, as a spreadsheet may have saved it."""

from __future__ import annotations

from trivet.record import record
from trivet.source import SourceFile, Span

# What spreadsheets put between cells, by the language of the computer.
SEPARATORS = (",", ";", "\t")


@record
class Cell:
    """A cell's text without its quotes, and where it stands."""

    text: str
    span: Span


def cells_of(file: SourceFile) -> tuple[tuple[Cell, ...], ...]:
    """The lines of a file as cells (IETF RFC 4180); the separator is the one that the first line has most of. Empty lines are left out.

    Total: a quote that is never closed takes the rest of the file, and one within a bare cell is text.
    """
    text = file.text
    start = 1 if text.startswith("\ufeff") else 0
    first = text[start:].partition("\n")[0]
    separator = max(SEPARATORS, key=first.count)
    lines: list[tuple[Cell, ...]] = []
    line: list[Cell] = []
    at = start
    while at < len(text):
        cell, at = _cell(file, at, separator)
        line.append(cell)
        if at < len(text) and text[at] == separator:
            at += 1
            if at < len(text):
                continue
            line.append(Cell("", Span(file, at, at)))
        else:
            at += 2 if text.startswith("\r\n", at) else 1
        if any(item.text.strip() for item in line):
            lines.append(tuple(line))
        line = []
    return tuple(lines)


def _cell(file: SourceFile, start: int, separator: str) -> tuple[Cell, int]:
    """The cell that begins at an offset, and where it ends: at a separator, a line's end or the end of the file."""
    text, at = file.text, start
    if not text.startswith('"', start):
        while at < len(text) and text[at] != separator and text[at] not in "\r\n":
            at += 1
        return Cell(text[start:at], Span(file, start, at)), at
    found: list[str] = []
    at += 1
    while at < len(text):
        if text[at] == '"':
            if not text.startswith('""', at):
                break
            at += 1
        found.append(text[at])
        at += 1
    at = min(at + 1, len(text))
    end = at
    # Whatever follows a closing quote in its cell is kept, so that nothing is lost unseen.
    while at < len(text) and text[at] != separator and text[at] not in "\r\n":
        at += 1
    return Cell("".join(found) + text[end:at], Span(file, start, at)), at
