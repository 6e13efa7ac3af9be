"""Source text and places in it: everything below the reports speaks in offsets."""

from __future__ import annotations

from bisect import bisect_right

from trivet.record import record


@record(eq=False)
class SourceFile:
    """A file's name as shown to the user, and its text with line ends as they stand."""

    name: str
    text: str

    def __repr__(self) -> str:
        return f"SourceFile({self.name!r}, {len(self.text)} characters)"


@record
class Span:
    """The half-open range of code points [start, end) in `file`."""

    file: SourceFile
    start: int
    end: int

    def __post_init__(self) -> None:
        assert 0 <= self.start <= self.end <= len(self.file.text), (self.start, self.end, self.file)

    @property
    def text(self) -> str:
        """The characters covered."""
        return self.file.text[self.start : self.end]

    def to(self, other: Span) -> Span:
        """From the start of this span to the end of `other` in the same file."""
        return Span(self.file, min(self.start, other.start), max(self.end, other.end))


@record
class LibraryRow:
    """Where a value from a table comes from.

    `status` is one of found, partly_found, from_memory, derived, derived_from_memory, or measured for a user's table.
    """

    table: str
    key: str
    source: str
    status: str
    span: Span | None = None


Origin = Span | LibraryRow


class LineStarts:
    """Line starts of one text: offsets to lines and columns, made only where a report leaves the program."""

    def __init__(self, text: str) -> None:
        starts = [0]
        position = text.find("\n")
        while position >= 0:
            starts.append(position + 1)
            position = text.find("\n", position + 1)
        self._starts = starts
        self._text = text

    def line_and_column(self, offset: int) -> tuple[int, int]:
        """1-based line, and 1-based column in code points."""
        index = bisect_right(self._starts, offset) - 1
        return index + 1, offset - self._starts[index] + 1

    def line_text(self, line: int) -> str:
        """The text of a 1-based line without its line end."""
        start = self._starts[line - 1]
        end = self._starts[line] if line < len(self._starts) else len(self._text)
        return self._text[start:end].rstrip("\r\n")
