"""A partly threaded screw whose plain shank enters the insert or the nut before any travel is left."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._stroke import nothing_left
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "shank-in-insert",
    "error",
    "a partly threaded screw whose plain shank enters the insert or the nut before any travel is left",
    "the plain shank has no thread and jams in the insert",
    "derived: extension >= bearing face + length - threaded length - low end of the live thread; threaded "
    "length 2 d + 6 mm of ISO 4014, from memory",
    failing="""
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4014, length 50 mm, pocket 5.8 mm
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 480 by 350 mm, corner_radius 12 mm
+   layers 2
""",
    passing="""
+ # A screw of ISO 4017 is threaded throughout.
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Where this bound leaves no stroke (`_stroke.named` says which of the two ends is named)."""
    yield from nothing_left(RULE, design, derived, "order the screw fully threaded, or with a plain shank shorter by more than {}")
