"""Findings as one JSON object."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Literal

from trivet.diagnostics import Diagnostic
from trivet.report.places import Places
from trivet.report.visible import encodable
from trivet.source import Span

Status = Literal["clean", "findings", "failed"]


def json_report(
    found: tuple[Diagnostic, ...],
    *,
    fixture: str,
    version: str,
    title: str = "",
    revision: str = "",
    parameters: Mapping[str, str] | None = None,
) -> str:
    """The keys `fixture`, `status` and `findings` of the contract of `report.json`, ending in a line end.

    The text is ASCII, other characters as escapes, so that printing it cannot steer a terminal.
    """
    named = {"name": fixture, "title": title, "revision": revision, "version": version}
    report = {
        "fixture": {**named, "parameters": dict(parameters or {})},
        "status": status(found),
        "findings": finding_rows(found),
    }
    return ascii_json(report, indent=2) + "\n"


def status(found: tuple[Diagnostic, ...]) -> Status:
    """Failed: unreadable input or a fault of ours. Findings: one of any severity that nobody accepted."""
    if any(item.fault_of_ours or item.span is None for item in found):
        return "failed"
    return "clean" if all(item.accepted for item in found) else "findings"


def finding_rows(found: tuple[Diagnostic, ...]) -> list[dict[str, object]]:
    """The `findings` of the contract, in the order given.

    Lines and columns are 1-based, columns in code points; the end is the first place after the range. A finding without
    a place has null in the five keys of the place.
    """
    places = Places()
    return [
        {
            "rule": item.rule,
            "severity": item.severity,
            "message": item.message,
            **_place(item.span, places),
            "accepted": item.accepted,
            "because": item.accepted_because,
            "related": [{"message": label.message, **_place(label.span, places)} for label in item.related],
            "remedy": item.remedy,
        }
        for item in found
    ]


def ascii_json(value: object, *, indent: int | None = None) -> str:
    """`value` as JSON in ASCII, keys in the order given; halves of surrogate pairs become U+FFFD."""
    return json.dumps(_clean(value), indent=indent, allow_nan=False)


def _place(span: Span | None, places: Places) -> dict[str, object]:
    if span is None:
        return dict.fromkeys(("file", "line", "column", "end_line", "end_column"))
    place = places.of(span)
    return {
        "file": place.file,
        "line": place.line,
        "column": place.column,
        "end_line": place.end_line,
        "end_column": place.end_column,
    }


def _clean(value: object) -> object:
    if isinstance(value, str):
        return encodable(value)
    if isinstance(value, Mapping):
        return {encodable(str(key)): _clean(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_clean(item) for item in value]
    return value
