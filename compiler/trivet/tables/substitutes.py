"""What neighbouring hardware would change: one record for each neighbour, as rows of the schedule and of the report."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.record import record, replace
from trivet.tables.rows import Column, Rows

COLUMNS = (
    Column("for"), Column("instead of"), Column("with"), Column("what it would change"), Column("new findings"),
    Column("rows and what is assumed"),
)  # fmt: skip
NONE = "nothing that is computed"
# (what, as it is, as it would be), in words with units.
Change = tuple[str, str, str]


@record
class Substitute:
    """`part`: the set's name. `findings`: rules that would be broken anew. `missing`: why nothing could be computed, else empty."""

    part: str
    instead: str
    other: str
    changes: tuple[Change, ...] = ()
    findings: tuple[str, ...] = ()
    rows: tuple[str, ...] = ()
    assumed: str = ""
    missing: str = ""


def substitute_rows(found: Sequence[Substitute]) -> Rows:
    """The table below the schedule."""
    rows = tuple(
        (item.part, item.instead, item.other, _changes(item), ", ".join(item.findings) or "none", _rows(item)) for item in found
    )
    notes = (
        "Each line is the whole fixture solved again with that one change, at the lengths sold nearest to those stated.",
        "Threads of two systems never meet: with another thread, replace the screw and everything that it runs in.",
    )
    return Rows("Substitutes and what they would change", COLUMNS, rows, notes)


def with_substitutes(schedule: Rows, found: Sequence[Substitute]) -> Rows:
    """The schedule's table with a row for each neighbour, in its own columns."""
    rows = [
        ("substitute", "", None, None, f"{item.other} instead of {item.instead}", "", "", "", "", "", item.part, _changes(item),
         f"new findings: {', '.join(item.findings)}" if item.findings else "", _rows(item))
        for item in found
    ]  # fmt: skip
    return replace(schedule, rows=(*schedule.rows, *rows))


def substitute_records(found: Sequence[Substitute]) -> list[dict[str, object]]:
    """The `substitutes` of report.json."""
    return [
        {
            "part": item.part,
            "instead_of": item.instead,
            "with": item.other,
            "changes": [{"what": what, "from": before, "to": after} for what, before, after in item.changes],
            "new_findings": list(item.findings),
            "rows": list(item.rows),
            "assumed": item.assumed or None,
            "not_computed": item.missing or None,
        }
        for item in found
    ]


def _changes(item: Substitute) -> str:
    if item.missing:
        return f"not computed: {item.missing}"
    return "; ".join(f"{what} from {before} to {after}" for what, before, after in item.changes) or NONE


def _rows(item: Substitute) -> str:
    return "; ".join((*item.rows, *((item.assumed,) if item.assumed else ())))
