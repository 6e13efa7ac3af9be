"""An idler that turns on bare thread."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import up_text
from trivet.checks._sets import by_set, ids
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.bolt_length import shank_mm
from trivet.solve.derived import BoltChoice, Derived, PivotState
from trivet.units import decimal_beside, two_lengths

# Wall of a sleeve proposed, mm (common practice, no source).
WALL_MM = 0.75
# What of the stack, counted from under the head, the plain shank has to pass to carry the gear.
UNDER = ("head within the length", "washer below the gear", "gear above the head")

RULE = Rule(
    "gear-on-thread",
    "warning",
    "an idler whose pivot is a bare screw thread, without a sleeve or a shoulder",
    "the thread files the bore: the gear chews itself loose, its centre wanders and the backlash grows",
    "common practice, no source",
    failing="""
- sleeve outside 8 mm
""",
    passing="""
+ # The pivot of the base has a sleeve.
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each pivot. A plain shank that reaches through the gear is as good as a sleeve."""
    bolts = {bolt.part: bolt for bolt in derived.bolts}
    for name, members in by_set(derived.pivots):
        pivot = members[0].pivot
        bare = [item for item in members if not _carried(item, bolts.get(item.id))]
        if not bare or pivot.sleeve_outside is not None or pivot.shoulder is not None:
            continue
        major = pivot.thread.major_mm
        outside = up_text(major + 2 * WALL_MM, design.units, 1.0, 1 / 16)
        shank, wanted = two_lengths(_shank(bolts.get(bare[0].id)), _reach(bolts.get(bare[0].id)), design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the idlers on `{name}` turn on bare thread: {shank} of plain shank; {wanted} would carry the gear",
            place(pivot.origin, pivot.name.origin),
            related=related(*((f"`{item.gear}` turns on it", derived.train.gear(item.gear).gear.name.origin) for item in bare)),
            remedy=f"`sleeve outside {outside}`{decimal_beside(outside)}: a tube over the thread",
            parts=ids(bare),
        )


def _shank(bolt: BoltChoice | None) -> float:
    """Plain shank of the screw as fitted, mm."""
    if bolt is None or bolt.of is None or bolt.buy_mm is None:
        return 0.0
    screw = getattr(bolt.of, "screw", None)
    return min(shank_mm(screw, bolt.buy_mm), bolt.stated_mm or bolt.buy_mm) if screw is not None else 0.0


def _reach(bolt: BoltChoice | None) -> float:
    return sum(band.most for name, band in bolt.stack if name in UNDER) if bolt is not None else 0.0


def _carried(member: PivotState, bolt: BoltChoice | None) -> bool:
    return bolt is not None and _reach(bolt) > 0.0 and _shank(bolt) >= _reach(bolt) - 1e-6
