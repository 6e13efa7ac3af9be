"""A gear without a foot that the drive does not reach."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._train import gears_of
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "gear-not-driven",
    "warning",
    "an idler that no chain of meshes and shafts joins to the drive",
    "it turns nothing; a mesh is probably missing",
    "derived: reach in the graph of meshes and shafts",
    failing="""
+ 
+ gear spare
+   teeth 20
+   at (240, 40) mm
+   turns_on pin
""",
    passing="""
+ 
+ gear spare
+   teeth 20
+   turns_on pin
+ mesh hub
+   with spare at 270 deg
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a gear; none where no gear is turned at all, and none for gears whose feet are reported."""
    drive = derived.train.drive_gear
    if drive is None:
        return
    gears = gears_of(design)
    for name in derived.train.unreached:
        gear = gears[name]
        if gear.carries is not None:
            continue
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the drive turns `{drive}`, but nothing leads from it to `{name}`",
            place(gear.name.origin),
            related((f"`{drive}` is turned here", gears[drive].name.origin)),
            f"a `mesh` with `{name}`, or leave the gear out",
            (name,),
        )
