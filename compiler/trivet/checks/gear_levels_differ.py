"""Gears that meshes and shafts put at two heights at once."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._faults import of_kind
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "gear-levels-differ",
    "error",
    "gears in mesh that the shafts between them put at different heights",
    "gears in mesh lie at one height; on a shaft one gear lies below the other",
    "derived: a mesh keeps the level, a shaft changes it by one",
    failing="""
+ 
+ gear lower
+   teeth 16
+   on_shaft_with hub, below
+ mesh west
+   with lower
""",
    passing="""
+ 
+ gear lower
+   teeth 16
+   on_shaft_with hub, below
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each mesh or shaft that does not agree."""
    return of_kind(RULE, "two_levels", design, derived, "turn `below` into `above` (or the other way), or leave out the mesh")
