"""Threads that start in one another and then jam."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from trivet.checks._check import place, related
from trivet.checks._threads import ThreadUse, thread_uses
from trivet.diagnostics import Diagnostic, Rule, Severity
from trivet.model.design import Design
from trivet.model.hardware import Thread
from trivet.solve.derived import Derived
from trivet.source import Origin
from trivet.units import length_text

RULE = Rule(
    "look-alike-threads",
    "error",
    "a screw and the thread it runs in differ (error), or two of the drive, pivots and feet have threads nearly equal in diameter"
    " (warning)",
    "pairs such as M8 and 5/16-18, M6 and 1/4-20, M10 and 3/8-16 start in each other and jam after a few turns",
    "common practice, no source; diameters and pitches from the library's rows",
    failing="""
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762 M10, head recessed 9 mm
""",
    passing="""
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762 M8, head recessed 9 mm
""",
)

# Two threads whose major diameters differ by no more than this share are taken for one another: it takes in 1/4-20 and M6
# (5.8 %) and leaves out M5 and M6 (17 %).
ALIKE = 0.06
TURNS = 10


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Pairs that run in each other first, then pairs that only lie in one box."""
    uses = thread_uses(design)
    for use in uses:
        yield from _pairs(use, design)
    feet = {foot.name.text for foot in design.feet}
    # Of several with one thread a foot is named: feet must rise alike, so there the mistake is worst.
    named = sorted(uses, key=lambda use: use.part not in feet)
    machine = {use.thread.designation: use for use in reversed(named) if use.thread.system != "tapping"}
    kinds = sorted(machine.values(), key=lambda use: (use.thread.major_mm, use.thread.designation))
    for one, other in pairwise(kinds):
        wide = other.thread.major_mm
        if one.thread.lead_mm != other.thread.lead_mm and wide - one.thread.major_mm <= ALIKE * wide:
            remedy = "one thread for all feet" if {one.part, other.part} <= feet else "mark them and keep them apart"
            yield _finding(one, other.part, other.thread, other.origin, "warning", remedy, design)


def _pairs(use: ThreadUse, design: Design) -> Iterator[Diagnostic]:
    for what, thread, origin in use.mates:
        if (thread.major_mm, thread.lead_mm, thread.pitch_mm) != (use.thread.major_mm, use.thread.lead_mm, use.thread.pitch_mm):
            yield _finding(use, f"its {what}", thread, origin, "error", f"both must be {use.thread.designation}", design)


def _finding(
    use: ThreadUse, other: str, thread: Thread, origin: Origin | None, severity: Severity, remedy: str, design: Design
) -> Diagnostic:
    apart = length_text(TURNS * abs(thread.lead_mm - use.thread.lead_mm), design.units)
    shown = f"`{other}`" if severity == "warning" else other
    return Diagnostic(
        RULE.slug,
        severity,
        f"`{use.part}` has {use.thread.designation}, {shown} {thread.designation}: {apart} apart after {TURNS} turns",
        place(use.origin),
        related((f"{thread.designation} comes from here", origin)),
        remedy,
        (use.part, other) if severity == "warning" else (use.part,),
    )
