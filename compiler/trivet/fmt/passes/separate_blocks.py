"""One blank line between blocks, at most one anywhere, none at the ends of the file.

Blocks of one line, such as `require`, may stand together. A comment right above a heading belongs to it.
"""

from __future__ import annotations

from trivet.fmt.lines import SpacedLine


def separate_blocks(lines: tuple[SpacedLine, ...]) -> tuple[SpacedLine, ...]:
    """The lines with blank ones added before blocks or taken away; nothing else moves."""
    kept: list[SpacedLine] = []
    wanted = _block_starts(lines)
    end = next((line.end for line in lines if line.end and not line.frozen), "\n")
    for index, line in enumerate(lines):
        if line.blank:
            if line.mark or (kept and not kept[-1].blank):
                kept.append(line)
        else:
            if index in wanted and kept and not kept[-1].blank:
                kept.append(SpacedLine("", ("",), (), end, False))
            kept.append(line)
    while kept and kept[-1].blank and not kept[-1].mark:
        kept.pop()
    return tuple(kept)


def _block_starts(lines: tuple[SpacedLine, ...]) -> set[int]:
    """Where a block begins that has facts or follows one with facts: at its heading or at the comments right above it."""
    headings = [index for index, line in enumerate(lines) if not (line.blank or line.comment or line.indented or line.frozen)]
    ends = [*headings[1:], len(lines)][: len(headings)]
    full = [any(_fact(lines[index]) for index in range(start + 1, end)) for start, end in zip(headings, ends, strict=True)]
    starts = set()
    for number, heading in enumerate(headings):
        if number and (full[number] or full[number - 1]):
            first = heading
            while lines[first - 1].comment and not lines[first - 1].indented and first - 1 > headings[number - 1]:
                first -= 1
            starts.add(first)
    return starts


def _fact(line: SpacedLine) -> bool:
    return line.indented and not line.blank and not line.comment
