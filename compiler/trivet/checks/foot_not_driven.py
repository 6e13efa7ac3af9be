"""A foot whose gear the drive does not reach."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._train import gears_of, named
from trivet.checks._undriven import undriven
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
    """One finding for all gears that hang together and carry feet; none where no gear is turned at all."""
    drive, gears = derived.train.drive_gear, gears_of(design)
    for names in undriven(design, derived):
        feet = {name: gears[name].carries for name in names}
        carrying = [name for name, foot in feet.items() if foot is not None]
        if not carrying or drive is None:
            continue
        sets = dict.fromkeys(foot.text for foot in feet.values() if foot is not None)
        many = len(carrying) > 1
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the drive turns `{drive}`, but nothing leads from it to {named(carrying)}, which {'carry feet' if many else 'carries a foot'}"
            f" of {named(sets)}",
            place(gears[carrying[0]].name.origin),
            related((f"`{drive}` is turned here", gears[drive].name.origin)),
            f"a `mesh` that joins {'one of ' if len(names) > 1 else ''}{named(names)} to a gear that the drive turns",
            tuple(part for name in carrying for part in (f"{feet[name]}.{name}", name)),
        )
