"""Teeth that end in a thin or pointed tip."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._teeth_changed import largest_shift, shortened_still_mesh
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, GearState
from trivet.solve.gear_size import ToothGeometry
from trivet.units import length_text, two_lengths

RULE = Rule(
    "thin-tooth-tip",
    "warning",
    "the teeth of a gear are less than 0.3 modules or 1 mm thick at the tip, whichever is more",
    "plywood has short grain at the corner of a tip, and thin tips chip",
    "common practice, no source; the thickness at the tip: SDP/SI, Elements of Metric Gear Technology, section 10 (third-party copy)",
    failing="""
- teeth 16
+   teeth 16
+   profile_shift 0.7
""",
    passing="""
- teeth 16
+   teeth 16
+   profile_shift 0.3
""",
)

LEAST_LAND_MODULES = 0.3
LEAST_LAND_MM = 1.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for all gears of one block with the same teeth."""
    groups: dict[tuple[ToothGeometry, str], list[GearState]] = {}
    for state in derived.train.gears:
        if state.geometry.tip_land_mm < least_land_mm(state.geometry):
            span = place(state.gear.teeth.origin)
            groups.setdefault((state.geometry, str(span.start) if span is not None else state.id), []).append(state)
    for (teeth, _), states in groups.items():
        gear = states[0].gear
        land, least = two_lengths(max(teeth.tip_land_mm, 0.0), least_land_mm(teeth), design.units)
        shift = gear.profile_shift
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the teeth of {named(state.id for state in states)} are {land} thick at the tip; at least {least} is wanted",
            place(shift.origin if shift is not None else None, gear.teeth.origin, gear.name.origin),
            (),
            _remedy(derived, states, design.units),
            tuple(state.id for state in states),
        )


def least_land_mm(teeth: ToothGeometry) -> float:
    """How thick a tip is to be, mm."""
    return max(LEAST_LAND_MODULES * teeth.module_mm, LEAST_LAND_MM)


def _remedy(derived: Derived, states: list[GearState], unit: str) -> str:
    """Less profile shift, or shorter tips where the meshes bear it; what both need otherwise."""
    teeth, names = states[0].geometry, [state.id for state in states]
    shift, shorter = largest_shift(teeth, least_land_mm(teeth)), _shortening(teeth)
    cures = [f"`profile_shift {shift:g}` on {named(names)}"] if shift is not None else []
    if shortened_still_mesh(derived, names, shorter):
        cures.append(f"`tip_shortening {length_text(teeth.tip_shortening_mm + shorter, unit)}` in the tooth form")
    return ", or ".join(cures) or "more teeth, a larger module, or less backlash, for which tips are thinned"


def _shortening(teeth: ToothGeometry) -> float:
    """How much shorter, in steps of 0.05 mm, the teeth reach the least land."""
    steps = 1
    while teeth.thickness_at(teeth.tip_radius_mm - 0.05 * steps) < least_land_mm(teeth) and 0.05 * steps < teeth.addendum_mm:
        steps += 1
    return round(0.05 * steps, 2)
