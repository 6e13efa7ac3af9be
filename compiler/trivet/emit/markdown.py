"""Markdown: rows as a table to read, with pipes, as in the usual table extension."""

from __future__ import annotations

import re

from trivet.emit.numbers import number
from trivet.emit.printable import printable
from trivet.tables.rows import Cell, Rows

_MARKS = re.compile(r"[\\`*_\[\]~|]")
_BLOCK_START = re.compile(r"([#+-]+|[0-9]+(?=[.)]))(?=[.) ]|$)")


def markdown(rows: Rows, level: int = 2) -> bytes:
    """The title as a heading of this level, the table, and the notes as a list; ends with one line break."""
    lines = [f"{'#' * level} {escaped(rows.title)}", ""]
    lines.append(_line([escaped(column.heading) for column in rows.columns]))
    lines.append(_line([_rule(rows, index) for index, _ in enumerate(rows.columns)]))
    lines.extend(_line([_cell(cell) for cell in row]) for row in rows.rows)
    if rows.notes:
        lines.extend(["", *(f"- {_note(note)}" for note in rows.notes)])
    return ("\n".join(lines) + "\n").encode("utf-8")


def escaped(text: str) -> str:
    """The text so that it reads as itself: marks escaped, HTML as entities, on one line."""
    plain = printable(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return _MARKS.sub(lambda mark: "\\" + mark.group(), plain)


def _note(note: str) -> str:
    text = escaped(note.strip())
    start = _BLOCK_START.match(text)
    if start is None:
        return text
    # A leading mark would start a heading or a list inside the list.
    marks = start.group()
    return f"{marks}\\{text[len(marks) :]}" if marks[0].isdigit() else f"\\{text}"


def _cell(cell: Cell) -> str:
    if cell is None:
        return ""
    return escaped(cell) if isinstance(cell, str) else number(cell)


def _rule(rows: Rows, index: int) -> str:
    cells = [row[index] for row in rows.rows if row[index] is not None]
    figures = bool(cells) and all(isinstance(cell, int | float) for cell in cells)
    return "---:" if figures else "---"


def _line(cells: list[str]) -> str:
    return f"| {' | '.join(cells)} |"
