"""Meshes that bind when every error is at its worst at once."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._round import up_text
from trivet.checks._train import mesh_place, up_to
from trivet.checks.mesh_binds import STEP_MM, binds
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import length_text, two_lengths

RULE = Rule(
    "mesh-may-bind",
    "note",
    "the backlash of a mesh falls below zero when all its errors meet at their worst",
    "it will seldom happen; if the train is stiff at one place of its turn, this is where to look",
    "derived: exact backlash less the sum of every error's share",
    failing="""
-   backlash 0.5 mm
+   backlash 0.6 mm
""",
    passing="""
-   backlash 0.5 mm
+   backlash 0.8 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note a fixture, at the tightest mesh; those that bind anyway are errors of their own."""
    tight = [mesh for mesh in derived.train.meshes if mesh.backlash.min_mm < 0.0 and not binds(mesh)]
    if not tight:
        return
    worst = min(tight, key=lambda mesh: mesh.backlash.min_mm)
    backlash = worst.backlash
    others = [mesh for mesh in tight if mesh is not worst]
    count = f"; {len(others)} other mesh{'es fall' if len(others) > 1 else ' falls'} below zero too" if others else ""
    wanted = up_to(backlash.nominal_mm - backlash.min_mm, STEP_MM)
    least, _ = two_lengths(backlash.min_mm, 0.0, design.units)
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"`{worst.a}` and `{worst.b}` mesh with {length_text(backlash.nominal_mm, design.units)} of backlash, and"
        f" {least} with every error at its worst{count}",
        mesh_place(worst),
        (),
        f"{up_text(wanted, design.units)} of backlash would be enough for all of it",
        tuple(dict.fromkeys(name for mesh in tight for name in (mesh.a, mesh.b))),
    )
