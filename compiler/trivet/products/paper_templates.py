"""Full-size templates on paper, for those who cut with a jigsaw, a bandsaw or a router held in the hand."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.products.product import Context, Product

CAUTIONS = (
    "Cautions: clamp the work and keep both hands on the tool; never hold or hand-feed a part smaller than your hand is long: leave it in"
    " the sheet, or screw it to a carrier. Guard eyes, ears and lungs. Follow your tools' manuals, local codes and licensed practice.",
    "Glue in well aired places, as the adhesive's label says. Paper stretches with damp: measure the bars again before you glue.",
)


def paper_templates(context: Context) -> Iterator[Product]:
    """One document of pages in the size asked for; nothing where none was."""
    paper = context.wanted.paper
    if paper is None:
        return
    from trivet.drawing.draft import as_draft
    from trivet.drawing.paper import Page, paper_pages
    from trivet.drawing.parts import part_sheets
    from trivet.emit.pdf import pdf

    design = context.design
    pages: list[Page] = []
    lines = []
    for drawn in part_sheets(design, context.derived):
        sheet = as_draft(drawn) if context.wanted.draft else drawn
        found = paper_pages(sheet, paper)
        lines.append(
            f"{sheet.part}, {sheet.face}: {len(found)} {'page' if len(found) == 1 else 'pages'}; {sheet.notes[1] if len(sheet.notes) > 1 else ''}"
        )
        pages += found
    title = design.title or design.name
    mark = "DRAFT, not for cutting: " if context.wanted.draft else ""
    cover = (
        f"{mark}{title}{f', revision {design.revision}' if design.revision else ''}: templates at full size",
        "Print at 100 percent, without fitting to the page. Measure the square below and both bars on each page before you cut: a printer may"
        " be wrong in one direction only.",
        "Where a part takes several pages, lay each over its neighbour so that the numbered crosses meet, and tape them. Lines are the edges as"
        " they are to be cut; a tool's width is not added. Teeth are drawn as the declared cutter leaves them.",
        "Drawings of the underside are mirrored already: glue them on the underside as they are.",
        *CAUTIONS,
    )
    yield Product(f"paper/{context.mark}templates-{paper}.pdf", "paper templates", pdf(cover[0], cover, tuple(lines), tuple(pages)))
