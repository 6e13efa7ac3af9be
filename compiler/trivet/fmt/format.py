"""The formatter: spacing only, from tokens only."""

from __future__ import annotations

from collections.abc import Callable

from trivet.fmt.lines import SpacedLine, spaced
from trivet.fmt.passes.end_lines_alike import end_lines_alike
from trivet.fmt.passes.indent_facts import indent_facts
from trivet.fmt.passes.separate_blocks import separate_blocks
from trivet.fmt.passes.space_items import space_items
from trivet.source import SourceFile
from trivet.syntax.tokens import token_lines, tokenize

Pass = Callable[[tuple[SpacedLine, ...]], tuple[SpacedLine, ...]]

PASSES: tuple[Pass, ...] = (end_lines_alike, indent_facts, space_items, separate_blocks)


def format_text(file: SourceFile) -> str:
    """The text of the file with its spacing set; lines with a token that is never right stay as they are.

    Asserts that no token changed and that formatting the result changes nothing.
    """
    text = _formatted(file)
    again = SourceFile(file.name, text)
    assert meaning(file) == meaning(again), "formatting changed more than space"
    assert _formatted(again) == text, "formatting twice is not formatting once"
    return text


def _formatted(file: SourceFile) -> str:
    lines = tuple(spaced(line) for line in token_lines(file))
    for apply in PASSES:
        lines = apply(lines)
    return "".join(line.text for line in lines)


def meaning(file: SourceFile) -> list[tuple[str, str]]:
    """What formatting must not change: every token but space and line ends."""
    return [(token.kind, token.text) for token in tokenize(file) if token.kind not in ("SPACE", "NEWLINE")]
