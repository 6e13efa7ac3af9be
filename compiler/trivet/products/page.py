"""The page and its picture: what a maker opens first, and what a folder shows of itself."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products.product import Context, Product


def page(context: Context) -> Iterator[Product]:
    """`index.html`, self-contained, and `preview.svg`."""
    from trivet.drawing.plan_view import plan_view
    from trivet.drawing.section_view import section_views
    from trivet.emit.html import html, preview
    from trivet.tables.page_facts import page_facts

    design, derived = context.design, context.derived
    facts = page_facts(design, derived, context.findings, context.facts, draft=context.wanted.draft)
    plan, sections = plan_view(design, derived), section_views(design, derived)
    yield Product(f"{context.mark}index.html", "page", html(facts, plan, sections))
    yield Product(f"{context.mark}preview.svg", "picture", preview(facts, plan, sections))
