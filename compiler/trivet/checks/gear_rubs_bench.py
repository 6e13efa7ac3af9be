"""A foot whose gear, not its head or pad, stands on the bench."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import up_text
from trivet.checks._sets import by_set, ids
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import length_text, two_lengths

# How far a pad should stand out of the gear, mm (common practice, no source).
STANDS_OUT_MM = 2.0

RULE = Rule(
    "gear-rubs-bench",
    "warning",
    "a foot whose head lies within its gear, so that the gear itself stands on the bench",
    "a wooden disc rubs over two thirds of its radius instead of a dome's point, rocks the board once per turn and walks across the bench",
    "derived: friction torque of a flat disc, mu N 2/3 R; rocking 2 R tan of the insert's tilt",
    failing="""
- pad dome, drop 3 mm
""",
    passing="""
+ # The dome of the base stands 2.5 mm out of the gear.
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each foot set."""
    for name, feet in by_set(foot for foot in derived.feet if foot.touches == "gear"):
        foot = feet[0]
        head = foot.foot.screw.head.height_mm if foot.foot.screw is not None else 0.0
        pocket = foot.pocket_mm or 0.0
        drop = foot.foot.pad.drop.mm if foot.foot.pad.drop is not None else 0.0
        wanted = up_text(pocket - head + STANDS_OUT_MM, design.units, 0.5, 1 / 32)
        radius = max(derived.train.gear(item.gear).tip_radius_mm for item in feet)
        guide = foot.foot.guide
        tilt = math.radians(design.shop.insert_tilt_deg)
        tilt = tilt if guide is None else min(tilt, math.atan(guide.clearance.mm / guide.length.mm))
        rocks = length_text(2.0 * radius * math.tan(tilt), design.units)
        deep, high = two_lengths(pocket, head + drop, design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the gears of `{name}` stand on the bench: the pocket is {deep} deep, head and pad only {high} high",
            place(foot.foot.pocket.origin if foot.foot.pocket is not None else None, foot.foot.pad.origin, foot.foot.name.origin),
            related=related(
                (
                    f"tilted {math.degrees(tilt):.2g} deg with its insert, `{foot.gear}` rocks the board by up to {rocks} in a turn",
                    derived.train.gear(foot.gear).gear.name.origin,
                )
            ),
            remedy=f"`pad dome, drop {wanted}` stands {length_text(STANDS_OUT_MM, design.units)} or more out of the gear",
            parts=ids(feet),
        )
