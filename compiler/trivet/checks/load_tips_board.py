"""A stated load that tips the board over its feet."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.board import Load
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.library_figures import DENSITY_SOURCE
from trivet.solve.tipping import hold_down_n, tipped_edge, weight_of

RULE = Rule(
    "load-tips-board",
    "warning",
    "a stated load that tips the board over two of its feet, against the board's own weight",
    "a load outside the feet lifts the feet across as soon as its moment is more than the board's",
    "derived: moments about each edge of the polygon that the feet stand on; a load along x or y acts at the greatest height",
    failing="""
- size 1220 by 610 mm
+   size 1220 by 610 mm
+   material birch_plywood
+ 
+ load hand
+   force 300 N at (470, 175) mm, down
""",
    passing="""
- size 1220 by 610 mm
+   size 1220 by 610 mm
+   material birch_plywood
+ 
+ load hand
+   force 10 N at (470, 175) mm, down
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each load that tips the board alone; else one where all together do. None where the weight is not known."""
    if not design.loads or len(derived.feet) < 3:
        return
    weight, _ = weight_of(design)
    if weight is None:
        return
    height = derived.lift.height_max_mm if derived.lift is not None else 0.0
    groups: list[Sequence[Load]] = [(load,) for load in design.loads]
    tips = [(group, found) for group in groups if (found := tipped_edge(derived, weight, group, height)) is not None]
    if not tips and len(design.loads) > 1:
        together = tipped_edge(derived, weight, design.loads, height)
        tips = [(design.loads, together)] if together is not None else []
    for loads, (feet, over) in tips:
        named = " and ".join(f"`{load.name}`" for load in loads)
        far, hold = hold_down_n(derived.feet, feet, over)
        first = next(item for item in derived.feet if item.id == feet[0])
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"{named} {'tips' if len(loads) == 1 else 'tip'} the board over `{feet[0]}` and `{feet[1]}`: {over / 1000.0:.1f} Nm more than its weight of about "
            f"{weight[0]:.0f} N holds",
            place(loads[0].origin, loads[0].name.origin),
            related(("it tips over this foot", derived.train.gear(first.gear).gear.name.origin)),
            f"feet farther out, the load nearer to the middle, or a hold-down of more than {math.ceil(hold)} N at `{far}` "
            f"({DENSITY_SOURCE}; gears and what lies on the board are left out)",
            (*(load.name.text for load in loads), *feet),
        )
