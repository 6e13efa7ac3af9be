"""Blind cuts that leave little or nothing under them."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._depths import Depth, depths_of
from trivet.checks._train import down_to, named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import length_text, two_lengths

RULE = Rule(
    "thin-pocket-floor",
    "warning",
    "a pocket, recess or blind hole leaves less than 3 mm of wood where the sheet is thinnest; nothing at all is an error",
    "a floor of one or two plies breaks out when it is cut or loaded",
    "common practice, no source",
    failing="""
+ 
+ pocket tray
+   into deck, topside
+   outline rectangle 40 by 20 mm
+   at (240, 30) mm
+   depth 15 mm
""",
    passing="""
+ 
+ pocket tray
+   into deck, topside
+   outline rectangle 40 by 20 mm
+   at (240, 30) mm
+   depth 14 mm
""",
)

LEAST_FLOOR_MM = 3.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for equal cuts of one statement."""
    groups: dict[tuple[str, float, float], list[Depth]] = {}
    for depth in depths_of(design, derived):
        if depth.wood.least - depth.depth_mm < LEAST_FLOOR_MM - 1e-9:
            groups.setdefault((depth.words, depth.depth_mm, depth.wood.least), []).append(depth)
    for (words, deep, wood), depths in groups.items():
        floor, least = two_lengths(max(wood - deep, 0.0), LEAST_FLOOR_MM, design.units)
        into = named(depth.into for depth in depths)
        thin = length_text(wood, design.units)
        gone = wood - deep <= 0.0
        what = (
            f"goes through {into}, {thin} thick at the thinnest"
            if gone
            else f"leaves {floor} of {into}, {thin} thick at the thinnest"
        )
        yield Diagnostic(
            RULE.slug,
            "error" if gone else "warning",
            f"the {words}, {length_text(deep, design.units)} deep, {what}; at least {least} is wanted",
            place(*depths[0].origins),
            related(("the thickness is stated here", depths[0].wood.origin)),
            f"a depth of {length_text(down_to(wood - LEAST_FLOOR_MM, 0.1), design.units)} or less"
            if wood > LEAST_FLOOR_MM
            else "a thicker sheet",
            tuple(dict.fromkeys(name for depth in depths for name in depth.names)),
        )
