"""Every line ends as most of them do, the last one too; at a tie with LF."""

from __future__ import annotations

from trivet.fmt.lines import SpacedLine
from trivet.record import replace


def end_lines_alike(lines: tuple[SpacedLine, ...]) -> tuple[SpacedLine, ...]:
    """The same lines with one kind of line end; a frozen line keeps its own, if it has one, and a lone CR at the very end is left alone."""
    counted = sum(1 if line.end == "\r\n" else -1 for line in lines if line.end)
    end = "\r\n" if counted > 0 else "\n"
    return tuple(line if line.frozen and (line.end or line.text.endswith("\r")) else replace(line, end=end) for line in lines)
