"""A baseline: findings that a project knows of, kept in a file, so that only new ones count."""

from __future__ import annotations

import json
import os
from collections import Counter
from collections.abc import Sequence

from trivet.diagnostics import Diagnostic
from trivet.record import record
from trivet.source import SourceFile

Key = tuple[str, str, tuple[str, ...]]


@record
class Baseline:
    """How often each finding is known: file, rule and parts; numbers in messages may change."""

    known: tuple[tuple[Key, int], ...]


def baseline_text(found: Sequence[Diagnostic], folder: str) -> str:
    """The file for these findings; those that are accepted need none. `folder`: where it will lie."""
    counts = Counter(key_of(item, folder) for item in found if not item.accepted and item.span is not None)
    rows = [
        {"file": file, "rule": rule, "parts": list(parts), "count": count} for (file, rule, parts), count in sorted(counts.items())
    ]
    return json.dumps({"written_by": "trivet", "known": rows}, indent=2) + "\n"


def baseline_of(source: SourceFile) -> Baseline | Diagnostic:
    """The baseline, or a finding that says why the file is none."""
    try:
        data = json.loads(source.text)
        rows = data["known"]
        known = tuple(
            ((_text(row["file"]), _text(row["rule"]), tuple(_text(part) for part in row["parts"])), _count(row["count"]))
            for row in rows
        )
        return Baseline(known)
    except (ValueError, TypeError, KeyError, RecursionError):
        message = f"`{source.name}` is no baseline: `trivet check --write-baseline FILE` writes one"
        return Diagnostic("unreadable-file", "error", message, None)


def new_findings(found: Sequence[Diagnostic], baseline: Baseline, folder: str) -> tuple[tuple[Diagnostic, ...], int, int]:
    """The findings that the baseline does not know, how many it knew, and how many that it knows are not found any more."""
    left = Counter(dict(baseline.known))
    kept = []
    for item in found:
        key = key_of(item, folder)
        if not item.accepted and item.span is not None and left[key] > 0:
            left[key] -= 1
        else:
            kept.append(item)
    return tuple(kept), len(found) - len(kept), sum(left.values())


def key_of(item: Diagnostic, folder: str) -> Key:
    """File (from the baseline's folder), rule and parts."""
    name = item.span.file.name if item.span is not None else ""
    path = os.path.relpath(name, folder or ".") if name else ""
    return path.replace(os.sep, "/"), item.rule, item.parts


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value


def _count(value: object) -> int:
    if not isinstance(value, int) or value < 1:
        raise TypeError
    return value
