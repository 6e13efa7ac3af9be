"""Inserts that hang out of the board over the gear of a sliding hex."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import down_told
from trivet.checks.keeper_overlaps import KEPT
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.pressed_gears import Pressed, pressed_gears
from trivet.units import two_lengths

_TOPSIDE = """
- insert my_insert, driven_from topside, flush underside
+   insert my_insert, driven_from topside, flush topside
- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
+   row M8, 16.0 +/- 0.1, {0}, 4, {0}, 13.5
"""
RULE = Rule(
    "insert-presses-gear",
    "error",
    "an insert that hangs out of the board over the gear of a sliding hex by all the play between board and gear, or more",
    "the gear is held between insert and keeper and does not turn",
    "derived: lower end of the insert, and the gear's upper face where it lies on its keeper, at both extremes of the sheets",
    failing=KEPT.format("170 by 70") + _TOPSIDE.format(18),
    passing=KEPT.format("170 by 70") + _TOPSIDE.format(17.5),
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a foot set."""
    groups: dict[str, list[Pressed]] = {}
    for item in pressed_gears(design, derived):
        groups.setdefault(item.foot.foot.name.text, []).append(item)
    for name, items in groups.items():
        worst = max(items, key=lambda item: item.hangs_mm - item.room_mm)
        use, zone = worst.foot.foot.insert, worst.foot.insert_z_mm
        if use is None or zone is None:
            continue
        has, allowed = two_lengths(worst.hangs_mm, worst.room_mm, design.units)
        shorter = zone[1] - zone[0] - worst.hangs_mm
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the insert of `{name}` hangs {has} out of `{worst.foot.foot.into}` at the worst of the sheets; its gear has {allowed} of play"
            " there",
            place(use.origin, worst.foot.foot.name.origin),
            related(("its row", use.hardware.origin)),
            f"an insert no longer than {down_told(shorter, design.units, 0.1, 0.01)}, or a thicker board",
            tuple(item.foot.id for item in items),
        )
