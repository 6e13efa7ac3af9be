"""A socket too shallow for the screw's head to slide in it."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._stroke import nothing_left
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "hex-leaves-socket",
    "error",
    "a socket too shallow for the screw's head to slide in it",
    "the head must stay at least 0.6 of its height, or 4 mm, inside the socket, or the foot no longer turns with its gear",
    "common practice, no source",
    failing="""
- kind riding
+   kind sliding_hex
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 30 mm
+   socket depth 4 mm
- pad dome, drop 3 mm
+   post dome, drop 25 mm
+   held_by keeper, stock ply18, outline rectangle 120 by 60 mm
""",
    passing="""
- kind riding
+   kind sliding_hex
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 20 mm
+   socket depth 14 mm
- pad dome, drop 3 mm
+   post dome, drop 25 mm
+   held_by keeper, stock ply18, outline rectangle 120 by 60 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Where this bound leaves no stroke (`_stroke.named` says which of the two ends is named)."""
    yield from nothing_left(RULE, design, derived, "a `socket depth` of more than {socket} leaves a travel")
