"""The assembly sheet with its figures."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products.product import Context, Product


def assembly(context: Context) -> Iterator[Product]:
    """`assembly.md`, and a figure for each step that words alone do not show."""
    from trivet.drawing.draft import WORDS, draft_figure
    from trivet.drawing.figures import step_figure
    from trivet.emit.figure_svg import figure_svg
    from trivet.emit.markdown_page import markdown_page
    from trivet.record import replace
    from trivet.solve.assembly import assembly as ordered
    from trivet.tables.assembly import assembly_page, bench_steps
    from trivet.tables.prose_page import Picture

    design, derived = context.design, context.derived
    order = ordered(design, derived)
    steps = bench_steps(design, derived, order)
    pictures: dict[int, Picture] = {}
    for number, step in enumerate(steps, start=1):
        figure = step_figure(design, derived, step.kind, step.parts)
        if figure is not None:
            figure = draft_figure(figure) if context.wanted.draft else figure
            path = f"assembly/{context.mark}step-{number}.svg"
            pictures[number] = Picture(path, figure.words)
            yield Product(path, "assembly figure", figure_svg(figure))
    page = assembly_page(design, derived, order, steps, pictures)
    if context.wanted.draft:
        page = replace(page, title=f"{WORDS}: {page.title}")
    yield Product(f"{context.mark}assembly.md", "assembly sheet", markdown_page(page))
