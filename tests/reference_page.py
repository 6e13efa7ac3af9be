"""Reads the reference page: its code blocks with what they are put into, and its lists of facts by heading.

A ```trivet block that declares a `fixture` is a whole file. Any other is put into the base fixture, or into what the comment before
it names (`<!-- in: tripod -->`): each of its blocks replaces the one with the same heading, or is added. A block of facts alone names
its heading too (`<!-- in: base; gear hub -->`); there, each line is tried alone. `<!-- file: NAME -->` makes the block a file of that
name for all blocks after it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from trivet.checks._examples import BASE

ROOT = Path(__file__).parent.parent
PAGE = ROOT / "grammar" / "reference.md"

_COMMENT = re.compile(r"<!-- (in|file): ([^;>]+?)(?:; ([^>]+?))? -->\Z")
_SHARED = re.compile(r"It also takes (.+)\.\Z")
_CODE = re.compile(r"(?:, | or |\A)`([^`]+)`")


@dataclass(frozen=True)
class Snippet:
    """One code block: where it stands, what it says, and where it goes."""

    line: int
    text: str
    wrong: bool
    into: str
    heading: str
    files: dict[str, str]

    def sources(self) -> list[str]:
        """The whole files that the block stands for, each to be checked."""
        if any(line.startswith("fixture ") for line in self.text.splitlines()) and self.into == "base":
            return [self.text]
        base = BASE if self.into == "base" else (ROOT / "examples" / f"{self.into}.trivet").read_text("utf-8")
        if self.heading:
            return [_with_fact(base, self.heading, line) for line in self.text.splitlines()]
        return [_with_blocks(base, self.text)]


def snippets() -> list[Snippet]:
    """The page's code blocks in order. Raises ValueError at a fence of another kind, so that no block goes unread."""
    found: list[Snippet] = []
    lines = PAGE.read_text("utf-8").splitlines()
    files: dict[str, str] = {}
    start = -1
    for index, line in enumerate(lines):
        if not line.startswith("```"):
            continue
        if start < 0:
            start = index
            if line not in ("```trivet", "```trivet-wrong"):
                raise ValueError(f"line {index + 1}: {line}")
            continue
        text = "\n".join(lines[start + 1 : index]) + "\n"
        comment = _COMMENT.match(lines[start - 1])
        key, into, heading = comment.groups("") if comment else ("in", "base", "")
        if key == "file":
            files = {**files, into: text}
        else:
            found.append(Snippet(start + 1, text, lines[start] == "```trivet-wrong", into, heading, files))
        start = -1
    return found


def blocks_of(text: str) -> list[list[str]]:
    """A file cut before each heading; comments and blank lines at the margin stay with the block above."""
    found: list[list[str]] = [[]]
    for line in text.splitlines():
        if line[:1] not in ("", " ", "#"):
            found.append([])
        found[-1].append(line)
    return found


def _with_blocks(base: str, text: str) -> str:
    blocks = blocks_of(base)
    for new in blocks_of(text)[1:]:
        places = [index for index, block in enumerate(blocks) if block and _same(block[0], new[0])]
        if places:
            blocks[places[0]] = [*new, ""]
        else:
            blocks.append(new)
    return "\n".join(line for block in blocks for line in block) + "\n"


def _same(heading: str, other: str) -> bool:
    """Whether two headings declare the same. One line such as `require travel` is the same up to its third word."""
    if heading.split()[0] == other.split()[0] == "fixture":
        return True
    if heading.split()[0] in ("require", "have", "helper", "accept"):
        return False
    return heading.split() == other.split()


def _with_fact(base: str, heading: str, line: str) -> str:
    blocks = blocks_of(base)
    index = next(number for number, block in enumerate(blocks) if block and block[0] == heading)
    word = line.split()[0].rstrip(":")
    kept = [old for old in blocks[index] if old.split()[:1] != [word]]
    blocks[index] = [kept[0], line, *kept[1:]]
    return "\n".join(text for block in blocks for text in block) + "\n"


@dataclass(frozen=True)
class Item:
    """One entry of a list of facts: the forms of the fact, and the details that may follow."""

    line: int
    heads: tuple[str, ...]
    details: tuple[str, ...]


def sections() -> dict[str, tuple[str, list[Item]]]:
    """The text of each ### section and its items, those of the sections that it also takes included."""
    own: dict[str, tuple[str, list[Item], list[str]]] = {}
    name = ""
    for number, line in enumerate(PAGE.read_text("utf-8").splitlines(), start=1):
        if line.startswith("#"):
            name = line.removeprefix("### ").strip("`") if line.startswith("### ") else ""
            own.setdefault(name, ("", [], []))
            continue
        if not name:
            continue
        text, items, also = own[name]
        shared = _SHARED.match(line)
        if shared:
            also += [part.lower() for part in re.findall(r"\[([^]]+)\]", shared[1])]
        if line.startswith("- `"):
            items += _items(number, line)
        own[name] = (text + line + "\n", items, also)
    lower = {name.lower(): items for name, (_, items, _) in own.items()}
    return {name: (text, items + [i for part in also for i in lower[part]]) for name, (text, items, also) in own.items() if name}


def _items(number: int, line: str) -> list[Item]:
    """`- `a X` or `a Y`, `b Z`: …` is a fact `a` of two forms with a detail; `- `a X`, `c Y`: …` may also be two facts, which the
    test tells apart: here the codes joined by "or" to the first are heads, the rest details.
    """
    lead = line[2:]
    heads: list[str] = []
    details: list[str] = []
    while (match := _CODE.match(lead)) is not None:
        (heads if not heads or (match[0].startswith(" or ") and not details) else details).append(match[1])
        lead = lead[match.end() :]
    if not lead.startswith(":"):
        raise ValueError(f"line {number}: no colon after the forms: {line}")
    return [Item(number, tuple(heads), tuple(details))]
