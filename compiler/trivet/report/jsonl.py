"""Findings as JSON, one object a line."""

from __future__ import annotations

from trivet.diagnostics import Diagnostic
from trivet.report.json import ascii_json, finding_rows


def json_lines(found: tuple[Diagnostic, ...]) -> str:
    """One finding a line, with the keys of `finding_rows`; empty when nothing is found."""
    return "".join(ascii_json(row) + "\n" for row in finding_rows(found))
