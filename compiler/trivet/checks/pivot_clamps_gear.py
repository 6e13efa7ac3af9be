"""A pivot that leaves an idler too little axial play, so that it clamps it."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import up_text
from trivet.checks._sets import by_set, ids
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import decimal_beside, length_text, two_lengths

# Least axial play at the thickest gear, mm (common practice, no source).
LEAST_PLAY_MM = 0.2

RULE = Rule(
    "pivot-clamps-gear",
    "error",
    "an axial play under 0.2 mm at the thickest gear and the thickest washers",
    "a gear that is clamped between its washers does not turn, and the whole train stands still",
    "common practice, no source",
    failing="""
- play 0.3 mm
+   play 0.1 mm
""",
    passing="""
+ # 0.3 mm are left at the thickest sheet.
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each pivot, at its tightest gear."""
    for name, members in by_set(derived.pivots):
        tight = min(members, key=lambda item: (item.play.least, item.id))
        play, pivot = tight.play.least, tight.pivot
        if play >= LEAST_PLAY_MM - 1e-9:
            continue
        measured, allowed = two_lengths(play, LEAST_PLAY_MM, design.units)
        stated = pivot.play.mm if pivot.play is not None else tight.play.mean
        wanted = up_text(stated + LEAST_PLAY_MM - play, design.units, 0.05, 1 / 64)
        gear = derived.train.gear(tight.gear)
        thick = length_text(gear.face_width.most, design.units)
        on = "shoulder" if pivot.shoulder is not None else "sleeve"
        longer = f"; the {on} becomes as much longer" if tight.sleeve_length_mm is not None else ""
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{name}` leaves `{tight.gear}` {measured} of axial play at its thickest; at least {allowed} is required",
            place(pivot.play.origin if pivot.play is not None else None, pivot.origin, pivot.name.origin),
            related=related((f"`{tight.gear}` is up to {thick} thick", gear.face_width.origin or gear.gear.name.origin)),
            remedy=f"`play {wanted}`{decimal_beside(wanted)}" + longer,
            parts=ids(item for item in members if item.play.least < LEAST_PLAY_MM - 1e-9),
        )
