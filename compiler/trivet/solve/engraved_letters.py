"""Which characters an engraved label can have. The strokes themselves are drawn elsewhere; a test holds the two alike."""

from __future__ import annotations

import string

ENGRAVED = frozenset(
    f" {string.ascii_letters}{string.digits}#.,-+/():;'\"&=_!?%*"
    "\N{PRIME}\N{DOUBLE PRIME}\N{RIGHT SINGLE QUOTATION MARK}\N{DEGREE SIGN}\N{MULTIPLICATION SIGN}\N{PLUS-MINUS SIGN}"
    "\N{LATIN CAPITAL LETTER O WITH STROKE}"
)


def not_engraved(text: str) -> tuple[str, ...]:
    """The characters of a text that have no strokes, each once, in their order."""
    return tuple(dict.fromkeys(character for character in text if character not in ENGRAVED))
