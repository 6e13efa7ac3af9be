"""Centres so far apart that teeth lose or nearly lose each other."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._train import down_to, mesh_place
from trivet.diagnostics import Diagnostic, Rule, Severity
from trivet.model.design import Design
from trivet.solve.derived import Derived, MeshState
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry
from trivet.units import length_text, two_lengths

RULE = Rule(
    "teeth-slip",
    "error",
    "with the centres at their widest, the contact ratio is under 1.0 (error) or 1.2 (warning), or the working depth under 1.2"
    " modules (warning)",
    "under 1.0 there are moments in which no tooth drives; with little depth a push lets teeth jump",
    "from memory: not under 1.2 (Shigley, Mechanical Engineering Design, 13.6); working depth: common practice, no source",
    failing="""
-   with west at 180 deg
+   with west at 180 deg, centre_distance 115 mm
""",
    passing="""
-   with west at 180 deg
+   with west at 180 deg, centre_distance 108.5 mm
""",
)

LEAST_RATIO = 1.0
WANTED_RATIO = 1.2
# In modules (common practice, no source); two full addenda are 2.
WANTED_DEPTH = 1.2


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a mesh: the contact ratio where it falls short, else the depth."""
    for mesh in derived.train.meshes:
        a, b = derived.train.gear(mesh.a).geometry, derived.train.gear(mesh.b).geometry
        depth = WANTED_DEPTH * a.module_mm
        severity: Severity = "warning"
        if mesh.contact_ratio_min < WANTED_RATIO:
            wanted = LEAST_RATIO if mesh.contact_ratio_min < LEAST_RATIO else WANTED_RATIO
            severity = "error" if mesh.contact_ratio_min < LEAST_RATIO else "warning"
            words = f"keep a contact ratio of {down_to(mesh.contact_ratio_min, 0.001):g}; at least {wanted:g} is required"
        elif mesh.working_depth_min_mm < depth:
            is_mm, wanted_mm = two_lengths(mesh.working_depth_min_mm, depth, design.units)
            words = f"reach {is_mm} into each other; at least {wanted_mm} is wanted"
        else:
            continue
        stated = mesh.mesh.centre_distance
        yield Diagnostic(
            RULE.slug,
            severity,
            f"`{mesh.a}` and `{mesh.b}`, {length_text(mesh.centre_distance_mm, design.units)} apart and up to"
            f" {length_text(mesh.centre_distance_most_mm, design.units)} with every error, {words}",
            place(stated.origin if stated is not None else None, mesh_place(mesh)),
            related(*((f"`{name}` is declared here", derived.train.gear(name).gear.name.origin) for name in (mesh.a, mesh.b))),
            _remedy(mesh, a, b, design.units),
            (mesh.a, mesh.b),
        )


def _remedy(mesh: MeshState, a: ToothGeometry, b: ToothGeometry, unit: str) -> str:
    """The widest nominal centre distance that keeps both; ratio and depth fall as centres part, so it is halved for."""
    spread = mesh.centre_distance_most_mm - mesh.centre_distance_mm
    low, high = a.base_radius_mm + b.base_radius_mm, mesh.centre_distance_mm
    for _ in range(60):
        middle = (low + high) / 2.0
        geometry = mesh_geometry(a, b, middle + spread)
        kept = (geometry.contact_ratio, geometry.working_depth_mm) if geometry is not None else (0.0, 0.0)
        fits = kept[0] >= WANTED_RATIO and kept[1] >= WANTED_DEPTH * a.module_mm
        low, high = (middle, high) if fits else (low, middle)
    if low < mesh.tight_centre_distance_mm:
        return "more teeth, or a tooth form with full addenda"
    return f"a centre distance of {length_text(down_to(low, 0.01), unit)} or less keeps {WANTED_RATIO:g}"
