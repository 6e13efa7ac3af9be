"""A screw too short to hold in its insert over any travel."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._stroke import nothing_left
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "thread-leaves-insert",
    "error",
    "a screw too short to hold in its insert over any travel",
    "less than one diameter of thread in the live part of the insert strips or drops out",
    "common practice, no source: one diameter, or the whole live thread where that is shorter",
    failing="""
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 20 mm, pocket 5.8 mm
""",
    passing="""
+ # 30 mm long, the screw holds over the travel.
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Where this bound leaves no stroke (`_stroke.named` says which of the two ends is named)."""
    yield from nothing_left(RULE, design, derived, "a screw longer by more than {}, or as much more live thread, leaves a travel")
