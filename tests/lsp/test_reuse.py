"""Parsing with lines that were read before gives what parsing afresh gives."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.lsp.random_edits import edits

from trivet.source import SourceFile
from trivet.syntax.parse import MOST_BROKEN_LINES, MOST_LINES, parse
from trivet.syntax.reuse import Statements

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.trivet"))


def same(statements: Statements, text: str) -> None:
    """Every node, span and finding; the shown form names the spans but not the file's text."""
    file = SourceFile("main.trivet", text)
    (one, found), (two, wanted) = statements.parse(file), parse(file)
    assert repr(one) == repr(two) and found == wanted and one.blocks == two.blocks, text
    assert all(block.span.file is file and block.heading.word.span.file is file for block in one.blocks)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_after_edits(path: Path) -> None:
    statements = Statements()
    text = path.read_text(encoding="utf-8")
    same(statements, text)
    for edited in edits(text, seed=len(text), count=30):
        same(statements, edited)


def test_every_kind_of_node_is_moved() -> None:
    lines = ['a b, 1 mm by -2, (x + 1, y * 2) mm, 1..2 in, 3 +/- 0.1 mm, +/- 1 mm, "t", ISO 4762 M8, few-teeth, >= 3, of, mm\n']
    statements = Statements()
    for count in range(4):
        same(statements, "# c\n" * count + lines[0] + f"  {lines[0]}")


def test_the_same_line_twice_and_a_mark_at_the_start() -> None:
    statements = Statements()
    for text in ("gear a\n  teeth 2\ngear b\n  teeth 2\n", "\ufeffgear a\n  teeth 2", "gear a\n\ufeffgear a\n", "gear a\r\n  teeth 2\r\n", ""):
        same(statements, text)
        same(statements, text + "\n" + text)


def test_at_the_limits() -> None:
    statements = Statements()
    for text in ("a b\n" * (MOST_LINES + 1), "a (\n" * (MOST_BROKEN_LINES + 2), "x" * 1_000_001):
        same(statements, text)


def test_only_lines_of_the_last_text_are_kept() -> None:
    statements = Statements()
    for number in range(50):
        statements.parse(SourceFile("a", f"gear a{number}\n  teeth {number}\n"))
    assert len(statements._known) == 2
