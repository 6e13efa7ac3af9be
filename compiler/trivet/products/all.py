"""All products in the order in which they are made."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from trivet.products.assembly import assembly
from trivet.products.cut_drawings import cut_drawings
from trivet.products.inspection import inspection
from trivet.products.legend import legend
from trivet.products.page import page
from trivet.products.paper_templates import paper_templates
from trivet.products.product import Context, Product
from trivet.products.publish import publish
from trivet.products.schedules import schedules
from trivet.products.sheets import sheets

Make = Callable[[Context], Iterator[Product]]

PRODUCTS: tuple[Make, ...] = (
    cut_drawings,
    sheets,
    legend,
    schedules,
    inspection,
    assembly,
    paper_templates,
)

# These see the report's facts in their context.
PRODUCTS_FROM_REPORT: tuple[Make, ...] = (page, publish)
