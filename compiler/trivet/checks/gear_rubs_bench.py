"""A foot whose gear, not its head or pad, stands on the bench."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import up_text
from trivet.checks._sets import by_set, ids
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.flush import rock_once_a_turn_mm, tilt_deg
from trivet.solve.library_figures import METAL_ON_WOOD, WOOD_ON_WOOD
from trivet.solve.power_screw import disc_friction_torque
from trivet.solve.torque import SMALL_CONTACT
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
        rocks = length_text(max(rock_once_a_turn_mm(design, derived, item) for item in feet), design.units)
        wood = [disc_friction_torque(1.0, friction, radius) for friction in WOOD_ON_WOOD]
        small = SMALL_CONTACT * foot.foot.thread.major_mm / 2.0
        dome = [disc_friction_torque(1.0, friction, small) for friction in METAL_ON_WOOD]
        deep, high = two_lengths(pocket, head + drop, design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the gears of `{name}` stand on the bench: the pocket is {deep} deep, {'head and pad' if drop > 0.0 else 'the head'} only {high} high",
            place(foot.foot.pocket.origin if foot.foot.pocket is not None else None, foot.foot.pad.origin, foot.foot.name.origin),
            related=related(
                (
                    f"tilted {tilt_deg(design, foot):.2g} deg with its insert, `{foot.gear}` rocks the board by up to {rocks} in a turn",
                    derived.train.gear(foot.gear).gear.name.origin,
                ),
                (
                    f"each newton on it takes {wood[0]:.2g} to {wood[1]:.2g} Nmm to rub it round, {dome[0]:.1g} to {dome[1]:.2g} on a dome; tilted, it "
                    f"bears on its rim and walks: the friction there pushes the board sideways with up to {WOOD_ON_WOOD[1]:g} N for each",
                    foot.foot.pad.origin,
                ),
            ),
            remedy=f"`pad dome, drop {wanted}` stands {length_text(STANDS_OUT_MM, design.units)} or more out of the gear",
            parts=ids(feet),
        )
