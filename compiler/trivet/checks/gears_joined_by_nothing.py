"""Gears fixed on one shaft that nothing, or glue alone, keeps from turning on each other."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import down_text
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.shaft_joints import ShaftJoint
from trivet.units import decimal_beside, two_lengths

_BASE = """
- gear west, east
+ gear low_w
+   teeth 25
+   on_shaft_with west, below
+   joined_by {}
+ 
+ gear west, east
"""
RULE = Rule(
    "gears-joined-by-nothing",
    "warning",
    "gears fixed on one shaft that no dowels find room in, or that are said to be clamped where no nuts lie on both sides of them",
    "glue between faces lets go at a jolt, and gears that turn on each other let the feet of one side stand still",
    "derived: the ring between bore or recess and roots; dowels, 3 mm of wood to the bore and the rim under the roots are common practice, no source",
    failing=_BASE.format("clamped"),
    passing=_BASE.format("dowels 6 mm"),
)

# Thinner dowels are hardly sold, and break before the teeth do: common practice, no source.
LEAST_DOWEL_MM = 4.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each shaft."""
    gears = {gear.name.text: gear.name.origin for gear in design.gears}
    for joint in derived.joints:
        if joint.holds:
            continue
        first, last = joint.gears[0], joint.gears[-1]
        message, remedy = _clamped(joint) if joint.form == "clamped" else _glued(design, joint)
        yield Diagnostic(
            RULE.slug, RULE.severity, message, place(joint.origin, gears[last], design.origin),
            related((f"`{first}` is declared here", gears[first])), remedy, joint.gears,
        )  # fmt: skip


def _clamped(joint: ShaftJoint) -> tuple[str, str]:
    both = f"`{joint.gears[0]}` and `{joint.gears[-1]}`"
    return (
        f"nothing clamps {both}: only a drive with a nut above and a nut below its gears does",
        "`joined_by dowels`, or leave it out: glue and two dowels are then taken",
    )


def _glued(design: Design, joint: ShaftJoint) -> tuple[str, str]:
    both = f"`{joint.gears[0]}` and `{joint.gears[-1]}`"
    if joint.webbed:
        return f"glue alone joins {both}: the web of `{joint.webbed}` leaves no wood for dowels", f"`{joint.webbed}` without a web"
    has, least = two_lengths(joint.room_mm, joint.needs_mm, design.units)
    lacking = joint.needs_mm - joint.room_mm
    if lacking <= 0.0:
        return f"glue alone joins {both}: dowels between layers stand where theirs would", "thinner dowels"
    thinner = down_text(joint.dowel_mm - lacking, design.units, 0.1)
    thick_enough = joint.room_mm > 0.0 and joint.dowel_mm - lacking >= LEAST_DOWEL_MM
    return (
        f"glue alone joins {both}: {has} of wood between bore or recess and roots; two dowels take {least}",
        (f"`joined_by dowels {thinner}`{decimal_beside(thinner)} or thinner, or " if thick_enough else "") + "more teeth on the smaller gear",
    )
