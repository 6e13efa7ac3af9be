"""A captured nut whose load presses it out of its pocket."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._sets import by_set, ids
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "nut-pushed-out",
    "warning",
    "a captured nut in a pocket that opens to the topside of its gear",
    "what stands on the rods pushes the nuts up: out of such a pocket, held by the adhesive alone, and against the board, where they rub",
    "derived: the rod stands on the bench, so its nut carries the gear and the board from below",
    failing="""
- kind riding
+   kind captured_nut
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   rod DIN 976-1, length 50 mm
+   nut ISO 4032, pocket topside
+   held_by keeper, stock ply18, outline rectangle 120 by 60 mm
+   rod_stop cross_pin 3 mm
- insert my_insert, driven_from topside, flush underside
- table my_insert is insert
- source "measured: five of a box of fifty"
- columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm
- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
""",
    passing="""
- kind riding
+   kind captured_nut
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   rod DIN 976-1, length 50 mm
+   nut ISO 4032, pocket underside
+   held_by keeper, stock ply18, outline rectangle 120 by 60 mm
+   rod_stop cross_pin 3 mm
- insert my_insert, driven_from topside, flush underside
- table my_insert is insert
- source "measured: five of a box of fifty"
- columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm
- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each set of feet."""
    for name, members in by_set(derived.feet):
        foot = members[0].foot
        if foot.kind == "captured_nut" and foot.nut_pocket == "topside":
            yield Diagnostic(
                RULE.slug,
                RULE.severity,
                f"the nuts of `{name}` lie in pockets that open upwards, the way that the load pushes them: only adhesive holds them",
                place(foot.nut.origin if foot.nut is not None else None, foot.origin, foot.name.origin),
                (),
                "`pocket underside`: the load then presses each nut into its gear",
                ids(members),
            )
