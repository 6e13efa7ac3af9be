"""Little wood left under the drive bolt's head."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import down_text
from trivet.checks._sets import by_set, ids
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.board_levels import chain_above
from trivet.solve.derived import BoardLevel, Derived
from trivet.units import length_text, two_lengths

# Least wood under a counterbore for something clamped, mm; or half the sheet where that is less.
LEAST_MM = 6.0
# Boards that lie on one another, mm: far below any gap that is stated.
TOUCHING_MM = 0.05
# Lengths that differ by less are equal.
SAME_MM = 1e-9

RULE = Rule(
    "thin-under-head",
    "warning",
    "a counterbore for the drive's head that leaves less than 6 mm of wood, and less than half the sheet",
    "the head hangs the drive gear and bears on this wood with every push on the key; thin plies split off",
    "common practice, no source",
    failing="""
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762, head recessed 13 mm
""",
    passing="""
+ # Recessed by 9 mm, more than 8 mm of wood are left.
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each drive, with the thinnest sheet and the deepest recess. A head through the board is an error."""
    levels = {level.board.name.text: level for level in derived.boards}
    above = {level.board.name.text: level.board.under.text for level in derived.boards if level.board.under is not None}
    for name, members in by_set(derived.drives):
        thin = min(members, key=lambda item: (item.remaining_under_head_mm, item.id))
        uppermost = levels[chain_above(above, derived.train.gear(thin.gear).gear.under.text)[-1]]
        wanted = min(LEAST_MM, uppermost.thickness.least / 2.0)
        left, recess = thin.remaining_under_head_mm, thin.drive.head_recessed
        if recess is None or left >= wanted - SAME_MM:
            continue
        if left > SAME_MM and any(_touches(level, uppermost) for level in derived.boards):
            continue
        measured, allowed = two_lengths(max(left, 0.0), wanted, design.units)
        shallower = down_text(max(recess.mm - (wanted - left), 0.0), design.units)
        through = left <= SAME_MM
        yield Diagnostic(
            RULE.slug,
            "error" if through else RULE.severity,
            f"the head of `{name}` goes through the board: {measured} of wood is left under it; at least {allowed} is advised"
            if through
            else f"{measured} of wood is left under the head of `{name}`; at least {allowed} is advised",
            place(recess.origin, thin.drive.origin),
            related=related(
                (
                    f"the board `{uppermost.board.name.text}` is at least {length_text(uppermost.thickness.least, design.units)} thick",
                    uppermost.thickness.origin or uppermost.board.name.origin,
                )
            ),
            remedy=f"`head recessed {shallower}` leaves {allowed}",
            parts=ids(members),
        )


def _touches(level: BoardLevel, uppermost: BoardLevel) -> bool:
    """Whether a board lies against the uppermost from below: what is left under the head is then backed by it."""
    top = level.z_under_mm + level.thickness.mean
    return level is not uppermost and abs(top - uppermost.z_under_mm) < TOUCHING_MM
