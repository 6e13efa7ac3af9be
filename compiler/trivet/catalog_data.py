"""Tables as plain data and back, so that an installed library is loaded, not parsed, on every run."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Any

from trivet.catalog_rows import Cell, Row, Table
from trivet.model.base import Band
from trivet.source import LibraryRow


def to_plain(tables: Iterable[Table]) -> list[dict[str, Any]]:
    """Tables of the library as lists, texts and numbers: an exact number is a list of its two parts, a band a list of three."""
    return [
        {
            "name": table.name,
            "kind": table.kind,
            "standards": list(table.standards),
            "source": table.source,
            "columns": [list(column) for column in table.columns],
            "rows": [
                [row.key, row.origin.source, row.origin.status, *(_plain(row.cells[name]) for name, _ in table.columns)]
                for row in table.rows
            ],
        }
        for table in tables
    ]


def from_plain(data: Iterable[dict[str, Any]]) -> tuple[Table, ...]:
    """The tables that `to_plain` wrote."""
    return tuple(_table(item) for item in data)


def _table(item: dict[str, Any]) -> Table:
    columns = tuple((name, unit) for name, unit in item["columns"])
    units = dict(columns)
    rows = []
    for key, source, status, *cells in item["rows"]:
        named = {name: _cell(cell) for (name, _), cell in zip(columns, cells, strict=True)}
        rows.append(Row(item["name"], key, named, units, LibraryRow(item["name"], key, source, status)))
    return Table(item["name"], item["kind"], tuple(item["standards"]), item["source"], columns, tuple(rows))


def _plain(cell: Cell) -> Any:
    if isinstance(cell, Fraction):
        return [cell.numerator, cell.denominator]
    if isinstance(cell, Band):
        return [cell.mean, cell.least, cell.most]
    return cell


def _cell(plain: Any) -> Cell:
    if isinstance(plain, list):
        return Fraction(plain[0], plain[1]) if len(plain) == 2 else Band(plain[0], plain[1], plain[2])
    return plain  # type: ignore[no-any-return]  # plain data from JSON, shaped by the schema of rows
