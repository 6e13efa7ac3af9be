"""Tips that reach past the involute of their mate."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from trivet.checks._check import place, related
from trivet.checks._equal import also_here, grouped
from trivet.checks._interference import Pair, interfering, least_distance_mm, least_shift
from trivet.checks._round import up_text
from trivet.checks._teeth_changed import shortened_still_mesh
from trivet.checks._train import mesh_place, named, up_to
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import decimal_beside, length_text, two_lengths

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

# Numbers in remedies are multiples of this.
SHORTENING_STEP_MM = 0.05


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each pair of gears whose tips reach too far into the mate; pairs of equal gears share one."""
    for pairs in grouped(interfering(derived)):
        yield _finding(design, derived, pairs)


def _finding(design: Design, derived: Derived, pairs: Sequence[Pair]) -> Diagnostic:
    mesh, tip, root, past = pairs[0]
    radius = tip.geometry.reached_tip_radius_mm
    has, allowed = two_lengths(radius, radius - past, design.units)
    tips, roots = dict.fromkeys(pair[1].id for pair in pairs), dict.fromkeys(pair[2].id for pair in pairs)
    cures: list[str] = []
    stated = mesh.mesh.centre_distance
    if stated is not None:
        apart = least_distance_mm(mesh, tip.geometry, root.geometry)
        if apart is not None:
            far = up_text(apart, design.units)
            cures.append(f"`centre_distance {far}`{decimal_beside(far)} or more")
    else:
        shift = least_shift(tip.geometry, root.geometry)
        if shift is not None:
            cures.append(f"`profile_shift {shift:g}` on {named(roots)}")
    shorter = up_to(past, SHORTENING_STEP_MM)
    if not cures or shortened_still_mesh(derived, tips, shorter):
        total = length_text(tip.geometry.tip_shortening_mm + shorter, design.units)
        cures.append(f"`tip_shortening {total}` in the tooth form of {named(tips)}")
    count = len(pairs) - 1
    more = f"; {count} other mesh{'es are' if count > 1 else ' is'} alike" if count else ""
    return Diagnostic(
        RULE.slug,
        RULE.severity,
        f"the tips of `{tip.id}` reach a radius of {has}; {allowed} is the most before they dig into the roots of `{root.id}`{more}",
        place(stated.origin if stated is not None else None, mesh_place(mesh)),
        (
            *related(
                (f"`{root.id}` has {root.gear.z} teeth", root.gear.teeth.origin),
                (f"`{tip.id}` has {tip.gear.z} teeth", tip.gear.teeth.origin),
            ),
            *also_here((f"{one.id}` and `{other.id}", mesh_place(where)) for where, one, other, _ in pairs[1:]),
        ),
        ", or ".join(cures),
        tuple(dict.fromkeys((*tips, *roots))),
    )
