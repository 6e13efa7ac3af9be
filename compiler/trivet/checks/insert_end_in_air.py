"""Holes sunk over an insert, so that part of it stands in the air."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import down_told
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.bare_inserts import bare_inserts
from trivet.solve.derived import Derived
from trivet.units import length_text, two_lengths

RULE = Rule(
    "insert-end-in-air",
    "error",
    "a hole, counterbore, magnet's or dowel's hole about the axis of an insert that takes away more than 0.5 mm of the wood round it",
    "what stands in the air holds nothing; cuts beside the axis are found by another rule",
    "derived: heights of both; the 0.5 mm are common practice, no source",
    failing="""
- at deck.centre
+   at (240, 175) mm
- foot corner
+ hole sunk
+   into deck
+   diameter 20 mm
+   blind 6 mm
+   at (75.66341246569309, 280.9537111430713) mm
+ 
+ foot corner
""",
    passing="""
- at deck.centre
+   at (240, 175) mm
- foot corner
+ hole sunk
+   into deck
+   diameter 20 mm
+   blind 2 mm
+   at (75.66341246569309, 280.9537111430713) mm
+ 
+ foot corner
""",
)

LEAST_MM = 0.5


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for a foot and a cut."""
    unit = design.units
    for found in bare_inserts(design, derived):
        foot, zone, use = found.foot, found.foot.insert_z_mm, found.foot.foot.insert
        if found.bare_mm <= LEAST_MM or zone is None or use is None:
            continue
        has, most = two_lengths(found.bare_mm, LEAST_MM, unit)
        room = found.depth_mm - found.bare_mm
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{found.hole.id}` lays {has} of the insert of `{foot.id}` bare, which is {length_text(zone[1] - zone[0], unit)} long; at most"
            f" {most} is allowed",
            place(found.hole.origin, design.origin),
            related((f"the insert of `{foot.id}`", use.origin)),
            f"a depth of {down_told(room, unit, 0.1, 0.01)} or less, or another place" if room > LEAST_MM else "another place",
            (found.hole.id.partition(".")[0], foot.id),
        )
