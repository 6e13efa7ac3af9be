"""A flanged insert or a tee nut that a pushing foot lifts off the wood."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._sets import by_set, ids
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.model.hardware import Insert
from trivet.solve.derived import Derived
from trivet.units import length_text

RULE = Rule(
    "flange-lifts-off",
    "error",
    "a tee nut or a flanged insert on the topside, under a foot that pushes it upwards",
    "a foot pushes: the bench drives the nut from the foot's side into the board, and a flange on the far side is pushed out",
    "derived: the load must press the flange onto wood; a practitioner report tells of a jig whose tee nuts were pushed out by screw thrust",
    failing="""
- insert my_insert, driven_from topside, flush underside
+   insert tee_nut, driven_from topside
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 35 mm, pocket 5.8 mm
- table my_insert is insert
- source "measured: five of a box of fifty"
- columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm
- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
""",
    passing="""
- insert my_insert, driven_from topside, flush underside
+   insert tee_nut, driven_from underside
- table my_insert is insert
- source "measured: five of a box of fifty"
- columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm
- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each foot set; the foot's side is the underside."""
    for name, feet in by_set(derived.feet):
        use = feet[0].foot.insert
        if use is None or use.driven_from != "topside":
            continue
        part = use.hardware
        flange = part.flange_diameter_mm
        if flange is None:
            continue
        what = "flanged insert" if isinstance(part, Insert) else "tee nut"
        size = length_text(flange, design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the flange of the {what} of `{name}` lies on the topside; the foot pushes upwards and lifts it off",
            place(use.origin, feet[0].foot.name.origin),
            related=related((f"its flange is {size} in diameter", part.origin)),
            remedy=f"`driven_from underside`: the flange of {size} then bears on the wood from the foot's side",
            parts=ids(feet),
        )
