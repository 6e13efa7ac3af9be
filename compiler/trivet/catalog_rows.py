"""Tables as data: rows of cells with their units, from a parsed `table` block, whether the library's or the user's own."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from trivet.diagnostics import Diagnostic
from trivet.model.base import Band
from trivet.record import field, record
from trivet.source import LibraryRow, Span
from trivet.suggest import nearest
from trivet.syntax.nodes import (
    Block,
    Connective,
    Designation,
    Item,
    Line,
    Name,
    Number,
    Phrase,
    PlusMinus,
    RuleName,
    Standard,
    Text,
)
from trivet.units import UNITS

# A table's cells: an exact number in the column's unit, a band in mm, a word or text, or None for `unknown`.
Cell = Fraction | Band | str | None

KINDS = (
    "thread", "hexagon_head", "socket_head", "countersunk_head", "button_head", "nut", "washer", "tapping_screw", "wood_screw",
    "insert", "tee_nut", "clearance_hole", "counterbore", "stock_length", "length_range", "magnet", "sheet", "cutter", "movement",
    "friction", "panel", "tooth_allowable", "corner_relief", "sheet_tolerance", "key",
)  # fmt: skip


# Which library files hold a kind of table, so that a fixture costs only the tables it names.
FILES: dict[str, tuple[str, ...]] = {
    "thread": ("threads_metric", "threads_unified", "screws_tapping_iso", "screws_tapping_inch"),
    "hexagon_head": ("heads_hexagon_iso", "heads_hexagon_inch"),
    "socket_head": ("heads_socket_iso", "heads_socket_inch"),
    "countersunk_head": ("heads_countersunk",),
    "button_head": ("heads_button",),
    "nut": ("nuts_iso", "nuts_inch"),
    "washer": ("washers_iso", "washers_inch"),
    "tapping_screw": ("screws_tapping_iso", "screws_tapping_inch"),
    "wood_screw": ("wood_screws",),
    "insert": ("inserts",),
    "tee_nut": ("tee_nuts",),
    "clearance_hole": ("clearance_iso", "clearance_inch"),
    "counterbore": ("counterbores",),
    "stock_length": ("lengths",),
    "length_range": ("lengths",),
    "magnet": ("magnets",),
    "sheet": ("sheet_goods",),
    "cutter": ("cutters",),
}


@record
class Row:
    """One row: its key (the first cell as text), the cells by column, and the units by column."""

    table: str
    key: str
    cells: dict[str, Cell]
    units: dict[str, str]
    origin: LibraryRow

    def mm(self, column: str) -> float | None:
        """A length cell in mm; None where it is unknown or the table has no such column."""
        cell = self.cells.get(column)
        if isinstance(cell, Band):
            return cell.mean
        if not isinstance(cell, Fraction):
            return None
        return float(cell * UNITS[self.units.get(column) or "mm"][1])

    def band(self, column: str) -> Band | None:
        """A length cell with its limits, mm."""
        cell = self.cells.get(column)
        if isinstance(cell, Band):
            return cell
        value = self.mm(column)
        return None if value is None else Band(value, value, value, self.origin)

    def number(self, column: str) -> float | None:
        """A bare number."""
        cell = self.cells.get(column)
        return float(cell) if isinstance(cell, Fraction) else None

    def text(self, column: str) -> str:
        """A word or text; empty where unknown."""
        cell = self.cells.get(column)
        return cell if isinstance(cell, str) else ""


@record
class Table:
    """A table: `standards` are the standards (with product words) that it holds."""

    name: str
    kind: str
    standards: tuple[str, ...]
    source: str
    columns: tuple[tuple[str, str], ...]
    rows: tuple[Row, ...]
    users_own: bool = False
    span: Span | None = field(default=None, compare=False)


Report = Callable[[Diagnostic], None]


def table_of(block: Block, report: Report, users_own: bool) -> Table | None:
    """The table in a `table NAME is KIND` block; faults are reported, broken rows left out."""
    heading = _words(block.heading)
    if len(heading) != 3 or heading[1] != "is":
        report(
            _fault(
                "table-form",
                "a table's heading is its name, `is` and its kind",
                block.heading.span,
                "for example `table my_insert is insert`",
            )
        )
        return None
    name, kind = heading[0], heading[2]
    if kind not in KINDS:
        near = nearest(kind, KINDS)
        remedy = f"did you mean `{near}`?" if near else "the kinds are " + ", ".join(KINDS)
        report(_fault("unknown-kind", f"`{kind}` is no kind of table", block.heading.phrases[0].items[-1].span, remedy))
        return None
    facts = {line.word.text: line for line in block.facts if line.word.text != "row"}
    for word, line in facts.items():
        if word not in ("standard", "source", "columns", "note"):
            report(
                _fault(
                    "unknown-fact",
                    f"a table has no fact `{word}`",
                    line.word.span,
                    "its facts are standard, source, columns and row",
                )
            )
    if "columns" not in facts:
        if not block.broken:
            report(
                _fault(
                    "missing-fact",
                    f"the table `{name}` has no `columns`",
                    block.heading.span,
                    "add a line such as `columns thread, outside mm, hole mm`",
                )
            )
        return None
    if users_own and "source" not in facts and not block.broken:
        report(
            _fault(
                "missing-fact",
                f"the table `{name}` has no `source`",
                block.heading.span,
                'add a line such as `source "measured: five of a box of fifty"`',
            )
        )
    columns = _columns(facts["columns"], report)
    source = _source(facts.get("source"))
    standards = (
        tuple(" ".join(item.span.text for item in phrase.items) for phrase in facts["standard"].phrases)
        if "standard" in facts
        else ()
    )
    rows = []
    for line in block.facts:
        if line.word.text == "row":
            row = _row(name, line, columns, source, users_own, report)
            if row is not None:
                rows.append(row)
    return Table(name, kind, standards, source, columns, tuple(rows), users_own, block.heading.span)


def _fault(rule: str, message: str, span: Span, remedy: str) -> Diagnostic:
    return Diagnostic(rule, "error", message, span, remedy=remedy)


def _words(line: Line) -> list[str]:
    if len(line.phrases) != 1:
        return []
    return [item.text for item in line.phrases[0].items if isinstance(item, (Name, Connective))]


def _source(line: Line | None) -> str:
    if line is None or not line.phrases[0].items:
        return ""
    item = line.phrases[0].items[0]
    return item.value if isinstance(item, Text) else item.span.text


def _columns(line: Line, report: Report) -> tuple[tuple[str, str], ...]:
    columns: list[tuple[str, str]] = []
    for phrase in line.phrases:
        words = phrase.span.text.split()
        unit = " ".join(words[1:])
        if not words or unit not in UNITS:
            report(
                _fault(
                    "table-form",
                    f"`{phrase.span.text}` is not a column",
                    phrase.span,
                    "a column is a name, or a name and a unit: `outside mm`",
                )
            )
            continue
        columns.append((words[0], unit))
    return tuple(columns)


def _row(name: str, line: Line, columns: tuple[tuple[str, str], ...], source: str, users_own: bool, report: Report) -> Row | None:
    if len(line.phrases) != len(columns):
        message = f"the row has {len(line.phrases)} cells; the table `{name}` has {len(columns)} columns"
        report(_fault("table-form", message, line.span, "one cell for each of " + ", ".join(column for column, _ in columns)))
        return None
    cells: dict[str, Cell] = {}
    units: dict[str, str] = {}
    for (column, unit), phrase in zip(columns, line.phrases, strict=True):
        units[column] = unit
        try:
            cells[column] = _cell(phrase, unit)
        except ValueError as error:
            report(
                _fault(
                    "table-form",
                    f"the cell `{phrase.span.text}` {error}",
                    phrase.span,
                    f"the column `{column}` holds {unit or 'bare'} values",
                )
            )
            return None
    key = line.phrases[0].span.text
    row_source = cells.get("source")
    status = cells.get("status")
    origin = LibraryRow(
        name,
        key,
        row_source if isinstance(row_source, str) else source,
        "measured" if users_own else status if isinstance(status, str) else "",
        line.span if users_own else None,
    )
    return Row(name, key, cells, units, origin)


def _cell(phrase: Phrase, unit: str) -> Cell:
    if len(phrase.items) != 1:
        raise ValueError("has more than one part")
    return _value(phrase.items[0], unit)


def _value(item: Item, unit: str) -> Cell:
    if isinstance(item, Number):
        if item.unit is not None and item.unit.text != unit:
            raise ValueError(f"has the unit {item.unit.text}")
        return item.value
    if isinstance(item, PlusMinus):
        middle, deviation = item.middle, item.deviation
        if not isinstance(middle, Number) or not isinstance(deviation, Number):
            raise ValueError("is not a number with `+/-`")
        factor = UNITS[unit or "mm"][1]
        mean, plus = middle.value * factor, deviation.value * factor
        return Band(float(mean), float(mean - plus), float(mean + plus), item.span)
    if isinstance(item, Name):
        return None if item.text == "unknown" else item.text
    if isinstance(item, Text):
        return item.value
    if isinstance(item, (Designation, Standard, RuleName)):
        return item.text
    raise ValueError("is not a number, a word or a text")
