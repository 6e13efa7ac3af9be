"""Offsets to lines and columns, where a finding leaves the program."""

from __future__ import annotations

from trivet.record import record
from trivet.source import LineStarts, SourceFile, Span


@record
class Place:
    """A range in the file called `file`: 1-based lines, and columns in code points.

    The end is the first place after the range.
    """

    file: str
    line: int
    column: int
    end_line: int
    end_column: int


class Places:
    """Places of spans; the line starts of each file are found once."""

    def __init__(self) -> None:
        self._starts: dict[SourceFile, LineStarts] = {}

    def of(self, span: Span) -> Place:
        """The place of `span`."""
        if span.file not in self._starts:
            self._starts[span.file] = LineStarts(span.file.text)
        starts = self._starts[span.file]
        line, column = starts.line_and_column(span.start)
        end_line, end_column = starts.line_and_column(span.end)
        return Place(span.file.name, line, column, end_line, end_column)
