"""Formatting as edits of the space between tokens, for the whole file or for a part of it."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.fmt.format import format_text, meaning
from trivet.record import record
from trivet.source import SourceFile
from trivet.syntax.tokens import tokenize


@record
class SpaceEdit:
    """Replace the space at [start, end) by `text`."""

    start: int
    end: int
    text: str


def format_edits(file: SourceFile, start: int = 0, end: int | None = None) -> tuple[SpaceEdit, ...]:
    """The edits that format a file, in order; with a range those that lie in it whole.

    Each gap between two tokens is set or left as it is, so that any of the edits can be made without the others. Asserts that the
    tokens stay the same.
    """
    last = len(file.text) if end is None else end
    edits = tuple(edit for edit in _all(file) if start <= edit.start and edit.end <= last)
    assert meaning(SourceFile(file.name, applied(file.text, edits))) == meaning(file), "formatting changed more than space"
    return edits


def applied(text: str, edits: tuple[SpaceEdit, ...]) -> str:
    """The text with the edits made."""
    pieces, position = [], 0
    for edit in edits:
        pieces += [text[position : edit.start], edit.text]
        position = edit.end
    return "".join([*pieces, text[position:]])


def _all(file: SourceFile) -> Iterator[SpaceEdit]:
    new = SourceFile(file.name, format_text(file))
    for (start, old), (_, wanted) in zip(_gaps(file), _gaps(new), strict=True):
        yield from _gap(start, old, wanted)


def _gaps(file: SourceFile) -> list[tuple[int, str]]:
    """The space before each token that is none, and after the last: where it begins, and its text."""
    found: list[tuple[int, str]] = []
    start = 0
    for token in tokenize(file):
        if token.kind not in ("SPACE", "NEWLINE"):
            found.append((start, file.text[start : token.start]))
            start = token.end
    return [*found, (start, file.text[start:])]


def _gap(start: int, old: str, new: str) -> Iterator[SpaceEdit]:
    """The edits of one gap; where it holds line ends, what stands before, between and after them apart."""
    apart = "\n" in old and "\n" in new
    for was, wanted in zip(_parts(old), _parts(new), strict=True) if apart else ((old, new),):
        if was != wanted:
            yield SpaceEdit(start, start + len(was), wanted)
        start += len(was)


def _parts(gap: str) -> tuple[str, str, str]:
    """Space at the end of a line, the line ends with what is between them, the next line's indent."""
    first, last = gap.index("\n"), gap.rindex("\n") + 1
    first -= gap[first - 1 : first] == "\r"
    return gap[:first], gap[first:last], gap[last:]
