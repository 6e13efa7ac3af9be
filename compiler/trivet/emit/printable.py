"""Printable: text from the user's file made safe to write into any output."""

from __future__ import annotations

import unicodedata

REPLACEMENT = "\N{REPLACEMENT CHARACTER}"

# Marks that reorder what is read on screen, so that a label could show other words than it holds.
_REORDERING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def printable(text: str, keep: str = "") -> str:
    """The text with control characters, unpaired surrogates, non-characters and reordering marks replaced by U+FFFD.

    Line breaks and tabs become spaces, save those listed in `keep`.
    """
    # Nothing that is replaced is printable in Python's sense, and most texts hold nothing else.
    if text.isprintable():
        return text
    return "".join(character if character in keep else _shown(character) for character in text)


def _shown(character: str) -> str:
    if character in "\t\n\r":
        return " "
    category = unicodedata.category(character)
    # The last two code points of each plane are no characters, and XML forbids the first such pair.
    if category in ("Cc", "Cs", "Zl", "Zp") or character in _REORDERING or ord(character) & 0xFFFE == 0xFFFE:
        return REPLACEMENT
    return character
