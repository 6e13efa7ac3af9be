"""Rows: a table as plain data, ready for any format."""

from __future__ import annotations

from trivet.record import record

Cell = str | int | float | None


@record
class Column:
    """A column; `unit` is empty where the cells carry none or carry their own."""

    name: str
    unit: str = ""

    @property
    def heading(self) -> str:
        """The name, followed by the unit in parentheses where there is one."""
        return f"{self.name} ({self.unit})" if self.unit else self.name


@record
class Rows:
    """A titled table; every row has one cell per column.

    Whoever makes a row decides the number of decimals: a cell whose decimals matter is a string, already printed.
    Raises `ValueError` when a row is too short or too long.
    """

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for index, row in enumerate(self.rows):
            if len(row) != len(self.columns):
                raise ValueError(f"row {index} of {self.title!r} has {len(row)} cells for {len(self.columns)} columns")
