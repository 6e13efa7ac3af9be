"""Little thread in the insert at the end of the travel."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._sets import by_set, ids
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import length_text, two_lengths

# Engagement advised at full extension, in screw diameters.
ADVISED = 1.5

RULE = Rule(
    "short-engagement",
    "note",
    "a screw that holds by less than 1.5 diameters, and less than the whole live thread, at the end of the travel",
    "a short engagement rocks: the sideways play of the foot is the thread's play over the engaged length, times the extension",
    "common practice, no source: in wood the insert gives way first, so its whole thread is engaged, or 1.5 d",
    failing="""
+ # The travel ends where one diameter of thread is left.
""",
    passing="""
- backlash 0.5 mm
+   backlash 0.5 mm
+   face_overlap 13.2 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each foot set, at its shortest engagement; none where there is no stroke."""
    lift = derived.lift
    if lift is None or lift.travel_mm <= 0.0:
        return
    for name, feet in by_set((*derived.feet, *derived.climbers)):
        foot = min(feet, key=lambda item: (item.engagement_at_most_mm, item.id))
        if foot.live_z_mm is None:
            continue
        live = foot.live_z_mm[1] - foot.live_z_mm[0]
        wanted = min(ADVISED * foot.foot.thread.major_mm, live)
        if foot.engagement_at_most_mm >= wanted - 1e-6:
            continue
        measured, allowed = two_lengths(foot.engagement_at_most_mm, wanted, design.units)
        lacking = wanted - foot.engagement_at_most_mm
        height = length_text(lift.height_max_mm - lacking, design.units)
        insert = foot.foot.insert
        what = f"the live thread of the insert of `{name}` is {length_text(live, design.units)} long"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the screws of `{name}` hold by {measured} of thread at the end of the travel; at least {allowed} is advised",
            place(foot.foot.length.origin if foot.foot.length is not None else None, foot.foot.name.origin),
            related=related((what, insert.origin if insert is not None else foot.foot.origin)),
            remedy=f"ending the travel {length_text(lacking, design.units)} earlier, at a height of {height}, keeps it",
            parts=ids(feet),
        )
