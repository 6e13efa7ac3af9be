"""Backlash beyond what hand-turned wooden gears need."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._train import gears_of, mesh_place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import length_text

RULE = Rule(
    "loose-mesh",
    "note",
    "a mesh with a backlash of more than a fifth of its module",
    "it works, and backlash hardly costs height; but teeth are thin or stand far apart, and the feet may follow one after another",
    "common practice, no source: about a tenth of the module is usual in plywood, a fifth is much",
    failing="""
-   backlash 0.5 mm
+   backlash 1.3 mm
""",
    passing="""
-   backlash 0.5 mm
+   backlash 1.1 mm
""",
)

# Share of the module (common practice, no source).
MUCH = 0.2


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note a fixture, at the loosest mesh."""
    loose = [
        mesh
        for mesh in derived.train.meshes
        if mesh.backlash.nominal_mm > MUCH * derived.train.gear(mesh.a).geometry.module_mm + 1e-9
    ]
    if not loose:
        return
    worst = max(loose, key=lambda mesh: mesh.backlash.nominal_mm)
    form = next(form for form in design.tooth_forms if form.name == gears_of(design)[worst.b].tooth_form)
    lead = max((foot.lead_mm for foot in derived.feet), default=0.0)
    radius = min(worst.geometry.working_radii_mm)
    height = lead * worst.backlash.nominal_mm / (2.0 * math.pi * radius)
    cost = f"; it costs at most {length_text(height, design.units, 4 if design.units == 'in' else 3)} of height" if lead else ""
    more = f", {len(loose) - 1} other mesh{'es' if len(loose) > 2 else ''} also over it" if len(loose) > 1 else ""
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"`{worst.a}` and `{worst.b}` mesh with {length_text(worst.backlash.nominal_mm, design.units)} of backlash;"
        f" {length_text(MUCH * form.module_mm, design.units)} is a fifth of the module{more}{cost}",
        mesh_place(worst),
        related((f"the tooth form `{form.name}` states {form.backlash}", form.backlash.origin)),
        "accept it, or lower the backlash or the centre distance",
        tuple(dict.fromkeys(name for mesh in loose for name in (mesh.a, mesh.b))),
    )
