"""An overlap of face that is used up before the travel begins."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._overlap_remedy import less_overlap
from trivet.checks._stroke import crossing, nothing_left
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, Lift

RULE = Rule(
    "teeth-part",
    "error",
    "an overlap of face that is used up before the travel begins",
    "a riding gear slides along its axis out of mesh with a neighbour that is held; when the teeth part the level is lost",
    "derived: overlap = min(tops) - max(bottoms) of the two gears; the least overlap of 6 mm or half the "
    "thinner gear is common practice, no source",
    failing="""
- backlash 0.5 mm
+   backlash 0.5 mm
+   face_overlap 17.8 mm
- pad dome, drop 3 mm
+   pad dome, drop 1 mm
""",
    passing="""
+ # The idlers share at least half their face with the feet.
""",
)


# What is offered leaves this much travel, mm: less is not worth a fixture (common practice, no source).
ROOM_MM = 1.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Where this bound leaves no stroke (`_stroke.named` says which of the two ends is named)."""
    closer = "both ends must come closer by more than {} in all: a smaller `face_overlap`, lower feet, or what hangs lowest higher"
    found = crossing(derived)
    eased = less_overlap(design, derived, found.lacking_mm + ROOM_MM, _travels, "leaves a travel") if found is not None else ""
    yield from nothing_left(RULE, design, derived, eased or closer)


def _travels(lift: Lift) -> bool:
    return lift.travel_mm > 0.0
