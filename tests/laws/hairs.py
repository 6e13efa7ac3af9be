"""Fixtures a hair's breadth on either side of a rule's border, and what the rule says on the wrong one.

The border is worked out by hand beside each entry, from what the rule's page states; the numbers stand 0.01 mm, one step or 0.1 % off it,
or on it where a fixture can stand there.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from tests.fixture_text import NAME

from trivet.checks._check import Check, all_checks
from trivet.checks._examples import example_text
from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.inputs import read_parts
from trivet.pipeline import work_out
from trivet.source import SourceFile

Edits = str | Callable[[float], str]


@dataclass(frozen=True)
class Hair:
    """`edits` of the base with `{v}` for the number, or a function of it; `bad` is found, `good` is not, each a number as it is written.

    `line`: the line that the finding points at; `says`: parts of its message, of its remedy and of its labels; `severity`: the rule's where
    empty, `then`: that of the finding which `good` still has; `count`: how many findings `bad` has; `good` is empty where there is none;
    `inch`: whether the same in inches is as easily said.
    """

    rule: str
    what: str
    edits: Edits
    bad: str
    good: str
    line: str = ""
    says: tuple[str, ...] = ()
    severity: str = ""
    then: str = ""
    count: int = 1
    inch: bool = True

    @property
    def has_inches(self) -> bool:
        """Whether its number stands where one in inches may stand."""
        return self.inch and isinstance(self.edits, str) and re.search(r"\{v\}( by [\d.]+)? mm", self.edits) is not None

    def text(self, value: str, inches: bool = False) -> str:
        """The fixture; with `inches` its own number in inches, exactly, and messages in inches too."""
        if not isinstance(self.edits, str):
            return example_text(self.edits(float(value)))
        edits = self.edits
        if inches:
            edits = re.sub(r"([\d.]+) by \{v\} mm", lambda pair: f"{_inches(pair[1])} by {{v}} mm", edits)
            edits = re.sub(r"\{v\} by ([\d.]+) mm", lambda pair: f"{_inches(value)} by {_inches(pair[1])} in", edits)
            edits = edits.replace("{v} mm", f"{_inches(value)} in")
        text = example_text(edits.replace("{v}", value))
        return text.replace("  hardware metric\n", "  hardware metric\n  units in\n") if inches else text


def _inches(number: str) -> str:
    """Exactly: 17.6 mm are 88/127 in."""
    whole, rest = divmod(Fraction(number) * 10 / 254, 1)
    return f"{whole}-{rest}" if whole and rest else f"{rest or whole}"


@cache
def _check_of(rule: str) -> Check:
    (check,) = (item for item in all_checks() if item.rule.slug == rule)
    return check


def found(rule: str, text: str) -> list[Diagnostic]:
    """What a plain check says by one rule (one that only runs in full, what that run says). The file must hold together."""
    parts, read = read_parts(SourceFile(NAME, text), MemoryFiles({NAME: text}), None)
    done = work_out(parts, read, {})
    assert done.design is not None and done.derived is not None, [item.message for item in done.found]
    return [item for item in _check_of(rule).run(done.design, done.derived) if item.rule == rule]


def line_of(item: Diagnostic) -> str:
    """The line that a finding points at, without its indentation."""
    assert item.span is not None
    text = item.span.file.text
    start = text.rfind("\n", 0, item.span.start) + 1
    return text[start:].partition("\n")[0].strip()


def spoken(item: Diagnostic) -> str:
    """Message, labels and remedy."""
    return "\n".join((item.message, *(label.message for label in item.related), item.remedy))
