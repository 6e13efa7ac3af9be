"""A drive gear that nothing locks to its bolt."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "drive-not-locked",
    "warning",
    "a drive with one nut and no jam nut",
    "turned one way, the bolt turns in its nut instead of turning the gear; a jam nut below the gear clamps the three together",
    "common practice, no source",
    failing="-   jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm",
    passing="""
-   jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
+   jam_nut ISO 4035, below gear, recessed 7 mm, round 24 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a drive."""
    for drive in design.drives:
        if drive.jam_nut is None:
            yield Diagnostic(
                RULE.slug,
                RULE.severity,
                f"`{drive.name}` has no jam nut: nothing clamps its gear on the bolt",
                place(drive.name.origin, design.origin),
                (),
                "add a line such as `jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm`",
                (drive.name.text,),
            )
