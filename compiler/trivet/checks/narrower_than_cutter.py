"""Holes and pockets that their cutter does not enter."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._cuts import Cut, cuts_of
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.feature import Round
from trivet.units import length_text, two_lengths

RULE = Rule(
    "narrower-than-cutter",
    "error",
    "a bore, hole, counterbore or pocket is narrower than the cutter that is to cut it, and no drill is stated",
    "the cutter leaves at least its own width",
    "derived: a round cutter leaves no cut narrower than itself",
    failing="""
-   drill 5 mm
""",
    passing="""
-   drill 5 mm
+   drill 4.5 mm
""",
)

# Sizes closer than this are equal.
SAME_MM = 1e-6


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Round cuts as they are drawn, one finding for equal ones of one statement; then pockets as they are stated."""
    groups: dict[tuple[int, float, float], list[Cut]] = {}
    for cut in cuts_of(design, derived):
        shape, cutter = cut.feature.shape, cut.feature.cutter_diameter_mm
        if isinstance(shape, Round) and shape.diameter_mm < cutter - SAME_MM and not cut.drilled:
            start = cut.span.start if cut.span is not None else -1
            groups.setdefault((start, round(shape.diameter_mm, 6), cutter), []).append(cut)
    can_drill = {*(hole.name.text for hole in design.holes), *(pivot.name.text for pivot in design.pivots)}
    for (_, diameter, cutter), cuts in groups.items():
        first = cuts[0]
        has, needs = two_lengths(diameter, cutter, design.units)
        drill = f"state `drill {length_text(diameter, design.units)}`, or use" if can_drill & set(first.names) else "use"
        many = f" and {len(cuts) - 1} like it are" if len(cuts) > 1 else " is"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the {first.title}{many} narrower than the cutter: {has}; at least {needs} is required",
            first.span,
            (),
            f"{drill} a cutter of {has} or less",
            tuple(dict.fromkeys(name for cut in cuts for name in cut.names)),
        )
    cutters = {item.name.text: item for item in design.cutters}
    boards = {item.name.text: item for item in design.boards}
    for pocket in design.pockets:
        cutter_item = cutters[(pocket.cutter or boards[pocket.into.text].cutter).text]
        wide = min(pocket.outline.width_mm, pocket.outline.height_mm)
        if cutter_item.diameter is None or wide >= cutter_item.diameter.mm - SAME_MM:
            continue
        has, needs = two_lengths(wide, cutter_item.diameter.mm, design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the pocket `{pocket.name}` is narrower than its cutter: {has}; at least {needs} is required",
            place(pocket.outline.origin, pocket.name.origin),
            related((f"`{cutter_item.name}` is declared here", cutter_item.diameter.origin)),
            f"use a cutter of {has} or less",
            (pocket.name.text,),
        )
