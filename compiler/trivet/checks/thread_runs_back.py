"""A foot's thread so steep that the board can lower itself."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import down_fine
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.model.hardware import Thread
from trivet.solve.derived import Derived
from trivet.units import two_lengths

RULE = Rule(
    "thread-runs-back",
    "warning",
    "the lead angle of a foot's thread is at least atan(mu/cos 30 deg) with mu 0.08: a waxed thread that steep does not hold by itself",
    "the load turns the screw back and the board sinks, at the latest when a router makes it tremble",
    "Shigley, Mechanical Engineering Design, section 8-2, self-locking (from memory): pi mu d2 / cos of the half angle > lead; "
    "mu 0.08, the least of waxed zinc-plated threads: VDI 2230 (from memory)",
    failing="""
+ 
+ table quick_threads is thread
+   source "a lead screw of two starts"
+   columns thread, diameter mm, pitch mm, starts
+   row M8, 8, 1.25, 2
""",
    passing="""
+ # M8 x 1.25 with one start climbs at 3.2 deg; 5.3 deg would be too steep.
""",
)

# Least coefficient of friction counted on.
MU = 0.08
HALF_ANGLE_RAD = math.radians(30.0)


def pitch_diameter_mm(thread: Thread) -> float:
    """d2 = d - 0.649519 P of a 60 deg thread where its table does not give it (ISO 724, from memory)."""
    return thread.pitch_diameter_mm or thread.major_mm - 0.649519 * thread.pitch_mm


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each foot set."""
    steepest = math.atan(MU / math.cos(HALF_ANGLE_RAD))
    for foot in design.feet:
        thread = foot.thread
        around = math.pi * pitch_diameter_mm(thread)
        angle = math.atan2(thread.lead_mm, around)
        if angle < steepest:
            continue
        lead, most = two_lengths(thread.lead_mm, around * math.tan(steepest), design.units)
        need = math.tan(angle) * math.cos(HALF_ANGLE_RAD)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the thread of `{foot.name}` climbs at {math.degrees(angle):.2f} deg, {lead} a turn; less than"
            f" {math.degrees(steepest):.2f} deg, {most}, holds with a friction of {MU:g}",
            place(foot.name.origin, foot.origin),
            related((f"`{thread.designation}`", thread.origin)),
            f"a thread with a lead below {down_fine(around * math.tan(steepest), design.units)}; this one holds only while its friction"
            f" is above {need:.3f}",
            (foot.name.text,),
        )
