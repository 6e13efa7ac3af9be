"""Formatting: the whole, a part, the line that was ended; space alone changes, and only where it was asked for."""

from __future__ import annotations

from random import Random

import pytest
from tests.lsp.marked import marked, view_of
from tests.lsp.texts import EXAMPLES, RISER

from trivet.fmt.edits import applied, format_edits
from trivet.fmt.format import format_text
from trivet.lsp.features.formatting import formatted, line_ended
from trivet.source import SourceFile

UNTIDY = "fixture  a\n title   \"b\"   # c\n\n\n\nboard b\n\tlayers 2 \n  thickness (3\n"


def after(text: str, changes: tuple[object, ...]) -> str:
    for change in sorted(changes, key=lambda change: change.start, reverse=True):
        text = text[: change.start] + change.text + text[change.end :]
    return text


def test_the_whole_file() -> None:
    view = view_of(UNTIDY)
    assert after(UNTIDY, formatted(view)) == format_text(view.file) != UNTIDY
    assert formatted(view_of(RISER)) == ()


def test_a_part_of_it() -> None:
    start = UNTIDY.index(" title")
    end = UNTIDY.index("\n", start)
    text = after(UNTIDY, formatted(view_of(UNTIDY), start, end))
    assert text == UNTIDY.replace(" title   \"b\"   # c", "  title \"b\"  # c")


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("board  b\n‸", "board b\n  "),
        ("board b\n  layers   2\n‸", "board b\n  layers 2\n  "),
        ("require  travel >= 8 mm\n‸", "require travel >= 8 mm\n"),
        ("board b\n  layers 2\n\n‸", "board b\n  layers 2\n\n"),
        ("board b\n  layers 2\n  ‸", "board b\n  layers 2\n  "),
        ("board b\r\n  layers  2\r\n‸", "board b\r\n  layers 2\r\n  "),
        ("# only\n‸", "# only\n"),
        ("‸", ""),
    ],
)
def test_a_line_that_was_ended(text: str, wanted: str) -> None:
    plain, offset = marked(text)
    assert after(plain, line_ended(view_of(plain), offset)) == wanted


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.trivet")), ids=lambda path: path.name)
def test_edits_are_the_formatter_and_stay_in_their_range(path: object) -> None:
    """On texts with spaces, tabs, line ends and letters changed at random."""
    text = path.read_text(encoding="utf-8")
    random = Random(path.name)
    for _ in range(6):
        letters = list(text)
        for _ in range(20):
            place = random.randrange(len(letters))
            letters[place] = random.choice([" ", "\n", "  ", "\t", "\r\n", "#", "", '"', " , ", letters[place] * 2])
        file = SourceFile("x", "".join(letters))
        assert applied(file.text, format_edits(file)) == format_text(file)
        start, end = sorted((random.randrange(len(file.text)), random.randrange(len(file.text))))
        part = applied(file.text, format_edits(file, start, end))
        assert part.startswith(file.text[:start]) and part.endswith(file.text[end:])


@pytest.mark.parametrize(
    "text",
    ["a\n  jam_nut ISO  \t035\n", "a\n  pitch 5 per \tin\n", '"open\r\nfoot b\n  like leg\nl <= 15', '   x \r\nfoot deep\n8 mm\n "q [n', "\r"],
)
def test_what_formatting_twice_once_tripped_over(text: str) -> None:
    """A tab in what spaces would make one token, and lines that are left alone with another line end."""
    once = format_text(SourceFile("x", text))
    assert format_text(SourceFile("x", once)) == once
