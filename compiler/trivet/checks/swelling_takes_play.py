"""An idler's play that the swelling of its sheet may use up."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import up_text
from trivet.checks._sets import by_set, ids
from trivet.checks.pivot_clamps_gear import LEAST_PLAY_MM
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import decimal_beside, length_text, two_lengths

RULE = Rule(
    "swelling-takes-play",
    "note",
    "an axial play at the thickest gear under 0.2 mm and what the gear swells over the shop's range of moisture",
    "a gear measured dry and used damp grows thicker and may be clamped between its washers",
    "from memory: plywood swells by about 0.063 mm on 18 mm for each percent of moisture; the 0.2 mm is common practice, no source",
    failing="""
+ # From 6 to 12 percent of moisture the gears swell by 0.37 mm.
""",
    passing="""
- play 0.3 mm
+   play 0.6 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each pivot, at its tightest gear; a play under 0.2 mm is another finding."""
    for name, members in by_set(derived.pivots):
        tight = min(members, key=lambda item: (item.play.least - item.swelling_mm, item.id))
        play, wanted, pivot = tight.play.least, LEAST_PLAY_MM + tight.swelling_mm, tight.pivot
        if play < LEAST_PLAY_MM - 1e-9 or play >= wanted - 1e-9:
            continue
        measured, allowed = two_lengths(play, wanted, design.units)
        stated = pivot.play.mm if pivot.play is not None else play
        shop = design.shop
        how = f"from {shop.moisture_least:g} to {shop.moisture_most:g} percent of moisture"
        swells = length_text(tight.swelling_mm, design.units)
        gear = derived.train.gear(tight.gear).gear
        more = up_text(stated + wanted - play, design.units, 0.05, 1 / 64)
        assembly = "" if tight.sleeve_length_mm is not None else ", or set the play when the gears are at their dampest"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{name}` leaves `{tight.gear}` {measured} of axial play; {allowed} allows for swelling",
            place(pivot.play.origin if pivot.play is not None else None, pivot.origin, pivot.name.origin),
            related=related((f"`{tight.gear}` swells by about {swells} {how}", gear.name.origin)),
            remedy=f"`play {more}`{decimal_beside(more)}{assembly}",
            parts=ids(members),
        )
