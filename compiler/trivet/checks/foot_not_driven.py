"""A foot whose gear the drive does not reach."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._train import gears_of
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "foot-not-driven",
    "error",
    "no chain of meshes and shafts leads from the drive to a foot's gear",
    "that foot stays where it is while the others rise",
    "derived: reach in the graph of meshes and shafts",
    failing="""
-   with se at 298 deg
""",
    passing="""
-   with se at 298 deg
+   with se at 299 deg
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a foot; none where no gear is turned at all."""
    drive = derived.train.drive_gear
    if drive is None:
        return
    gears = gears_of(design)
    for name in derived.train.unreached:
        gear = gears[name]
        if gear.carries is None:
            continue
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the drive turns `{drive}`, but nothing leads from it to `{name}`, which carries a foot of `{gear.carries}`",
            place(gear.name.origin),
            related((f"`{drive}` is turned here", gears[drive].name.origin)),
            f"a `mesh` that joins `{name}` to a gear that the drive turns",
            (f"{gear.carries}.{name}", name),
        )
