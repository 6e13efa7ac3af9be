"""Tips that reach past the involute of their mate."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._train import mesh_place, up_to
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.record import replace
from trivet.solve.derived import Derived, GearState, MeshState
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry, tight_centre_distance_mm
from trivet.units import length_text, two_lengths

RULE = Rule(
    "tip-interference",
    "error",
    "the tip of a gear reaches further than the point where the line of action touches its mate's base circle",
    "below its base circle the mate has no involute; a generated gear would be undercut there, a routed one is not, so the tip digs"
    " into the root",
    "contact is limited to the common tangent: SDP/SI, Elements of Metric Gear Technology, p. T-36; the limit ra <= sqrt(rb^2 +"
    " (A sin aw)^2) from memory (Shigley, Mechanical Engineering Design, 13.7)",
    failing="""
- teeth 16
+   teeth 9
""",
    passing="""
- teeth 16
+   teeth 15
""",
)

# Numbers in remedies are multiples of these.
SHORTENING_STEP_MM = 0.05
SHIFT_STEP = 0.01
MOST_SHIFT = 1.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each gear whose tip reaches too far into one mate."""
    for mesh in derived.train.meshes:
        a, b = derived.train.gear(mesh.a), derived.train.gear(mesh.b)
        for tip, root, past in ((a, b, mesh.interference_a_mm), (b, a, mesh.interference_b_mm)):
            if past > 1e-9:
                yield _finding(design, mesh, tip, root, past)


def _finding(design: Design, mesh: MeshState, tip: GearState, root: GearState, past: float) -> Diagnostic:
    radius = tip.geometry.reached_tip_radius_mm
    has, allowed = two_lengths(radius, radius - past, design.units)
    cures = [
        f"`tip_shortening {length_text(tip.geometry.tip_shortening_mm + up_to(past, SHORTENING_STEP_MM), design.units)}`"
        f" in the tooth form of `{tip.id}`"
    ]
    shift = _shift(tip.geometry, root.geometry)
    if shift is not None and mesh.mesh.centre_distance is None:
        cures.append(f"`profile_shift {shift:g}` on `{root.id}`")
    return Diagnostic(
        RULE.slug,
        RULE.severity,
        f"the tips of `{tip.id}` reach a radius of {has}; {allowed} is the most before they dig into the roots of `{root.id}`",
        mesh_place(mesh),
        related(
            (f"`{root.id}` has {root.gear.z} teeth", root.gear.teeth.origin),
            (f"`{tip.id}` has {tip.gear.z} teeth", tip.gear.teeth.origin),
        ),
        ", or ".join(cures),
        (tip.id, root.id),
    )


def _shift(tip: ToothGeometry, root: ToothGeometry) -> float | None:
    """Least profile shift of the gear dug into, to 0.01, that ends the interference at centres derived anew."""
    for step in range(1, int((MOST_SHIFT - root.profile_shift) / SHIFT_STEP) + 1):
        shifted = replace(root, profile_shift=round(root.profile_shift + step * SHIFT_STEP, 4))
        geometry = mesh_geometry(tip, shifted, tight_centre_distance_mm(tip, shifted))
        if geometry is not None and max(geometry.interference_mm) <= 0.0:
            return shifted.profile_shift
    return None
