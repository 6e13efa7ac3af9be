"""Case files: sections of source text with the expected diagnostics in comment lines under the line they are about.

    --- a comma for a point ---
    sheet ply18
      thickness 17,8 mm
    # expect error number-form at "17,8"
    # remedy write `thickness 17.8 mm`

Each section is a file of its own, expectations included, since they are comments of the language. A `# remedy` line is optional and
states the whole remedy of the expectation above it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from trivet.diagnostics import Diagnostic
from trivet.source import LineStarts, SourceFile

_SECTION = re.compile(r"^--- (.+) ---$")
_EXPECT = re.compile(r'^\s*# expect (error|warning|note) ([a-z-]+) at "(.*)"$')
_REMEDY = re.compile(r"^\s*# remedy (.+)$")

Check = Callable[[str], Iterable[Diagnostic]]


@dataclass(frozen=True)
class Expected:
    """A diagnostic that is announced; `line` is 1-based, `remedy` None where it is not stated."""

    line: int
    severity: str
    rule: str
    at: str
    remedy: str | None


@dataclass(frozen=True)
class Case:
    """One section."""

    name: str
    text: str
    expected: tuple[Expected, ...]


def read_cases(path: Path) -> tuple[Case, ...]:
    """The sections of a case file."""
    cases: list[Case] = []
    name, lines = "", list[str]()
    for line in [*path.read_text(encoding="utf-8").split("\n"), "--- end ---"]:
        section = _SECTION.match(line)
        if section is None:
            lines.append(line)
            continue
        if name:
            cases.append(_case(f"{path.stem}: {name}", lines))
        name, lines = section[1], []
    return tuple(cases)


def run_case(case: Case, check: Check) -> None:
    """Assert that `check` yields exactly the announced diagnostics, each once."""
    starts = LineStarts(case.text)
    found = list(check(case.text))
    wanted = [(item.line, item.severity, item.rule, item.at) for item in case.expected]
    shown = [_shown(item, starts) for item in found]
    assert sorted(shown) == sorted(wanted), case.name
    for item in case.expected:
        if item.remedy is not None:
            remedies = [one.remedy for one in found if _shown(one, starts) == (item.line, item.severity, item.rule, item.at)]
            assert remedies == [item.remedy], case.name


def _shown(item: Diagnostic, starts: LineStarts) -> tuple[int, str, str, str]:
    assert item.span is not None
    return starts.line_and_column(item.span.start)[0], item.severity, item.rule, item.span.text


def _case(name: str, lines: list[str]) -> Case:
    expected: list[Expected] = []
    about = 0
    for number, line in enumerate(lines, start=1):
        if found := _EXPECT.match(line):
            expected.append(Expected(about, found[1], found[2], found[3], None))
        elif (remedy := _REMEDY.match(line)) and expected:
            last = expected[-1]
            expected[-1] = Expected(last.line, last.severity, last.rule, last.at, remedy[1])
        else:
            about = number
    return Case(name, "\n".join(lines), tuple(expected))


def file_of(text: str) -> SourceFile:
    """A source file for a test."""
    return SourceFile("case.trivet", text)
