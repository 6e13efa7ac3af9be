"""Gears that nothing turns."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "no-drive",
    "error",
    "a fixture with gears of which none is turned by a drive",
    "speeds, rise and travel all start at the gear that the hand turns",
    "derived: a train needs one gear that is turned",
    failing="""
-   turned_by crank
+   turns_on pin
""",
    passing="""
-   turned_by crank
+   turned_by crank                # the one gear that the hand turns
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a fixture, at its first gear."""
    if not design.gears or derived.train.drive_gear is not None:
        return
    drives = [drive.name.text for drive in design.drives]
    block = "write a `drive` block, and `turned_by` with its name in one gear"
    count = len(design.gears)
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"no drive turns any of the {count} gears; one is required" if count > 1 else "no drive turns the one gear",
        place(design.gears[0].name.origin, design.origin),
        related(*((f"the drive `{drive.name}` turns nothing", drive.name.origin) for drive in design.drives)),
        f"give one gear `turned_by {drives[0]}`" if drives else block,
        (design.gears[0].name.text,),
    )
