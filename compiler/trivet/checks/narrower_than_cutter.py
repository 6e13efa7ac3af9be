"""Holes and pockets that their cutter does not enter."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._cuts import Cut, quoted
from trivet.checks._equal import also_here, grouped
from trivet.checks._narrow import SAME_MM, narrow_rounds
from trivet.checks._round import down_told
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


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Round cuts as they are drawn, one finding for equal ones of one statement; then pockets as they are stated."""
    can_drill = {*(hole.name.text for hole in design.holes), *(pivot.name.text for pivot in design.pivots)}
    for cuts in grouped(narrow_rounds(design, derived)):
        first = cuts[0]
        shape, cutter = first.feature.shape, first.feature.cutter_diameter_mm
        assert isinstance(shape, Round)
        diameter = shape.diameter_mm
        has, needs = two_lengths(diameter, cutter, design.units)
        drill = f"state `drill {_drill(diameter, design, first)}`, or use" if can_drill & set(first.names) else "use"
        many = f" and {len(cuts) - 1} like it are" if len(cuts) > 1 else " is"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the {quoted(first.title)}{many} narrower than the cutter: {has}; at least {needs} is required",
            first.span,
            also_here((cut.whole, cut.span) for cut in cuts if cut.span != first.span),
            f"{drill} a cutter of {down_told(diameter, design.units)} or less",
            tuple(dict.fromkeys(name for cut in cuts for name in cut.names)),
        )
    yield from _narrow_pockets(design)


def _drill(diameter: float, design: Design, cut: Cut) -> str:
    """As stated for a hole; a pilot takes the nearest tenth of a millimetre, as drills are sold (common practice, no source)."""
    pilot = design.units == "mm" and not any(hole.name.text in cut.names for hole in design.holes)
    return length_text(round(diameter, 1) if pilot else diameter, design.units)


def _narrow_pockets(design: Design) -> Iterator[Diagnostic]:
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
            f"use a cutter of {down_told(wide, design.units)} or less",
            (pocket.name.text,),
        )
