"""The hardware schedule and the cut list, as tables for a spreadsheet and as pages."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products.product import Context, Product


def schedules(context: Context) -> Iterator[Product]:
    """What to buy and what to cut."""
    from trivet.emit.csv import csv
    from trivet.emit.markdown import markdown
    from trivet.tables.cut_list import cut_list_rows
    from trivet.tables.hardware_schedule import hardware_rows, hardware_tables

    design, derived, mark = context.design, context.derived, context.mark
    page = b"\n".join(markdown(context.marked(rows), level=1) for rows in hardware_tables(design, derived))
    cuts = context.marked(cut_list_rows(design, derived))
    yield Product(f"{mark}hardware.csv", "hardware schedule", csv(context.marked(hardware_rows(design, derived))))
    yield Product(f"{mark}hardware.md", "hardware schedule", page)
    yield Product(f"{mark}cut_list.csv", "cut list", csv(cuts))
    yield Product(f"{mark}cut_list.md", "cut list", markdown(cuts, level=1))
