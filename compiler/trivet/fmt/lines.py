"""Lines of tokens as the passes see them, and what a pass may ask about one."""

from __future__ import annotations

from trivet.record import record
from trivet.syntax.tokens import WRONG, Token, TokenLine


@record
class SpacedLine:
    """A line taken apart: `parts` are its items and comment, `gaps[i]` the space before part i, then what follows the last.

    `end` is the line end, empty at the end of a file without one. `frozen` lines hold a token that is never right: they are left as
    they are, since nobody knows what they mean. A byte order mark is kept in `mark`.
    """

    mark: str
    gaps: tuple[str, ...]
    parts: tuple[Token, ...]
    end: str
    frozen: bool

    @property
    def text(self) -> str:
        """The line as it will be written."""
        pieces = [self.mark, self.gaps[0]]
        for part, gap in zip(self.parts, self.gaps[1:], strict=True):
            pieces += [part.text, gap]
        return "".join([*pieces, self.end])

    @property
    def blank(self) -> bool:
        """Nothing but space."""
        return not self.parts

    @property
    def comment(self) -> bool:
        """Nothing but a comment."""
        return bool(self.parts) and self.parts[0].kind == "COMMENT"

    @property
    def indented(self) -> bool:
        """A fact, or a comment among facts."""
        return bool(self.gaps[0])


def spaced(line: TokenLine) -> SpacedLine:
    """A line of tokens taken apart."""
    mark, end, gaps, parts = "", "", [""], list[Token]()
    for token in line.tokens:
        if token.kind == "BYTE_MARK":
            mark = token.text
        elif token.kind == "NEWLINE":
            end = token.text
        elif token.kind == "SPACE":
            gaps[-1] += token.text
        else:
            parts.append(token)
            gaps.append("")
    return SpacedLine(mark, tuple(gaps), tuple(parts), end, any(part.kind in WRONG for part in parts))
