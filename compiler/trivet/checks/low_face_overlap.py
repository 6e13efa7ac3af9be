"""A stated least face overlap that leaves little tooth in mesh."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import up_text
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, MeshState
from trivet.solve.face_overlap import wanted_overlap_mm
from trivet.units import two_lengths

RULE = Rule(
    "low-face-overlap",
    "warning",
    "a stated `face_overlap` under 6 mm or under half the thinner gear",
    "with little face in mesh a board that is lifted, a thin sheet or a tilted gear lets the teeth part, and then the level is lost",
    "common practice, no source; fixtures are in use whose travel is only a little less than the thickness of a gear",
    failing="""
- backlash 0.5 mm
+   backlash 0.5 mm
+   face_overlap 4 mm
""",
    passing="""
- backlash 0.5 mm
+   backlash 0.5 mm
+   face_overlap 9 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each tooth form, at the mesh that wants most, of those in which a gear slides."""
    gears = {state.id: state for state in derived.train.gears}
    for form in design.tooth_forms:
        stated = form.face_overlap
        if stated is None:
            continue
        sliding = [mesh for mesh in derived.train.meshes if mesh.slides and gears[mesh.a].gear.tooth_form.text == form.name.text]

        def wanted(mesh: MeshState) -> float:
            return wanted_overlap_mm(gears[mesh.a].face_width.mean, gears[mesh.b].face_width.mean, None)

        mesh = max(sliding, key=wanted, default=None)
        if mesh is None or stated.mm >= wanted(mesh) - 1e-9:
            continue
        measured, allowed = two_lengths(stated.mm, wanted(mesh), design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the least face overlap stated is {measured}; at least {allowed} is advised",
            place(stated.origin, form.name.origin),
            related=related((f"`{mesh.a}` and `{mesh.b}` mesh here, and one slides along the other", mesh.mesh.origin)),
            remedy=f"`face_overlap {up_text(wanted(mesh), design.units)}`, or none stated; the travel becomes shorter",
            parts=(form.name.text,),
        )
