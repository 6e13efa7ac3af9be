"""A pivot's wood screw whose point comes near or through the topside."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._bolts import SAME_MM, alike, is_wood_screw, origin_of, parts_of
from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.stack_pivot import TIP_BELOW_TOPSIDE_MM
from trivet.units import length_text, two_lengths

RULE = Rule(
    "screw-through-board",
    "error",
    "a pivot screw whose point comes through the topside, or within 1 mm of it",
    "a point in the work surface scratches the work, and a screw that nearly comes through lifts the face veneer",
    "derived: point = head + length against the thinnest board; the 1 mm is common practice, no source",
    failing="""
- screw ISO 7049, head recessed 7 mm
+   screw ISO 7049, head recessed 7 mm, length 32 mm
""",
    passing="""
- screw ISO 7049, head recessed 7 mm
+   screw ISO 7049, head recessed 7 mm, length 25 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each group of screws alike; a length not stated is chosen to stay inside."""
    for name, bolts in alike(derived):
        bolt = bolts[0]
        if not is_wood_screw(bolt) or bolt.stated_mm is None or bolt.stated_mm <= bolt.most_mm + SAME_MM:
            continue
        beyond = bolt.stated_mm - bolt.most_mm - TIP_BELOW_TOPSIDE_MM
        where = "through the topside" if beyond > 0.0 else "of the topside"
        point = (
            f"comes {length_text(beyond, design.units)} {where}"
            if beyond > 0.0
            else f"comes within {length_text(-beyond, design.units)} {where}"
        )
        measured, allowed = two_lengths(bolt.stated_mm, bolt.most_mm, design.units)
        gears = [derived.train.gear(part.partition(".")[2]).gear for part in parts_of(bolts)]
        boards = {level.board.name.text: level for level in derived.boards}
        board = boards[gears[0].under.text].board
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the screw of `{name}` is {measured} long and {point}; at most {allowed} stays inside",
            place(origin_of(bolt), bolt.of.origin),
            related=related((f"the board `{board.name.text}` that it is driven into", board.name.origin)),
            remedy=bolt.remedy,
            parts=parts_of(bolts),
        )
