"""A drive that has to be turned very often."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._train import gears_of
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import length_text

RULE = Rule(
    "many-turns",
    "note",
    "the whole travel takes more than 30 turns of the drive, and no `require turns_for_travel` says that this is meant",
    "above that people reach for a power driver, which breaks teeth at the end of the travel",
    "common practice, no source",
    failing="""
+ 
+ table fine_threads is thread
+   source "an instrument maker's tap"
+   columns thread, diameter mm, pitch mm
+   row M8, 8, 0.3
""",
    passing="""
+ 
+ table fine_threads is thread
+   source "an instrument maker's tap"
+   columns thread, diameter mm, pitch mm
+   row M8, 8, 0.75
""",
)

MOST_TURNS = 30.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """At most one note."""
    lift, train = derived.lift, derived.train
    if lift is None or train.drive_gear is None or any(item.kind == "turns_for_travel" for item in design.requires):
        return
    turns = lift.turns_for_travel
    if turns <= MOST_TURNS + 1e-9:
        return
    gear = gears_of(design)[train.drive_gear]
    teeth = math.ceil(gear.z * turns / MOST_TURNS - 1e-9)
    drive = gear.turned_by or gear.name
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"the travel of {length_text(lift.travel_mm, design.units)} takes {turns:.1f} turns of `{drive}`; more than {MOST_TURNS:g} is tiring",
        place(drive.origin, gear.name.origin),
        (),
        f"`{gear.name}` with {teeth} teeth or more, a coarser thread, or a socket for a hand brace",
        (drive.text, gear.name.text),
    )
