"""Text width: the room printed text needs, whatever plain font the reader's computer puts in."""

from __future__ import annotations

NARROW, MIDDLE, WIDE, WIDEST = 0.5, 0.85, 1.1, 1.45  # advance in heights of capitals: common practice, no source

_NARROW = frozenset(" .,:;'|!()[]{}/\\`-fijlrtI")
_WIDEST = frozenset("mwMW%@")


def text_width_mm(text: str, height_mm: float) -> float:
    """Room for one line of text with capitals `height_mm` high; rather too much than too little."""
    return height_mm * sum(_advance(character) for character in text)


def _advance(character: str) -> float:
    if character in _NARROW:
        return NARROW
    if character in _WIDEST or ord(character) > 0x2E7F:  # beyond lie the square characters of East Asia
        return WIDEST
    if character.isupper() or character in "&+=<>~\N{MULTIPLICATION SIGN}\N{PLUS-MINUS SIGN}":
        return WIDE
    return MIDDLE
