"""Text from a user made fit to print: nothing in it can steer the terminal, hide, or start a line of its own."""

from __future__ import annotations

import unicodedata

# Controls, invisible and direction-changing characters, halves of surrogate pairs, line and paragraph separators.
_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
_SHORT = {"\t": "\\t", "\n": "\\n", "\r": "\\r"}


def visible(text: str) -> str:
    """`text` with each control, invisible or direction-changing character as an escape such as `\\x1b` or `\\u202e`."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_escape(letter) if unicodedata.category(letter) in _UNSEEN else letter for letter in text)


def encodable(text: str) -> str:
    """`text` with each half of a surrogate pair, which no encoding can carry, written as U+FFFD."""
    return "".join("\ufffd" if unicodedata.category(letter) == "Cs" else letter for letter in text)


def _escape(letter: str) -> str:
    code = ord(letter)
    if letter in _SHORT:
        return _SHORT[letter]
    if code < 0x100:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
