"""A gear for which two statements give different places."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._faults import of_kind
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "gear-places-differ",
    "error",
    "two statements put a gear, or the centres of a mesh, at places more than 0.01 mm apart",
    "only one of them can be drilled; the other is probably a slip",
    "derived: places from `at`, meshes, rings and shafts are compared",
    failing="""
-   with se at 298 deg
+   with se at 298 deg, centre_distance 120.5 mm
- gear nw, sw, ne, se
+ gear se
+   teeth 20
+   at (404.338, 69.046) mm
+   carries corner
+ gear nw, sw, ne
""",
    passing="""
- gear nw, sw, ne, se
+ gear se
+   teeth 20
+   at (404.337, 69.046) mm
+   carries corner
+ gear nw, sw, ne
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each statement that does not agree."""
    return of_kind(RULE, "two_places", design, derived, "leave one of them out: what is not stated is derived")
