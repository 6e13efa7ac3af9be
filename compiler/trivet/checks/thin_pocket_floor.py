"""Blind cuts that leave little or nothing under them."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._cuts import quoted
from trivet.checks._depths import Depth, depths_of
from trivet.checks._opposite import opposite_pairs
from trivet.checks._round import down_told
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import length_text, two_lengths

RULE = Rule(
    "thin-pocket-floor",
    "warning",
    "a pocket, recess or blind hole, or two from opposite faces over one another, leave less than 3 mm of wood where the sheet is"
    " thinnest; nothing at all is an error",
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
# Depths that are advised are multiples of this.
STEP_MM = 0.1


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for equal cuts of one statement."""
    groups: dict[tuple[str, float, float], list[Depth]] = {}
    for depth in depths_of(design, derived):
        if depth.wood.least - depth.depth_mm < LEAST_FLOOR_MM - 1e-9:
            groups.setdefault((depth.words, depth.depth_mm, depth.wood.least), []).append(depth)
    for (words, deep, wood), depths in groups.items():
        floor, least = two_lengths(wood - deep, LEAST_FLOOR_MM, design.units)
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
            f"the {words}, {length_text(deep, design.units)} deep, {what}; at least {least} of wood is wanted under it",
            place(*depths[0].origins),
            related(("the thickness is stated here", depths[0].wood.origin)),
            _advice(depths[0].advice, wood - LEAST_FLOOR_MM - depths[0].added_mm, design.units),
            tuple(dict.fromkeys(name for depth in depths for name in depth.names)),
        )
    yield from _between(design, derived)


def _advice(words: str, depth_mm: float, unit: str) -> str:
    """The depth that leaves wood enough, where there is one."""
    return words.format(down_told(depth_mm, unit, STEP_MM)) if depth_mm > STEP_MM - 1e-6 else "a thicker sheet"


def _between(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Cuts from opposite faces over one another; one finding for each pair of statements."""
    seen: set[tuple[str, ...]] = set()
    for one, other, left in opposite_pairs(design, derived, LEAST_FLOOR_MM):
        key = (one.title, other.title, one.part.part)
        if key in seen:
            continue
        seen.add(key)
        floor, least = two_lengths(max(left, 0.0), LEAST_FLOOR_MM, design.units)
        wood = one.part.thickness
        yield Diagnostic(
            RULE.slug,
            "warning",
            f"the {quoted(one.title)} and, from the other face, the {quoted(other.title)} leave {floor} of `{one.whole}` between them,"
            f" {length_text(wood.least, design.units)} thick at the thinnest; at least {least} is wanted",
            one.span,
            related((f"the {quoted(other.title)}", other.span)),
            _advice("depths that add up to {} or less", wood.least - LEAST_FLOOR_MM, design.units),
            tuple(dict.fromkeys((*one.names[:-1], *other.names))),
        )
