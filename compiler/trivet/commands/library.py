"""`trivet library`: what hardware is known, with its source, and what to measure."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from trivet.commands._input import FINE, MISUSE, print_text
from trivet.model.base import Band
from trivet.units import number_text

if TYPE_CHECKING:
    from trivet.catalog_rows import Cell, Row, Table

_STATUS = {
    "found": "",
    "partly_found": "partly from memory: confirm",
    "from_memory": "from memory: measure yours",
    "derived": "derived",
    "derived_from_memory": "derived from memory: confirm",
}


def run(word: str) -> int:
    """List the tables; with a word, show those whose name, kind, standard or rows hold it."""
    from trivet.catalog_rows import FILES
    from trivet.files import library_names
    from trivet.inputs import load_library
    from trivet.suggest import nearest

    tables = [table for name in library_names() for table in load_library(name)]
    if not word:
        _list(tables)
        print_text('\n`trivet library M8`, `trivet library nut` or `trivet library "ISO 4762"` shows rows.\n')
        return FINE
    shown = 0
    for table in tables:
        whole = word in (table.name, table.kind) or any(
            word in (name, name.split(" ")[-1]) or name.startswith(word + " ") for name in table.standards
        )
        rows = [row for row in table.rows if whole or row.key == word or row.key.split("x")[0] == word]
        if rows:
            _show(table, rows)
            shown += 1
    if shown:
        return FINE
    # A word of tables' names, such as `inch` or `tapping`, lists them.
    named = [table for table in tables if word.lower() in table.name.split("_")]
    if named:
        _list(named)
        print_text(f"\n`trivet library {named[0].name}` shows its rows.\n")
        return FINE
    known = (
        {table.name for table in tables}
        | set(FILES)
        | {name for table in tables for name in table.standards}
        | {row.key for table in tables for row in table.rows}
    )
    near = nearest(word, known)
    from trivet.report.visible import visible

    hint = f"; did you mean {near}?" if near else ""
    print_text(f"trivet: the library has nothing called {visible(word[:60])}{hint}\n", error=True)
    return MISUSE


def _list(tables: list[Table]) -> None:
    for table in tables:
        held = ", ".join(table.standards) or table.source
        print_text(f"{table.name:32} {table.kind:18} {len(table.rows):3} rows  {held[:70]}\n")


def _show(table: Table, rows: list[Row]) -> None:
    held = ", ".join(table.standards)
    print_text(
        f"\n{table.name}: {table.kind}" + (f", {held}" if held else "") + (f"\n  {table.source}" if table.source else "") + "\n"
    )
    columns = [(name, unit) for name, unit in table.columns if name not in ("status", "where", "source")]
    for row in rows:
        cells = "  ".join(
            f"{name} {_cell(row.cells[name])}{' ' + unit if unit and row.cells[name] is not None else ''}"
            for name, unit in columns[1:]
        )
        status = _STATUS.get(row.origin.status, row.origin.status)
        print_text(f"  {row.key:10} {cells}" + (f"  ({status})" if status else "") + "\n")
        if row.text("where"):
            print_text(f"  {'':10} from: {row.text('where')}\n")


def _cell(cell: Cell) -> str:
    if cell is None:
        return "unknown (measure yours)"
    if isinstance(cell, Fraction):
        return number_text(cell)
    if isinstance(cell, Band):
        return f"{cell.least:g}..{cell.most:g}"
    return cell
