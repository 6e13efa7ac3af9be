"""A pocket whose corners are stated sharper than its cutter leaves them."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import down_told, up_fine
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import two_lengths

RULE = Rule(
    "unrelieved-corner",
    "warning",
    "a pocket or opening states a `corner_radius` below its cutter's radius and is not `relieved`",
    "the cutter leaves its own radius, so a part with corners as stated does not go in; a pocket without `corner_radius` is not judged,"
    " since it may be meant for anything",
    "derived: the inside corner radius is the cutter's radius; so too Woodezine magazine, on inside corners",
    failing="""
+ 
+ pocket rest
+   into deck, topside
+   outline rectangle 40 by 20 mm, corner_radius 2 mm
+   depth 6 mm
+   at (240, 30) mm
""",
    passing="""
+ 
+ pocket rest
+   into deck, topside
+   outline rectangle 40 by 20 mm, corner_radius 2 mm, relieved
+   depth 6 mm
+   at (240, 30) mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each pocket."""
    cutters = {cutter.name.text: cutter for cutter in design.cutters}
    boards = {board.name.text: board for board in design.boards}
    for pocket in design.pockets:
        outline = pocket.outline
        cutter = cutters[(pocket.cutter or boards[pocket.into.text].cutter).text]
        if cutter.diameter is None or outline.relieved or outline.shape not in ("rectangle", "polygon"):
            continue
        radius = cutter.diameter.mm / 2.0
        if not 0.0 < outline.corner_radius_mm < radius - 1e-6:
            continue
        wanted, left = two_lengths(outline.corner_radius_mm, radius, design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the corners of `{pocket.name}` are stated as {wanted}; its cutter leaves {left}",
            place(outline.origin, pocket.name.origin),
            related((f"`{cutter.name}` is declared here", cutter.diameter.origin)),
            f"`relieved` opens the corners, `corner_radius {up_fine(radius, design.units)}` states what is"
            f" cut, or a cutter of {down_told(2.0 * outline.corner_radius_mm, design.units)} or less",
            (pocket.name.text,),
        )
