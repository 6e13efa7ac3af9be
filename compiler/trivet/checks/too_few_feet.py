"""A board on one foot, on two, or on a row of feet: it tips about them whatever it weighs."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._sets import ids
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, FootState
from trivet.units import two_lengths

RULE = Rule(
    "too-few-feet",
    "warning",
    "a board stands on one foot, on two, or on more that stand in one line, and nothing else in the file can carry it: no block cut as a"
    " spacer and no dowel that stands out of it",
    "it tips about its feet as soon as it is set down; three feet that are not in a line are the fewest that stand",
    "derived: feet within 1 mm of one line span no area to stand on",
    failing="""
- gear nw, sw, ne, se
+ gear sw, ne
-   with nw at 118 deg
-   with se at 298 deg
""",
    passing="""
- gear nw, sw, ne, se
+ gear nw, sw, ne
-   with se at 298 deg
""",
)

# Feet nearer to one line than this stand in it, mm: less than any pad is wide.
IN_LINE_MM = 1.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for the fixture, at its first foot. A train that has no places, or that locks, is mended first."""
    feet, train = derived.feet, derived.train
    if not feet or train.faults or train.conflicts or any(loop.odd for loop in train.loops) or _carried_elsewhere(design):
        return
    off = _off_line_mm(feet)
    if off > IN_LINE_MM:
        return
    first, unit = feet[0], design.units
    names = named(foot.id for foot in feet)
    if len(feet) == 1:
        message = f"the board stands on one foot, {names}, and tips to every side; at least 3 feet are required"
    elif len(feet) == 2:
        message = f"the board stands on two feet, {names}, and tips about the line through them; at least 3 feet are required"
    else:
        has, least = two_lengths(off, IN_LINE_MM, unit)
        message = (
            f"the {len(feet)} feet {names} stand in one line, to within {has}, and the board tips about it; more than {least} off it is"
            " required of one foot at least"
        )
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        message,
        place(train.gear(first.gear).gear.name.origin, first.foot.name.origin, design.origin),
        related((f"the feet `{first.foot.name}`", first.foot.name.origin)),
        f"{'two more feet, not in one line with it' if len(feet) == 1 else 'one more foot, well beside that line'}; where something else carries"
        " the board, accept it with that reason",
        ids(feet),
    )


def _carried_elsewhere(design: Design) -> bool:
    """Whether the file has what may stand under a board: a block without a bore, or a dowel in one board only."""
    return any(spacer.bore_mm is None for spacer in design.spacers) or any(len(dowel.into) == 1 for dowel in design.dowels)


def _off_line_mm(feet: tuple[FootState, ...]) -> float:
    """How far the foot farthest off the line through two that are far apart stands off it; of feet in a line those are its ends."""
    a = max(feet, key=lambda foot: _apart_mm(foot, feet[0]))
    b = max(feet, key=lambda foot: _apart_mm(foot, a))
    long = _apart_mm(a, b)
    if long <= 0.0:
        return 0.0
    return max(abs((b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm)) / long for c in feet)


def _apart_mm(one: FootState, other: FootState) -> float:
    return math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)
