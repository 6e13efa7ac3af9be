"""More than one gear turned by hand."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._train import gears_of
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "several-drives",
    "error",
    "two gears or more are turned by a drive",
    "one drive sets the level; a second one in the same train fights it, in a train of its own it lifts its feet out of level."
    " Heights are computed from one drive only",
    "derived: all feet must follow one turning hand",
    failing="""
- gear west, east
+ gear west
- turns_on pin
+   turns_on pin
+ 
+ gear east
+   teeth 20
+   turned_by crank
""",
    passing="""
- gear west, east
+ gear west
- turns_on pin
+   turns_on pin
+ 
+ gear east
+   teeth 20
+   turns_on pin
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each gear that is turned besides the one that counts."""
    first = derived.train.drive_gear
    if first is None:
        return
    main = gears_of(design)[first]
    for gear in design.gears:
        if gear.turned_by is None or gear is main:
            continue
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{gear.name}` is turned by a drive, and so is `{first}`; one drive is allowed",
            place(gear.turned_by.origin, gear.name.origin),
            related((f"`{first}` is turned here", main.turned_by.origin if main.turned_by is not None else None)),
            f"let `{gear.name}` turn on a pivot (`turns_on`), or carry a foot",
            (gear.name.text,),
        )
