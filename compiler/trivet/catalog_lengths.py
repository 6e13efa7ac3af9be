"""How screws are threaded and in which lengths they are sold."""

from __future__ import annotations

from typing import Literal, Protocol

from trivet.catalog_keys import holds, sizes
from trivet.catalog_rows import Row, Table
from trivet.model.hardware import Thread, ThreadLength
from trivet.source import LibraryRow

# The kinds of tables that hold heads, and the form of each.
HEADS: dict[str, Literal["hexagon", "socket", "countersunk", "button", "pan", "wood"]] = {
    "hexagon_head": "hexagon", "socket_head": "socket", "countersunk_head": "countersunk", "button_head": "button",
    "tapping_screw": "pan", "wood_screw": "wood",
}  # fmt: skip


class Tables(Protocol):
    """What is asked of the catalogue here."""

    def tables(self, kind: str) -> list[Table]:
        """All tables of a kind."""

    def find(self, kind: str, keys: tuple[str, ...], standard: str = "") -> Row | None:
        """The first row filed under one of the keys."""


def lengths_of(catalog: Tables, standard: str, thread: Thread) -> tuple[ThreadLength, tuple[float, ...], LibraryRow | None]:
    """How a screw is threaded and the lengths sold (mm, ascending; empty where none is known), with the row they are from."""
    row = catalog.find("length_range", sizes(thread), standard)
    if row is not None:
        threaded = ThreadLength(
            full=row.text("threaded") == "throughout",
            factor=row.number("thread_diameters") or 0.0,
            to_125_mm=row.mm("thread_extra_to_125") or 0.0,
            to_200_mm=row.mm("thread_extra_to_200") or 0.0,
            above_mm=row.mm("thread_extra_longer") or 0.0,
            origin=row.origin,
        )
        low, high = row.mm("length_min") or 0.0, row.mm("length_max") or 1e9
        lengths = [mm for table in catalog.tables("stock_length") if table.name == row.text("series") for mm in lengths_in(table)]
        return threaded, tuple(mm for mm in lengths if low <= mm <= high), row.origin
    tables = [table for table in catalog.tables("stock_length") if holds(table, standard)]
    stock = tuple(lengths_in(tables[0])) if tables else ()
    head = next(
        (catalog.find(kind, sizes(thread), standard) for kind in HEADS if any(holds(t, standard) for t in catalog.tables(kind))),
        None,
    )
    stated = head.mm("thread_length") if head is not None else None
    if stated is not None:
        # ASME B18.2.1: the table's thread length holds to 6 in; 1/4 in more above (from memory).
        return (
            ThreadLength(
                full=False, factor=0.0, to_125_mm=stated, to_200_mm=stated + 6.35, above_mm=stated + 6.35, first_to_mm=152.4
            ),
            stock,
            tables[0].rows[0].origin if tables else None,
        )
    origin = tables[0].rows[0].origin if tables and tables[0].rows else None
    if standard.startswith("ASME B18.3"):
        # ASME B18.3: thread length 2 D + 1/2 in (from memory), short ones threaded throughout.
        return ThreadLength(full=False, factor=2.0, to_125_mm=12.7, to_200_mm=12.7, above_mm=12.7), stock, origin
    return ThreadLength(full=True), stock, origin


def unknown_threading(catalog: Tables, standard: str, thread: Thread) -> tuple[str, str]:
    """What is wrong with how a row says that a screw is threaded, and the remedy; two empty texts where it can be read."""
    row = catalog.find("length_range", sizes(thread), standard)
    word = row.text("threaded") if row is not None else "throughout"
    if row is None or word == "throughout":
        return "", ""
    if word != "partly":
        said = f"`{word}`" if word else "nothing"
        return f"`{row.table}` says {said} under `threaded` for {row.key}", "write `throughout` or `partly`"
    if row.number("thread_diameters") is None:
        return f"`{row.table}` does not say how long the thread of {row.key} is", "add `thread_diameters` and `thread_extra_to_125 mm`, or `throughout`"
    return "", ""


def lengths_in(table: Table) -> list[float]:
    """The lengths of a table, mm, ascending."""
    return sorted(mm for row in table.rows if (mm := row.mm("length")) is not None)
