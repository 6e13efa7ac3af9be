"""A stop whose end nut is locked by nothing that the file states."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "stop-nut-may-turn",
    "note",
    "a stop on the drive that does not say what keeps its end nut from turning on the bolt",
    "an end nut that creeps along the bolt moves the end of the travel, until something else jams first",
    "common practice, no source",
    failing="""
- play 0.2 mm
+   play 0.2 mm
+   stop
""",
    passing="""
- play 0.2 mm
+   play 0.2 mm
+   stop locked_by thread_locker
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each drive."""
    for drive in design.drives:
        if drive.stop and drive.stop_locked_by is None:
            yield Diagnostic(
                RULE.slug,
                RULE.severity,
                f"what keeps the end nut of the stop of `{drive.name}` from turning is not stated: thread locker is assumed",
                place(drive.stop_origin, drive.origin, drive.name.origin),
                remedy="`stop locked_by thread_locker`, `jam_nut` (its height is added to the bolt) or `cross_pin`",
                parts=(drive.name.text,),
            )
