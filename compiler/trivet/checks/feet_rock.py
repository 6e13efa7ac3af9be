"""Four feet or more whose steps of zeroing are too coarse to bring them into one plane."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._sets import ids
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.twist import twist_of
from trivet.units import length_text, two_lengths

# Gap under one foot that is felt as rocking, mm.
ALLOWED_MM = 0.1

RULE = Rule(
    "feet-rock",
    "warning",
    "four feet or more that may rock by more than 0.1 mm after each is zeroed tooth by tooth",
    "three feet always stand; a fourth meets their plane only to within half a step, and a step is the lead over the teeth of its gear",
    "derived: the twist h1 + h3 - h2 - h4 of a parallelogram of feet, the fourth foot's distance from the plane of the others elsewhere; "
    "0.1 mm is common practice, no source",
    failing="""
+ 
+ table steep is thread
+   source "a four-start rod, from its label"
+   columns thread, diameter mm, pitch mm, starts
+   row M8, 8, 1.25, 4
""",
    passing="""
+ 
+ table steep is thread
+   source "a three-start rod, from its label"
+   columns thread, diameter mm, pitch mm, starts
+   row M8, 8, 1.25, 3
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for the fixture, at the foot with the coarsest step."""
    twist = twist_of(derived.feet)
    if twist is None or twist.residual_mm <= ALLOWED_MM + 1e-9:
        return
    unit = design.units
    coarsest = max(derived.feet, key=lambda foot: (foot.zero_step_mm, foot.id))
    measured, allowed = two_lengths(twist.residual_mm, ALLOWED_MM, unit)
    step = length_text(coarsest.zero_step_mm, unit, 3)
    how = "lift the foot that rocks out of mesh and move it on by a tooth until the gap is least"
    finer = f"; before the screws are glued, {coarsest.zero_clockings} clockings of its hexagon leave {length_text(twist.before_gluing_mm, unit, 3)}"
    gain = finer if twist.before_gluing_mm < twist.residual_mm - 1e-9 else ""
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"after zeroing, the feet may still rock by {measured}; {allowed} is allowed",
        place(coarsest.foot.thread.origin, coarsest.foot.name.origin),
        related(
            (f"one tooth of `{coarsest.gear}` moves `{coarsest.id}` by {step}", derived.train.gear(coarsest.gear).gear.name.origin)
        ),
        f"{how}{gain}; or a finer thread, more teeth, or three feet, which always stand",
        ids(derived.feet),
    )
