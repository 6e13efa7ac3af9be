"""A comparison as plain data for programs."""

from __future__ import annotations

from trivet.compare.change import Change, Comparison


def comparison_data(found: Comparison) -> dict[str, object]:
    """Keys in order of importance; `deviation_mm` in mm, other values as printed, an empty text where a side has none."""
    return {
        "old": found.old,
        "new": found.new,
        "not_compared": found.not_compared or None,
        "function": [_change(change) for change in found.function],
        "parts": [
            {"part": item.part, "kind": item.kind, "deviation_mm": round(item.deviation_mm, 4), "reasons": list(item.reasons)}
            for item in found.parts
        ],
        "same_parts": found.same_parts,
        "hardware": [
            {"description": item.description, "items": list(item.items), "old": item.old, "new": item.new}
            for item in found.purchases
        ],
        "lengths": [_change(change) for change in found.lengths],
        "findings": [
            {
                "rule": item.rule,
                "severity": item.severity,
                "parts": list(item.parts),
                "old": item.old or None,
                "new": item.new or None,
            }
            for item in found.findings
        ],
        "rest": [_change(change) for change in found.rest],
    }


def _change(change: Change) -> dict[str, object]:
    return {"what": change.what, "old": change.old, "new": change.new}
