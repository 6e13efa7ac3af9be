"""Centres so far apart that teeth lose or nearly lose each other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from trivet.checks._check import place, related
from trivet.checks._equal import also_here, grouped
from trivet.checks._round import down_text
from trivet.checks._teeth_changed import LEAST_RATIO, WANTED_DEPTH_MODULES, WANTED_RATIO, slips
from trivet.checks._train import down_to, mesh_place
from trivet.diagnostics import Diagnostic, Rule, Severity
from trivet.model.design import Design
from trivet.solve.derived import Derived, MeshState
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry
from trivet.units import decimal_beside, length_text, two_lengths

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

# ISO 53 (from memory).
USUAL_DEG = 20.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for equal meshes: the contact ratio where it falls short, else the depth."""
    short = []
    for mesh in derived.train.meshes:
        a, b = derived.train.gear(mesh.a).geometry, derived.train.gear(mesh.b).geometry
        if slips(mesh, a.module_mm):
            stated = mesh.mesh.centre_distance
            short.append(((a, b, round(mesh.contact_ratio_min, 3), round(mesh.centre_distance_mm, 3), stated is None), mesh))
    for meshes in grouped(short):
        yield _finding(design, derived, meshes)


def _finding(design: Design, derived: Derived, meshes: Sequence[MeshState]) -> Diagnostic:
    mesh, unit = meshes[0], design.units
    a, b = derived.train.gear(mesh.a).geometry, derived.train.gear(mesh.b).geometry
    severity: Severity = "warning"
    if mesh.contact_ratio_min < WANTED_RATIO:
        wanted = LEAST_RATIO if mesh.contact_ratio_min < LEAST_RATIO else WANTED_RATIO
        severity = "error" if mesh.contact_ratio_min < LEAST_RATIO else "warning"
        has = f"{max(down_to(mesh.contact_ratio_min, 0.001), 0.0):g}"
        asked = "required" if severity == "error" else "wanted"
        words = f"keep {has} pairs of teeth in touch on average, the contact ratio; at least {wanted:g} is {asked}"
    else:
        is_mm, wanted_mm = two_lengths(mesh.working_depth_min_mm, WANTED_DEPTH_MODULES * a.module_mm, unit)
        words = f"reach {is_mm} into each other; at least {wanted_mm} is wanted"
    stated = mesh.mesh.centre_distance
    count = len(meshes) - 1
    more = f"; {count} other mesh{'es are' if count > 1 else ' is'} alike" if count else ""
    return Diagnostic(
        RULE.slug,
        severity,
        f"`{mesh.a}` and `{mesh.b}`, {length_text(mesh.centre_distance_mm, unit)} apart and up to"
        f" {length_text(mesh.centre_distance_most_mm, unit)} with every error, {words}{more}",
        place(stated.origin if stated is not None else None, mesh_place(mesh)),
        (
            *related(*((f"`{name}` is declared here", derived.train.gear(name).gear.name.origin) for name in (mesh.a, mesh.b))),
            *also_here((f"{other.a}` and `{other.b}", mesh_place(other)) for other in meshes[1:]),
        ),
        _remedy(mesh, a, b, unit),
        tuple(dict.fromkeys(name for item in meshes for name in (item.a, item.b))),
    )


def _remedy(mesh: MeshState, a: ToothGeometry, b: ToothGeometry, unit: str) -> str:
    """The widest nominal centre distance that keeps both; ratio and depth fall as centres part, so it is halved for."""
    spread = mesh.centre_distance_most_mm - mesh.centre_distance_mm
    low, high = a.base_radius_mm + b.base_radius_mm, mesh.centre_distance_mm
    for _ in range(60):
        middle = (low + high) / 2.0
        geometry = mesh_geometry(a, b, middle + spread)
        kept = (geometry.contact_ratio, geometry.working_depth_mm) if geometry is not None else (0.0, 0.0)
        fits = kept[0] >= WANTED_RATIO and kept[1] >= WANTED_DEPTH_MODULES * a.module_mm
        low, high = (middle, high) if fits else (low, middle)
    # What the errors add grows a little where the tips come nearer, so a hundredth is kept back.
    low -= 0.01
    if low >= mesh.tight_centre_distance_mm:
        near = down_text(low, unit)
        distance = f"`centre_distance {near}`" if mesh.mesh.centre_distance is not None else f"a centre distance of {near}"
        return f"{distance}{decimal_beside(near)} or less keeps {WANTED_RATIO:g}, and depth enough"
    cures = ["less `tip_shortening` in the tooth form"] if max(a.tip_shortening_mm, b.tip_shortening_mm) > 0.0 else []
    cures += ["less `profile_shift`"] if a.profile_shift + b.profile_shift > 0.0 else []
    cures += [f"`pressure_angle {USUAL_DEG:g} deg` in the tooth form"] if a.pressure_angle_rad > math.radians(USUAL_DEG) + 1e-9 else []
    return ", or ".join((*cures, "more teeth on the smaller gear"))
