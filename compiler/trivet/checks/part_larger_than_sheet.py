"""A part that does not fit on its sheet whichever way it is laid."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import up_text
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.nest_job import margin_mm, stocks_of, turns_deg
from trivet.units import length_text

RULE = Rule(
    "part-larger-than-sheet",
    "error",
    "a part whose box is larger than the sheet that it is cut from, less the margin along the sheet's edges",
    "it cannot be cut in one piece",
    "derived: the boxes of part and sheet",
    failing="""
-   size 1220 by 610 mm
+   size 450 by 610 mm
-   outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 620 by 350 mm, corner_radius 12 mm
""",
    passing="""
-   size 1220 by 610 mm
+   size 500 by 610 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a part; a part may be turned by a right angle unless it states its grain."""
    names = [*(b.name for b in design.boards), *(g.name for g in design.gears), *(s.name for s in design.spacers)]
    origins = {name.text: name.origin for name in names}
    tips = {state.id: 2.0 * state.tip_radius_mm for state in derived.train.gears}
    said: set[str] = set()
    for part in derived.parts:
        whole = part.belongs_to or part.part
        width, height = part.sheet.width, part.sheet.height
        if width is None or height is None or whole in said:
            continue
        x0, y0, x1, y1 = part.outline.bounds if part.kind != "gear" else (0.0, 0.0, tips[whole], tips[whole])
        box_mm = (x1 - x0, y1 - y0)
        ways = {box_mm if turn in (0.0, 180.0) else box_mm[::-1] for turn in turns_deg(part)}
        margin = margin_mm(part.sheet)
        stocks = [(stock.width_mm - 2.0 * margin, stock.height_mm - 2.0 * margin) for stock in stocks_of(part.sheet)]
        if any(wide <= w + 1e-6 and high <= h + 1e-6 for wide, high in ways for w, h in stocks):
            continue
        helps = any(wide <= w + 2.0 * margin and high <= h + 2.0 * margin for wide, high in ways for w, h in stocks)
        said.add(whole)
        unit = design.units
        box, sheet = (f"{length_text(a, unit)} by {length_text(b, unit)}" for a, b in (box_mm, (width.mm, height.mm)))
        needed = " by ".join(up_text(side + 2.0 * margin, unit) for side in box_mm)
        grained = len(turns_deg(part)) == 2
        if grained and ways == {box_mm[::-1]}:
            needed = " by ".join(up_text(side + 2.0 * margin, unit) for side in box_mm[::-1])
        turned = " with its grain as stated" if grained else ", turned or not"
        along = " (along x, then y, as `size` has them)," if grained else ","
        edge = f" less an edge margin of {length_text(margin, unit)} all round" if margin > 0.0 else ""
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{whole}` takes {box}; the sheet `{part.sheet.name}` is {sheet}{edge} and it does not fit{turned}",
            place(origins.get(whole.partition(".")[0]), design.origin),
            related((f"the size of `{part.sheet.name}` is stated here", width.origin)),
            f"a sheet of at least {needed}{along} or a smaller part" + (", or `edge_margin 0 mm` where the sheet's edges are true" if helps else ""),
            (whole,),
        )
