"""A small reader of a TextMate grammar: as much of that form as ours uses (match, captures, include), by its published meaning.

At a place in a line the pattern whose match begins first wins, among equals the one that stands first in the list.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Scoped:
    """Characters [start, end) of a line with their scope."""

    start: int
    end: int
    scope: str


class Grammar:
    """A grammar as read from JSON."""

    def __init__(self, data: dict[str, Any]) -> None:
        self._rules = [(re.compile(rule["match"]), rule) for rule in _flat(data["patterns"], data["repository"])]

    def line(self, text: str) -> list[Scoped]:
        """The scopes of one line, its line end included."""
        found: list[Scoped] = []
        position = 0
        while position < len(text):
            matches = [(match, rule) for pattern, rule in self._rules if (match := pattern.search(text, position))]
            if not matches:
                break
            match, rule = min(matches, key=lambda pair: pair[0].start())
            assert match.end() > match.start(), f"{rule} matches nothing"
            if "name" in rule:
                found.append(Scoped(match.start(), match.end(), rule["name"]))
            for number, capture in rule.get("captures", {}).items():
                found.append(Scoped(*match.span(int(number)), capture["name"]))
            position = match.end()
        return found


def _flat(patterns: list[dict[str, Any]], repository: dict[str, Any]) -> list[dict[str, Any]]:
    rules: list[dict[str, Any]] = []
    for pattern in patterns:
        if "include" in pattern:
            held = repository[pattern["include"].removeprefix("#")]
            rules += _flat([held] if "match" in held else held["patterns"], repository)
        else:
            assert set(pattern) <= {"match", "name", "captures"}, f"the reader does not know all of {pattern}"
            rules.append(pattern)
    return rules
