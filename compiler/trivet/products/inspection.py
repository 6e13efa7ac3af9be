"""The inspection card: to fill in with calipers, as a table for a spreadsheet and as a page."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products.product import Context, Product


def inspection(context: Context) -> Iterator[Product]:
    """What to measure before anything is put together."""
    from trivet.emit.csv import csv
    from trivet.emit.markdown import markdown
    from trivet.tables.inspection import inspection_rows

    rows = context.marked(inspection_rows(context.design, context.derived))
    yield Product(f"{context.mark}inspection.csv", "inspection card", csv(rows))
    yield Product(f"{context.mark}inspection.md", "inspection card", markdown(rows, level=1))
