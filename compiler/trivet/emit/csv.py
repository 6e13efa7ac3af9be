"""CSV: rows as comma-separated values that open cleanly in spreadsheets.

Quoting and CRLF line ends: IETF RFC 4180. A byte order mark leads, as spreadsheets otherwise take UTF-8 for an older
encoding and spoil the multiplication and diameter signs.
"""

from __future__ import annotations

import csv as standard
import io
import re

from trivet.emit.numbers import number
from trivet.emit.printable import printable
from trivet.tables.rows import Cell, Rows

# A spreadsheet runs a cell that starts so as a formula; leading spaces do not always protect.
_FORMULA = re.compile(r"[\t\r]|\s*[=+\-@]")
_PLAIN_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?")


def csv(rows: Rows) -> bytes:
    """A heading line and one line per row; title and notes are left out, so that every line is a record."""
    stream = io.StringIO(newline="")
    writer = standard.writer(stream, lineterminator="\r\n")
    writer.writerow([_text(column.heading) for column in rows.columns])
    writer.writerows([_cell(cell) for cell in row] for row in rows.rows)
    return b"\xef\xbb\xbf" + stream.getvalue().encode("utf-8")


def _cell(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return _text(cell)
    return number(cell)


def _text(text: str) -> str:
    shown = printable(text, keep="\t\r\n")
    if _FORMULA.match(shown) and not _PLAIN_NUMBER.fullmatch(shown):
        return f"'{shown}"
    return shown
