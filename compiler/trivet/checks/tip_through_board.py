"""A screw so long that its tip would come through the topside before any travel is left."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._stroke import nothing_left
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "tip-through-board",
    "error",
    "a screw so long that its tip would come through the topside before any travel is left",
    "a tip that stands out of the board lifts the work and marks it",
    "derived: extension >= bearing face + length + 0.5 mm - topside; the 0.5 mm is common practice, no source",
    failing="""
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 45 mm, pocket 5.8 mm
""",
    passing="""
+ # 30 mm long, the tip stays under the topside.
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Where this bound leaves no stroke (`_stroke.named` says which of the two ends is named)."""
    yield from nothing_left(
        RULE, design, derived, "a screw shorter than {screw}, or a board thicker by more than {}, leaves a travel"
    )
