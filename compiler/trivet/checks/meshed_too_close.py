"""Gears said to be in mesh whose centres are too close for any mesh."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._faults import of_kind
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.record import replace
from trivet.solve.derived import Derived

RULE = Rule(
    "meshed-too-close",
    "error",
    "two gears in mesh whose centres are nearer than their base radii together",
    "there is no line of action, so no pressure angle at which they could work",
    "derived: cos aw = A0 cos a/A has no solution below the sum of the base radii",
    failing="""
-   with se at 298 deg
+   with se
- gear nw, sw, ne, se
+ gear se
+   teeth 20
+   at (400, 85) mm
+   carries corner
+ gear nw, sw, ne
""",
    passing="""
-   with se at 298 deg
+   with se
- gear nw, sw, ne, se
+ gear se
+   teeth 20
+   at (404.5, 69) mm
+   carries corner
+ gear nw, sw, ne
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a mesh."""
    stated = {place(mesh.origin) for mesh in design.meshes if mesh.centre_distance is not None}
    for item in of_kind(RULE, "mesh_distance", design, derived, "move the gears apart, or leave the place out and give the mesh an angle"):
        yield replace(item, remedy="leave `centre_distance` out: it follows from the teeth") if item.span in stated else item
