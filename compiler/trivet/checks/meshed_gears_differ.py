"""Gears in mesh whose teeth do not fit each other."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._equal import also_here, grouped
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
    """One finding for the meshes of two tooth forms; the module first, for with it the pressure angle seldom matters any more."""
    if not any(fault.kind == "unlike_teeth" for fault in derived.train.faults):
        return
    graph = train_graph(design)
    unlike = [pair for pair in graph.meshes if not graph.alike(*pair)]
    for pairs in grouped((frozenset(graph.gears[name].tooth_form.text for name in pair), pair) for pair in unlike):
        a, b = pairs[0]
        mesh = graph.meshes[pairs[0]]
        forms = [graph.forms[graph.gears[name].tooth_form.text] for name in (a, b)]
        modules = [form.module_mm for form in forms]
        origins = [form.module_origin or form.name.origin for form in forms]
        if not math.isclose(modules[0], modules[1], rel_tol=SAME):
            one, other = two_lengths(modules[0], modules[1])
            what = "module"
            if design.units in ("in", "thou"):
                one, other = _pitches(*modules)
                what = "a diametral pitch of"
        else:
            one, other = (f"{form.pressure_angle_deg:g} deg" for form in forms)
            what, origins = "a pressure angle of", [form.name.origin for form in forms]
        count = len(pairs) - 1
        more = f"; {count} other mesh{'es are' if count > 1 else ' is'} alike" if count else ""
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{a}` has {what} {one}, `{b}`, in mesh with it, {other}; they must be equal{more}",
            place(mesh.b.origin, mesh.origin),
            (
                *related(
                    *(
                        (f"the tooth form `{form.name}` of `{name}`", origin)
                        for name, form, origin in zip((a, b), forms, origins, strict=True)
                    )
                ),
                *also_here((f"{c}` and `{d}", place(graph.meshes[(c, d)].b.origin, graph.meshes[(c, d)].origin)) for c, d in pairs[1:]),
            ),
            f"give {'both' if not count else 'all of them'} `tooth_form {forms[0].name}` or {'both' if not count else 'all'} `tooth_form {forms[1].name}`",
            tuple(dict.fromkeys(name for pair in pairs for name in pair)),
        )


def _pitches(one_mm: float, other_mm: float) -> tuple[str, str]:
    """Teeth per inch of diameter, with as many decimals as show that they differ."""
    pitches = (25.4 / one_mm, 25.4 / other_mm)
    for decimals in range(2, 7):
        texts = [f"{pitch:.{decimals}f}".rstrip("0").rstrip(".") for pitch in pitches]
        if texts[0] != texts[1]:
            break
    return f"{texts[0]} per in", f"{texts[1]} per in"
