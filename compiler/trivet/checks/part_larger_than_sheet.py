"""A part that does not fit on its sheet whichever way it is laid."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import length_text

RULE = Rule(
    "part-larger-than-sheet",
    "error",
    "a part whose box is larger than the sheet that it is cut from",
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
        ways = [(x1 - x0, y1 - y0)] if part.grain is not None else [(x1 - x0, y1 - y0), (y1 - y0, x1 - x0)]
        if any(wide <= width.mm + 1e-6 and high <= height.mm + 1e-6 for wide, high in ways):
            continue
        said.add(whole)
        unit = design.units
        box, sheet = (f"{length_text(a, unit)} by {length_text(b, unit)}" for a, b in (ways[0], (width.mm, height.mm)))
        turned = " with its grain as stated" if part.grain is not None else ", turned or not"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{whole}` takes {box}; the sheet `{part.sheet.name}` is {sheet} and it does not fit{turned}",
            place(origins.get(whole.partition(".")[0]), design.origin),
            related((f"the size of `{part.sheet.name}` is stated here", width.origin)),
            "a larger sheet, or a smaller part",
            (whole,),
        )
