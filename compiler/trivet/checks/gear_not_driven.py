"""A gear without a foot that the drive does not reach."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._train import gears_of, named
from trivet.checks._undriven import undriven
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
    """One finding for gears that hang together; none where no gear is turned at all, and none where they carry feet, which are reported."""
    drive, gears = derived.train.drive_gear, gears_of(design)
    for names in undriven(design, derived):
        if drive is None or any(gears[name].carries is not None for name in names):
            continue
        many = len(names) > 1
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the drive turns `{drive}`, but nothing leads from it to {named(names)}",
            place(gears[names[0]].name.origin),
            related((f"`{drive}` is turned here", gears[drive].name.origin)),
            f"a `mesh` with {'one of ' if many else ''}{named(names)}, or leave the gear{'s' if many else ''} out",
            names,
        )
