"""Backlash beyond what hand-turned wooden gears need."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import down_text
from trivet.checks._teeth_changed import slips
from trivet.checks._train import gears_of, mesh_place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, MeshState
from trivet.solve.mesh_geometry import centre_distance_for_backlash_mm
from trivet.units import decimal_beside, length_text

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
    """One note a fixture, at the loosest mesh. Meshes whose teeth slip have a finding of their own."""
    loose = [
        mesh
        for mesh in derived.train.meshes
        if mesh.backlash.nominal_mm > MUCH * derived.train.gear(mesh.a).geometry.module_mm + 1e-9
        and not slips(mesh, derived.train.gear(mesh.a).geometry.module_mm)
    ]
    if not loose:
        return
    worst = max(loose, key=lambda mesh: mesh.backlash.nominal_mm)
    form = next(form for form in design.tooth_forms if form.name == gears_of(design)[worst.b].tooth_form)
    cause = _cause(derived, worst, form.backlash.mm)
    stated = cause.mesh.centre_distance
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
        place(stated.origin if stated is not None and cause is worst else None, mesh_place(worst)),
        related(
            (f"the tooth form `{form.name}` states {form.backlash}", form.backlash.origin),
            (f"`{cause.a}` and `{cause.b}` stand at a stated distance", stated.origin if stated is not None and cause is not worst else None),
        ),
        _remedy(derived, worst, cause, MUCH * form.module_mm, design.units),
        tuple(dict.fromkeys(name for mesh in loose for name in (mesh.a, mesh.b))),
    )


def _cause(derived: Derived, worst: MeshState, backlash_mm: float) -> MeshState:
    """The mesh at whose stated distance the play comes from: its own, or a close one for which one of its gears has thinner teeth."""
    if worst.mesh.centre_distance is not None or worst.backlash.nominal_mm <= backlash_mm + 1e-6:
        return worst
    shared = {worst.a, worst.b}
    stated = (mesh for mesh in derived.train.meshes if mesh.mesh.centre_distance is not None and {mesh.a, mesh.b} & shared)
    return min(stated, key=lambda mesh: mesh.centre_distance_mm - mesh.tight_centre_distance_mm, default=worst)


def _remedy(derived: Derived, worst: MeshState, cause: MeshState, allowed_mm: float, unit: str) -> str:
    tight = cause.tight_centre_distance_mm
    if cause is not worst:
        return f"accept it, or a centre distance of `{cause.a}` and `{cause.b}` nearer to {length_text(tight, unit)}, for which no tooth is thinned"
    if worst.mesh.centre_distance is not None and worst.centre_distance_mm > tight:
        apart = centre_distance_for_backlash_mm(derived.train.gear(worst.a).geometry, derived.train.gear(worst.b).geometry, allowed_mm)
        if apart is not None:
            near = down_text(max(apart, tight), unit)
            return f"accept it, or `centre_distance {near}`{decimal_beside(near)} or less"
    backlash = down_text(allowed_mm, unit, 0.05)
    return f"accept it, or `backlash {backlash}`{decimal_beside(backlash)} in the tooth form `{derived.train.gear(worst.b).gear.tooth_form}`"
