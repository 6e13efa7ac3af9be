"""What the tests of every rule are made of: a fixture as a function of one number, and the numbers on either side of the rule's border."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from trivet.checks._examples import example_text

Make = Callable[[Random, float], str]
Range = tuple[float, float]
# Names of the base that also mean something else in the language.
RESERVED = frozenset(("keeper", "left", "right", "near", "far", "head", "coarse", "fine", "medium", "base", "hand"))
_KINDS = "sheet|cutter|board|gear|drive|pivot|foot|table|tooth_form|hole|pocket|magnet|load|machine|workpiece|cut_zone|ring|dowel|engrave|spacer"
_HEADING = re.compile(rf"^(?:{_KINDS}) ([a-z_0-9, ]+?)(?: is [a-z_]+)?\s*$", re.MULTILINE)
_LENGTH = re.compile(r"(?<![\w.,/+-])(\(?)(\d+(?:\.\d+)?)((?: by |, | \+/- |\.\.)\d+(?:\.\d+)?)?(\)?) mm\b")


@dataclass(frozen=True)
class Border:
    """`make` gives edits of the base or a whole text; what lies in `bad` violates the rule, what lies in `good` does not.

    `whole`: the numbers are whole. `good` is None where every text of the kind violates, `bad` where none does. The ranges keep off the border by what
    the page leaves open.
    """

    make: Make
    bad: Range | None
    good: Range | None = None
    whole: bool = False

    def text(self, rng: Random, violating: bool) -> str:
        """One fixture, disguised."""
        chosen = self.bad if violating else self.good
        assert chosen is not None
        low, high = chosen
        value = rng.randint(int(low), int(high)) if self.whole else round(rng.uniform(low, high), 3)
        return disguised(rng, example_text(self.make(rng, value)))


def swap(old: str, *new: str) -> str:
    """An edit: one line of the base gives way to others."""
    return f"- {old}\n" + "".join(f"+   {line}\n" for line in new)


def adds(text: str) -> str:
    """An edit: blocks that come to the end of the base; begin with these, for added lines go where the last edit was."""
    return "+ \n" + "".join(f"+ {line}\n" for line in text.strip("\n").splitlines())


def disguised(rng: Random, text: str) -> str:
    """The same fixture under other names, its blocks in another order, some lengths in inches."""
    if rng.random() < 0.6:
        text = _renamed(rng, text)
    if rng.random() < 0.6:
        text = _shuffled(rng, text)
    if rng.random() < 0.5:
        share = rng.random()
        text = "\n".join(_in_inches(line) if rng.random() < share and "column" not in line else line for line in text.split("\n"))
    return text


def _renamed(rng: Random, text: str) -> str:
    names = {name.strip() for match in _HEADING.finditer(text) for name in match[1].split(",")}
    for name in sorted(names - RESERVED):
        if " " in name or f'"{name}"' in text:
            continue
        other = f"{name}_{rng.choice('abcdxyz')}{rng.randint(1, 99)}"
        text = re.sub(rf"\b{name}\b(?![-\"])", other, text)
    return text


def _shuffled(rng: Random, text: str) -> str:
    """Comment lines stay out of it: what a fixture means does not hang on them."""
    blocks: list[list[str]] = []
    for line in text.splitlines():
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        if line[0] != " " or not blocks:
            blocks.append([])
        blocks[-1].append(line)
    rng.shuffle(blocks)
    return "\n\n".join("\n".join(block) for block in blocks) + "\n"


def _in_inches(line: str) -> str:
    def inches(match: re.Match[str]) -> str:
        more = match[3]
        if more is not None:
            sign = re.match(r" by |, | \+/- |\.\.", more)
            assert sign is not None
            more = sign[0] + _inch(more[sign.end() :])
        return f"{match[1]}{_inch(match[2])}{more or ''}{match[4]} in"

    return _LENGTH.sub(inches, line)


def _inch(number: str) -> str:
    return f"{float(number) / 25.4:.9f}"
