"""One space between items, none before a comma and inside brackets, two before a comment, none at the end of a line.

Where two items touch they keep touching, and where a space would be taken away altogether that is done only beside brackets and
before commas, where it parts nothing.
"""

from __future__ import annotations

from trivet.fmt.lines import SpacedLine
from trivet.record import replace

# With spaces alone behind them these may be the first half of one token, so a tab there stays.
_HALVES = frozenset({"ISO", "DIN", "EN", "ASME", "per"})


def space_items(lines: tuple[SpacedLine, ...]) -> tuple[SpacedLine, ...]:
    """The same lines with every gap but the first set."""
    return tuple(line if line.frozen else _spaced(line) for line in lines)


def _spaced(line: SpacedLine) -> SpacedLine:
    if line.blank:
        return replace(line, gaps=("",))
    gaps = [line.gaps[0]]
    for index in range(1, len(line.parts)):
        before, after = line.parts[index - 1].kind, line.parts[index].kind
        gap = line.gaps[index]
        if after == "COMMENT":
            gap = "  "
        elif "\t" in gap and line.parts[index - 1].text in _HALVES:
            pass
        elif gap:
            comma = after == "COMMA" and line.gaps[index + 1] != ""
            gap = "" if comma or before == "OPEN" or after == "CLOSE" else " "
        gaps.append(gap)
    return replace(line, gaps=(*gaps, ""))
