"""The formatter's spacing, as written by hand."""

from __future__ import annotations

import pytest
from tests.case_files import file_of

from trivet.fmt.format import format_text


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("a  b\n", "a b\n"),
        ("board deck\n\tat   ( 120 ,  80 )   mm  \n", "board deck\n  at (120, 80) mm\n"),
        ("board deck\n      a 1 mm # note  \n", "board deck\n  a 1 mm  # note\n"),
        ("board deck\n  a 1\ngear hub\n  b 2", "board deck\n  a 1\n\ngear hub\n  b 2\n"),
        ("board deck\n  a 1\n# about hub\ngear hub\n", "board deck\n  a 1\n\n# about hub\ngear hub\n"),
        ("board deck\n\n\n\n  a 1\n\n\n", "board deck\n\n  a 1\n"),
        (
            "require a >= 1 mm\nrequire b >= 1 mm\n\n\nrequire c >= 1 mm\n",
            "require a >= 1 mm\nrequire b >= 1 mm\n\nrequire c >= 1 mm\n",
        ),
        ("board deck\n     # among facts\n# at the margin\n  a 1\n", "board deck\n  # among facts\n# at the margin\n  a 1\n"),
        ("a  1\r\n\r\n\r\nb  2\r\nc  3\n", "a 1\r\n\r\nb 2\r\nc 3\r\n"),
        # A line with a token that is never right stays as it is, and touching items keep touching.
        ('board deck\n    title   "Riser  \n    b   2\n', 'board deck\n    title   "Riser  \n  b 2\n'),
        ("a   span-2   in\n", "a span-2 in\n"),
        ("a  b,c ,  d\n", "a b,c, d\n"),
        ("", ""),
        ("\n\n  \n", ""),
    ],
)
def test_spacing(text: str, wanted: str) -> None:
    assert format_text(file_of(text)) == wanted


def test_no_alignment_across_lines() -> None:
    text = "sheet ply18\n  thickness   17.8 mm\n  size        1220 by 610 mm\n"
    assert format_text(file_of(text)) == "sheet ply18\n  thickness 17.8 mm\n  size 1220 by 610 mm\n"
