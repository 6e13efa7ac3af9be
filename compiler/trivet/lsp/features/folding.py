"""What can be folded: the facts below a heading, and comments of several lines."""

from __future__ import annotations

from trivet.lsp.answers import Fold
from trivet.lsp.view import View
from trivet.syntax.tokens import SPACING, token_lines


def folds(view: View) -> tuple[Fold, ...]:
    """Folds in the order of the file; broken lines fold with the block that they stand in."""
    found: list[Fold] = []
    heading: int | None = None
    last = 0
    comment: list[int] = []
    lines = (*token_lines(view.file), None)
    for line in lines:
        bare = line is not None and not line.items and any(token.kind == "COMMENT" for token in line.tokens)
        if not bare and len(comment) > 1:
            found.append(Fold(comment[0], comment[-1], True))
        comment = [*comment, line.start] if bare and line is not None else []
        if line is None or (line.items and not line.indented):
            if heading is not None and last > heading:
                found.append(Fold(heading, last, False))
            heading = line.start if line is not None else None
        elif line.indented and any(token.kind not in SPACING or token.kind == "COMMENT" for token in line.tokens):
            last = line.start
    return tuple(sorted(found, key=lambda fold: fold.start))
