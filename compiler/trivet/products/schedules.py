"""The hardware schedule and the cut list, as tables for a spreadsheet and as pages."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products.product import Context, Product
from trivet.record import replace


def schedules(context: Context) -> Iterator[Product]:
    """What to buy and what to cut."""
    from trivet.emit.csv import csv
    from trivet.emit.markdown import markdown
    from trivet.tables.cut_list import cut_list_rows
    from trivet.tables.hardware_schedule import hardware_rows, hardware_tables
    from trivet.tables.report_sheets import nest_notes
    from trivet.tables.substitutes import substitute_rows, with_substitutes

    design, derived, mark = context.design, context.derived, context.mark
    tables = (*hardware_tables(design, derived), *((substitute_rows(context.substitutes),) if context.substitutes else ()))
    page = b"\n".join(markdown(context.marked(rows), level=1) for rows in tables)
    found = cut_list_rows(design, derived)
    cuts = context.marked(replace(found, notes=(*found.notes, *nest_notes(context.nest))))
    yield Product(f"{mark}hardware.csv", "hardware schedule", csv(context.marked(with_substitutes(hardware_rows(design, derived), context.substitutes))))
    yield Product(f"{mark}hardware.md", "hardware schedule", page)
    yield Product(f"{mark}cut_list.csv", "cut list", csv(cuts))
    yield Product(f"{mark}cut_list.md", "cut list", markdown(cuts, level=1))
