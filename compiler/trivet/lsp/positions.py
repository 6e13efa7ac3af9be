"""The door between offsets and an editor's positions: lines from 0, columns from 0 in code units of the agreed encoding.

The standard protocol ends a line at LF, CR LF or CR alone, and counts columns in UTF-16 unless another encoding is agreed.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable

_LINE_ENDS = re.compile(r"\r\n|\n|\r")


def _utf8(text: str) -> int:
    return len(text.encode("utf-8", "surrogatepass"))


def _utf16(text: str) -> int:
    return len(text) if text.isascii() else len(text) + sum(letter > "\uffff" for letter in text)


# Code units of a text by the protocol's name of the encoding.
UNITS: dict[str, Callable[[str], int]] = {"utf-8": _utf8, "utf-16": _utf16, "utf-32": len}


class Positions:
    """Offsets (code points) of one text to (line, column) and back; places beyond a line's or the text's end are its end."""

    def __init__(self, text: str, encoding: str = "utf-16") -> None:
        self._text = text
        self._units = UNITS[encoding]
        ends = [(match.start(), match.end()) for match in _LINE_ENDS.finditer(text)]
        self._starts = [0, *(end for _, end in ends)]
        self._ends = [*(start for start, _ in ends), len(text)]

    def of(self, offset: int) -> tuple[int, int]:
        """The line and column of an offset; between CR and LF it is the line's end."""
        line = bisect_right(self._starts, offset) - 1
        start = self._starts[line]
        return line, self._units(self._text[start : min(offset, self._ends[line])])

    def offset(self, line: int, column: int) -> int:
        """The offset of a line and column; a column inside a character is the place before it."""
        if line >= len(self._starts):
            return len(self._text)
        start, end = self._starts[line], self._ends[line]
        text = self._text[start:end]
        if text.isascii():
            return min(start + column, end)
        units = 0
        for index, letter in enumerate(text):
            units += self._units(letter)
            if units > column:
                return start + index
        return end

    def line_of(self, offset: int) -> int:
        """The line of an offset, from 0."""
        return bisect_right(self._starts, offset) - 1

    def line_range(self, line: int) -> tuple[int, int]:
        """The start of a line and its end before the line end."""
        line = min(line, len(self._starts) - 1)
        return self._starts[line], self._ends[line]


def changed(text: str, start: tuple[int, int], end: tuple[int, int], new: str, encoding: str = "utf-16") -> str:
    """The text with the range between two positions replaced; a range that runs backwards is taken the right way round."""
    positions = Positions(text, encoding)
    first, last = sorted((positions.offset(*start), positions.offset(*end)))
    return text[:first] + new + text[last:]
