"""A fact is indented by two spaces, a heading by none; comments likewise, as they stand."""

from __future__ import annotations

from trivet.fmt.lines import SpacedLine
from trivet.record import replace


def indent_facts(lines: tuple[SpacedLine, ...]) -> tuple[SpacedLine, ...]:
    """The same lines with the first gap set."""
    return tuple(
        line if line.frozen or line.blank else replace(line, gaps=("  " if line.indented else "", *line.gaps[1:])) for line in lines
    )
