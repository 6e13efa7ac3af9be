"""Text to tokens and tokens to lines: every text is accepted, and its tokens joined are the text again."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.record import record
from trivet.source import SourceFile

# Kinds that stand between items and reach no rule of the grammar.
SPACING = frozenset({"SPACE", "COMMENT", "NEWLINE", "BYTE_MARK"})
# Kinds that are never right.
WRONG = frozenset({"ERROR", "UNCLOSED_STRING", "GLUED_STANDARD", "WRONG_COMPARATOR", "LONG_RANGE"})


@record
class Token:
    """A piece of the text: `kind` is a terminal of the grammar, `start` its offset in code points."""

    kind: str
    text: str
    start: int

    @property
    def end(self) -> int:
        """The offset after it."""
        return self.start + len(self.text)

    @property
    def shown(self) -> str:
        """The text as a message quotes it: its first 30 characters."""
        return self.text if len(self.text) <= 30 else self.text[:29] + "…"


@record
class TokenLine:
    """One line: its tokens with the line end, and those of them that are items.

    `indented` says that space precedes the first item or comment. `complete` is False where the line held more items than were
    asked for; the tokens after them are then left out.
    """

    tokens: tuple[Token, ...]
    items: tuple[Token, ...]
    indented: bool
    complete: bool
    start: int


def tokenize(file: SourceFile) -> tuple[Token, ...]:
    """All tokens of a file."""
    return tuple(token for line in token_lines(file) for token in line.tokens)


def token_lines(file: SourceFile, most_items: int | None = None, start: int = 0, end: int | None = None) -> Iterator[TokenLine]:
    """The lines of a file, or those of [start, end) where a line begins; the text after the last line end is a line if it is not empty.

    With `most_items`, a line is cut off at so many items, and empty lines are left out.
    """
    from trivet.syntax.table import table

    text, spacing = file.text, SPACING
    tokens: list[Token] = []
    items: list[Token] = []
    stop = len(text) if end is None else end
    complete = True
    for match in table().pattern.finditer(text, start, stop):
        kind = match.lastgroup
        assert kind is not None
        if kind == "NEWLINE" and not tokens and most_items is not None:
            start = match.end()
            continue
        if complete:
            token = Token(kind, match[0], match.start())
            tokens.append(token)
            if kind not in spacing:
                items.append(token)
                complete = len(items) != most_items
        if kind == "NEWLINE":
            yield TokenLine(tuple(tokens), tuple(items), _indented(tokens), complete, start)
            tokens, items, start, complete = [], [], match.end(), True
    if start < stop:
        yield TokenLine(tuple(tokens), tuple(items), _indented(tokens), complete, start)


def _indented(tokens: list[Token]) -> bool:
    first = 1 if tokens[0].kind == "BYTE_MARK" and len(tokens) > 1 else 0
    return tokens[first].kind == "SPACE"
