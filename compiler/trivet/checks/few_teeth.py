"""Gears with fewer teeth than a rack cuts without undercut."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._train import named
from trivet.checks.thin_tooth_tip import least_land_mm
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.record import replace
from trivet.solve.derived import Derived, GearState
from trivet.solve.gear_size import least_teeth
from trivet.source import Span

RULE = Rule(
    "few-teeth",
    "note",
    "a gear has fewer teeth than a rack of its form generates without undercut, and no profile shift to make up for it",
    "a routed gear is not generated, so nothing is undercut; but roots are narrow and the mate's tips come close to them. Whether"
    " they interfere is a rule of its own",
    "SDP/SI, Elements of Metric Gear Technology, p. T-36, eq. 4-1: z = 2 ha*/sin^2 a; 17.1 at 20 deg, printed as 18",
    failing="""
- teeth 16
+   teeth 17
""",
    passing="""
- teeth 16
+   teeth 18
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note for all gears that one statement gives their teeth."""
    groups: dict[Span | str, list[GearState]] = {}
    for state in derived.train.gears:
        if state.geometry.least_shift > state.geometry.profile_shift + 1e-9:
            groups.setdefault(place(state.gear.teeth.origin) or state.id, []).append(state)
    for states in groups.values():
        first = states[0]
        least = least_teeth(first.geometry.pressure_angle_rad, first.geometry.addendum_coefficient)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"{named(state.id for state in states)} {'have' if len(states) > 1 else 'has'} {first.gear.z} teeth; a generated gear of"
            f" this form needs {least:.1f}",
            place(first.gear.teeth.origin, first.gear.name.origin),
            (),
            f"{int(least) + 1} teeth{_shifted(first)}",
            tuple(state.id for state in states),
        )


def _shifted(state: GearState) -> str:
    """The profile shift that would do, rounded up so that it does; nothing where it leaves tips too thin."""
    shift = math.ceil(state.geometry.least_shift * 100.0 - 1e-7) / 100.0
    teeth = replace(state.geometry, profile_shift=shift)
    return f", or `profile_shift {shift:.2f}`" if teeth.tip_land_mm >= least_land_mm(teeth) else ""
