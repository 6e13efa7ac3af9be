"""A comparison in words, for a terminal and as Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterator

from trivet.compare.change import Change, Comparison, FindingChange, PartChange, PurchaseChange
from trivet.tables.wording import listed

# Reasons named for one part; the rest are counted.
MOST_REASONS = 4


def comparison_lines(found: Comparison) -> tuple[str, ...]:
    """Plain lines, a heading without indent over each list; one line where nothing is different."""
    lines = [f"from {found.old} to {found.new}"]
    for heading, items in sections(found):
        lines.append(heading)
        lines += [f"  {item}" for item in items]
    lines += _nothing(found)
    return tuple(lines)


def comparison_markdown(found: Comparison) -> str:
    """The same as a page that can stand in a review."""
    from trivet.emit.markdown import escaped

    lines = [f"# From {escaped(found.old)} to {escaped(found.new)}"]
    for heading, items in sections(found):
        lines += ["", f"## {heading[0].upper()}{heading[1:]}", ""]
        lines += [f"- {escaped(item)}" for item in items]
    for line in _nothing(found):
        lines += ["", escaped(line)]
    return "\n".join(lines) + "\n"


def sections(found: Comparison) -> Iterator[tuple[str, tuple[str, ...]]]:
    """(heading, lines) in order of importance to the maker; empty lists are left out."""
    parts = [*_parts(found.parts)]
    if found.parts and found.same_parts:
        parts.append(f"{found.same_parts} {'part needs' if found.same_parts == 1 else 'parts need'} no cutting")
    for heading, items in (
        ("what it does", [_change(change) for change in found.function]),
        ("parts", parts),
        ("hardware", [*(_purchase(change) for change in found.purchases), *(_change(change) for change in found.lengths)]),
        ("findings", [_finding(change) for change in found.findings]),
        ("the rest", [_change(change) for change in found.rest]),
    ):
        if items:
            yield heading, tuple(items)


def _nothing(found: Comparison) -> list[str]:
    if found.not_compared:
        return [found.not_compared]
    lines = []
    if not any(change.kind != "another name" for change in found.parts):
        lines.append("no change to any part")
    if found.empty:
        lines.append("no change to what it does, to hardware or to findings")
    return lines


def _change(change: Change) -> str:
    if not change.old or not change.new:
        return f"{change.what}: {change.new}" if change.new else f"{change.what}: was {change.old}, is gone"
    return f"{change.what}: {change.old} -> {change.new}"


def _parts(changes: tuple[PartChange, ...]) -> Iterator[str]:
    """A line for all parts that change alike."""
    groups: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for change in changes:
        groups.setdefault((change.kind, _of_any(change)), []).append(change.part)
    for (kind, reasons), names in groups.items():
        yield _part(listed(tuple(names)), kind, reasons, len(names) > 1)


def _of_any(change: PartChange) -> tuple[str, ...]:
    """The reasons without the part's own name: `corner.ne`, the foot of `ne`, reads `corner`."""
    own = re.compile(rf"\b(\w+)\.{re.escape(change.part)}(?![\w.])")
    return tuple(own.sub(r"\1", reason) for reason in change.reasons)


def _part(names: str, kind: str, reasons: tuple[str, ...], several: bool) -> str:
    if kind == "new":
        return f"cut {names}: {'they are' if several else 'it is'} new"
    if kind == "gone":
        return f"{names} {'are' if several else 'is'} no longer needed"
    if kind == "another name":
        return f"{names} {reasons[0]}: the same cuts"
    more = len(reasons) - MOST_REASONS
    rest = f"; {more} more" if more > 0 else ""
    return f"cut {names} again: {'; '.join(reasons[:MOST_REASONS])}{rest}"


def _purchase(change: PurchaseChange) -> str:
    items = ", ".join(dict.fromkeys(change.items))
    more = change.new - change.old
    what = (
        f"buy {more} more"
        if more > 0 and change.old
        else f"buy {more}"
        if more > 0
        else f"{-more} fewer"
        if change.new
        else f"{-more} not needed"
    )
    return f"{what}: {change.description} ({items})"


def _finding(change: FindingChange) -> str:
    if not change.new:
        return f"gone: {change.severity}: {change.old} [{change.rule}]"
    if not change.old:
        return f"new: {change.severity}: {change.new} [{change.rule}]"
    return f"changed: {change.severity}: {change.new} [{change.rule}]"
