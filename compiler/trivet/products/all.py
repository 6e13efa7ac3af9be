"""All products in the order in which they are made."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from trivet.products.cut_drawings import cut_drawings
from trivet.products.paper_templates import paper_templates
from trivet.products.product import Context, Product
from trivet.products.schedules import schedules

Make = Callable[[Context], Iterator[Product]]

PRODUCTS: tuple[Make, ...] = (
    cut_drawings,
    schedules,
    paper_templates,
)

# These see the report's facts in their context.
PRODUCTS_FROM_REPORT: tuple[Make, ...] = ()
