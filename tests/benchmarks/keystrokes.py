"""An hour at the keyboard in short: one letter after another typed into a fixture of 500 lines, at three places."""

from __future__ import annotations

from collections.abc import Iterator

from tests.benchmarks.many_gears import many_gears

GEARS = 75
# What is typed: where (behind which text), letter by letter; `\b` takes the last letter back.
_TYPED = (
    ("gear g5\n  teeth 20", "\b\b18"),
    ("  bolt ISO 4762, head recessed 11.2 mm", "  # in the middle"),
    ("mesh g2\n", "  with gg\b at 4" + "\b" * 14),
    ("backlash 0.65 mm", "\b\b\b\b\b\b\b0.7 mm"),
    ("carries corner\n", '\npocket key\n  into deck, topside\n  outline slot 40 by 8 mm\n  at (30, 30) mm\n  depth 6 mm\n'),
    ("fixture many\n", '  title "Many gears in a row"\n'),
)  # fmt: skip


def fixture() -> str:
    """About 500 lines."""
    return many_gears(GEARS)


def keystrokes() -> Iterator[tuple[int, int, str, str]]:
    """(start, end, new letters, the whole text after it), one for each key."""
    text = fixture()
    for behind, typed in _TYPED:
        at = text.index(behind) + len(behind)
        for letter in typed:
            start, new = (at - 1, "") if letter == "\b" else (at, letter)
            text = text[:start] + new + text[at:]
            yield start, at, new, text
            at = start + len(new)
