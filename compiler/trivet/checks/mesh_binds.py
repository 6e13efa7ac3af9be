"""A mesh with less backlash than its errors take."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._round import up_text
from trivet.checks._train import gears_of, mesh_place, up_to
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.model.shop import ToothForm
from trivet.solve.derived import Derived, MeshState
from trivet.solve.mesh_geometry import centre_distance_for_backlash_mm
from trivet.units import length_text, two_lengths

RULE = Rule(
    "mesh-binds",
    "error",
    "the backlash of a mesh is no more than the root sum of squares of what its errors take",
    "hole positions, bore clearance, cutting error and the tilt of inserts close the gap; too many such meshes bind",
    "derived: exact backlash, each error's share by its derivative; no published backlash for plywood gears is known",
    failing="""
-   backlash 0.5 mm
+   backlash 0.3 mm
""",
    passing="""
-   backlash 0.5 mm
+   backlash 0.4 mm
""",
)

# Backlash is stated in steps of this, mm (common practice, no source).
STEP_MM = 0.05


def binds(mesh: MeshState) -> bool:
    """Whether the mesh has no more backlash than its errors take."""
    return mesh.backlash.nominal_mm <= mesh.backlash.rss_mm


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for all meshes of one tooth form with the same figures: they have one cause."""
    gears, forms = gears_of(design), {form.name.text: form for form in design.tooth_forms}
    groups: dict[tuple[str, str, str], list[MeshState]] = {}
    for mesh in derived.train.meshes:
        if binds(mesh):
            # As shown: figures that differ where no reader sees it would be a finding each.
            figures = two_lengths(mesh.backlash.nominal_mm, mesh.backlash.rss_mm, design.units)
            key = (gears[mesh.b].tooth_form.text, *figures)
            groups.setdefault(key, []).append(mesh)
    for (name, _, _), meshes in groups.items():
        worst_first = sorted(meshes, key=lambda mesh: round(mesh.backlash.nominal_mm - mesh.backlash.rss_mm, 6))
        yield _finding(design, derived, forms[name], worst_first)


def _finding(design: Design, derived: Derived, form: ToothForm, meshes: list[MeshState]) -> Diagnostic:
    mesh, backlash = meshes[0], meshes[0].backlash
    has, takes = two_lengths(backlash.nominal_mm, backlash.rss_mm, design.units)
    wanted = up_to(backlash.rss_mm, STEP_MM)
    # The normal backlash grows by four times what is taken off each flank.
    more = (wanted - backlash.nominal_mm) * math.cos(mesh.geometry.working_angle_rad) / 4.0
    a, b = derived.train.gear(mesh.a).geometry, derived.train.gear(mesh.b).geometry
    apart = centre_distance_for_backlash_mm(a, b, wanted)
    spread = f" or centres {up_text(apart - mesh.centre_distance_mm, design.units)} further apart" if apart is not None else ""
    largest = f", the largest share being {backlash.contributors[0][0]}" if backlash.contributors else ""
    count = f"; {len(meshes) - 1} other mesh{'es' if len(meshes) > 2 else ''} with the same figures" if len(meshes) > 1 else ""
    which = f" `{form.name}`" if len(design.tooth_forms) > 1 else ""
    all_of_it = up_to(backlash.nominal_mm - backlash.min_mm, STEP_MM)
    enough = f" at least, {up_text(all_of_it, design.units)} with every error at its worst" if all_of_it > wanted else ""
    tilts = design.shop.inserts == "by_hand" and any(what.startswith("insert tilt") for what, _, _ in backlash.contributors)
    block = "; inserts driven with a guide block tilt half as much (assumed)" if tilts else ""
    return Diagnostic(
        RULE.slug,
        RULE.severity,
        f"`{mesh.a}` and `{mesh.b}` mesh with {has} of backlash; their errors take {takes}{largest}{count}",
        mesh_place(mesh),
        related(
            (f"the tooth form `{form.name}` states {form.backlash}", form.backlash.origin),
            *((f"`{other.a}` and `{other.b}` mesh here", mesh_place(other)) for other in meshes[1:]),
        ),
        f"`backlash {up_text(wanted, design.units)}` in the tooth form{which}{enough}; gears already cut need"
        f" {_flank(more, design.units)} off each flank{spread}{block}",
        # One acceptance covers the whole group, so a gear's name is enough only where the group is one mesh.
        (form.name.text, mesh.a, mesh.b) if len(meshes) == 1 else (form.name.text,),
    )


def _flank(mm: float, unit: str) -> str:
    """So little that a thousandth of an inch is too coarse: rounded up to a thousandth of a millimetre, a ten-thousandth of an inch."""
    step, digits = (0.00254, 4) if unit in ("in", "thou") else (0.001, 3)
    return length_text(math.ceil(mm / step - 1e-6) * step, unit, digits)
