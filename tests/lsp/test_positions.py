"""Positions of the protocol: UTF-16 by default, lines ended by LF, CR LF or CR."""

from __future__ import annotations

from random import Random

import pytest

from trivet.lsp.positions import Positions, changed

# An emoji is one code point, two UTF-16 units, four UTF-8 bytes; an accented letter one, one and two.
LINE = '  title "😋é" # x\n'


@pytest.mark.parametrize(("encoding", "column"), [("utf-16", 13), ("utf-8", 16), ("utf-32", 12)])
def test_a_line_with_an_emoji(encoding: str, column: int) -> None:
    text = "fixture a\n" + LINE
    offset = text.index(" # x")
    positions = Positions(text, encoding)
    assert positions.of(offset) == (1, column)
    assert positions.offset(1, column) == offset


def test_a_column_inside_a_character_is_the_place_before_it() -> None:
    text = "a😋b"
    assert Positions(text).offset(0, 2) == 1 and Positions(text).offset(0, 3) == 2 and Positions(text, "utf-8").offset(0, 3) == 1


def test_beyond_the_end() -> None:
    positions = Positions("ab\ncd")
    assert positions.offset(0, 99) == 2 and positions.offset(9, 0) == 5 and positions.of(5) == (1, 2)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends(end: str) -> None:
    text = f"ab{end}😋c{end}"
    positions = Positions(text)
    assert positions.of(text.index("c")) == (1, 2) and positions.of(len(text)) == (2, 0) and positions.offset(0, 5) == 2
    assert positions.line_of(text.index("c")) == 1 and text[slice(*positions.line_range(1))] == "😋c"


def test_signs_that_end_lines_elsewhere_do_not_here() -> None:
    """Form feed, next line and line separator end no line in the protocol."""
    text = "a\x0cb\x85c\u2028d"
    assert Positions(text).of(len(text)) == (0, 7)


def test_there_and_back() -> None:
    random = Random(5)
    for _ in range(60):
        text = "".join(random.choice("ab é😋\n\r") for _ in range(30))
        for encoding in ("utf-8", "utf-16", "utf-32"):
            positions = Positions(text, encoding)
            for offset in range(len(text) + 1):
                if text[offset - 1 : offset + 1] != "\r\n":
                    assert positions.offset(*positions.of(offset)) == offset


def test_changes() -> None:
    assert changed("ab\n😋c\n", (1, 2), (1, 3), "d") == "ab\n😋d\n"
    assert changed("ab\n", (0, 1), (5, 0), "") == "a"
    assert changed("ab\n", (0, 2), (0, 1), "x") == "ax\n", "a range that runs backwards"
