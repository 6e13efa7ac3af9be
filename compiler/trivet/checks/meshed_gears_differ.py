"""Gears in mesh whose teeth do not fit each other."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.mesh_geometry import SAME
from trivet.solve.train_graph import train_graph
from trivet.units import two_lengths

RULE = Rule(
    "meshed-gears-differ",
    "error",
    "two gears in mesh have different modules or different pressure angles",
    "their teeth have different pitches along the line of action; they jam within a few teeth",
    "the rack that two meshing gears share: ISO 53 (from memory); equal base pitch pi m cos a is derived",
    failing="""
+ 
+ tooth_form fine_teeth
+   module 5 mm
+   backlash 0.5 mm
+ gear sw
+   teeth 20
+   tooth_form fine_teeth
+   carries corner
- gear nw, sw, ne, se
+ gear nw, ne, se
""",
    passing="""
+ 
+ tooth_form other_teeth
+   module 6 mm
+   backlash 0.6 mm
+ gear sw
+   teeth 20
+   tooth_form other_teeth
+   carries corner
- gear nw, sw, ne, se
+ gear nw, ne, se
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a mesh; the module first, for with it the pressure angle seldom matters any more."""
    if not any(fault.kind == "unlike_teeth" for fault in derived.train.faults):
        return
    graph = train_graph(design)
    for (a, b), mesh in graph.meshes.items():
        if graph.alike(a, b):
            continue
        forms = [graph.forms[graph.gears[name].tooth_form.text] for name in (a, b)]
        modules = [form.module_mm for form in forms]
        if not math.isclose(modules[0], modules[1], rel_tol=SAME):
            one, other = two_lengths(modules[0], modules[1], design.units)
            what = "module"
        else:
            one, other = (f"{form.pressure_angle_deg:g} deg" for form in forms)
            what = "a pressure angle of"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{a}` has {what} {one}, `{b}`, in mesh with it, {other}; they must be equal",
            place(mesh.b.origin, mesh.origin),
            related(
                *(
                    (f"the tooth form `{form.name}` of `{name}`", form.module_origin or form.name.origin)
                    for name, form in zip((a, b), forms, strict=True)
                )
            ),
            f"give both `tooth_form {forms[0].name}` or both `tooth_form {forms[1].name}`",
            (a, b),
        )
