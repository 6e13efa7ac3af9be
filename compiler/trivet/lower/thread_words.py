"""Threads as people write them and this language does not, and what they become."""

from __future__ import annotations

import re

# ASME B1.1 coarse, threads an inch, by size; a test holds them to the library's rows.
COARSE = {"1/4": 20, "5/16": 18, "3/8": 16, "7/16": 14, "1/2": 13, "9/16": 12, "5/8": 11}
SERIES = ("UNC", "UNF", "NC", "NF", "UN", "UNEF")
_PARTED = re.compile(r"#?([0-9]+(?:/[0-9]+)?) ?- ?([0-9]+)\Z", re.ASCII)


def thread_meant(text: str) -> str:
    """`5/16 - 18` and a bare `5/16` as a thread; empty where it cannot be seen which."""
    words = " ".join(text.split())
    for series in SERIES:
        words = words.removesuffix(f" {series}")
    parted = _PARTED.fullmatch(words)
    if parted:
        return f"{parted[1]}-{parted[2]}"
    size = words.removesuffix(" in")
    return f"{size}-{COARSE[size]}" if size in COARSE else ""


def thread_remedy(text: str, word: str) -> str:
    """What to write for a thread given as `text` in the fact `word`; empty where nothing is meant."""
    meant = thread_meant(text)
    if not meant:
        return ""
    coarse = " for the coarse thread" if "-" not in text else ""
    return f"write `{word} {meant}`{coarse}: a thread is one word, its size and its threads to the inch"
