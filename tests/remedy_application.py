"""A remedy's fact, put into the text of a fixture as the words say: for the tests that apply remedies and check again."""

from __future__ import annotations

import re

from trivet.diagnostics import Diagnostic
from trivet.lower.vocabulary import FORMS

FACT = re.compile(r"`([a-z_]+) ([^`]+)`((?:[^`;]|`(?![a-z_]+ ))*)")
OWNER = re.compile(r"\b(?:in|for|on|of|to)\b(?: the tooth form(?: of)?| the)? `([\w.]+)`")


def applied(text: str, item: Diagnostic) -> str | None:
    """The text with the first fact that the remedy names; None where it names none that has a place.

    The fact goes into the block that the words name after it, else into the one where the finding stands. A fact that stands there is
    replaced, as is a detail of one (`head recessed 9 mm`); else it is added.
    """
    for match in FACT.finditer(item.remedy):
        word, rest, after = match.groups()
        lines = text.splitlines()
        blocks = _blocks(lines)
        named = OWNER.search(after)
        start = None
        if named is not None:
            start = _block_of(lines, blocks, named[1].partition(".")[0])
            if "tooth form" in after[: named.end()] and start is not None and not lines[start].startswith("tooth_form"):
                start = next((index for index in blocks if lines[index].startswith("tooth_form ")), None)
        if named is None and after.startswith(" in the tooth form"):
            start = next((index for index in blocks if lines[index].startswith("tooth_form ")), None)
        if start is None and item.span is not None:
            at = text.count("\n", 0, item.span.start)
            start = max((index for index in blocks if index <= at), default=None)
        if start is None:
            continue
        changed = _changed(lines, start, _end(lines, start), word, rest, named[1] if named is not None else "")
        if changed is not None:
            return "\n".join(changed) + "\n"
    return None


def _changed(lines: list[str], start: int, end: int, word: str, rest: str, owner: str) -> list[str] | None:
    block = range(start + 1, end)
    detail = re.compile(
        rf"\b{re.escape(word)} {re.escape(rest.partition(' ')[0])} [^,]+" if word == "head" else rf"\b{re.escape(word)} [^,]+"
    )
    only = [index for index in block if lines[index].split()[:1] == [owner]]
    for index in only or block:
        held = lines[index].strip()
        if not only and held.split()[:1] == [word]:
            details = held.partition(", ")[2] if ", " not in rest else ""
            return [*lines[:index], f"  {word} {rest}" + (f", {details}" if details else ""), *lines[index + 1 :]]
        if held.split()[:1] != [word] and detail.search(held):
            return [*lines[:index], detail.sub(f"{word} {rest}", lines[index]), *lines[index + 1 :]]
    form = FORMS.get(lines[start].split()[0])
    if form is None or form.fact(word) is None:
        return None
    return [*lines[: start + 1], f"  {word} {rest}", *lines[start + 1 :]]


def _blocks(lines: list[str]) -> list[int]:
    return [index for index, line in enumerate(lines) if line[:1].isalpha()]


def _end(lines: list[str], start: int) -> int:
    return next((index for index in _blocks(lines) if index > start), len(lines))


def _block_of(lines: list[str], blocks: list[int], name: str) -> int | None:
    """The heading that declares a name; a fact's own word stays in the block of the finding."""
    return next(
        (index for index in blocks if re.search(rf"[ ,]{re.escape(name)}(,|$)", lines[index].partition("#")[0].rstrip())), None
    )
