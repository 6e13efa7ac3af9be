"""No height is left that all feet can reach."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._climber_remedy import climber_remedy, shortened
from trivet.checks._remedy import WORST, most_travel
from trivet.checks._sets import ids
from trivet.checks._stroke import crossing, ends, nothing_left
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import length_text

RULE = Rule(
    "no-stroke",
    "error",
    "no height is left that all feet can reach",
    "the board cannot be raised or lowered at all",
    "derived: the least and the most extension cross",
    failing="""
- kind riding
+   kind captured_nut
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   rod DIN 976-1, length 12 mm
+   nut ISO 4032, pocket underside
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
    """An empty stroke that no other rule names; and one that is empty only with some sheets, as a warning."""
    lift = derived.lift
    if lift is not None and crossing(derived) is None and lift.travel_worst_mm <= 0.0 and derived.feet:
        foot = derived.feet[0].foot
        climbing = shortened(derived)
        mean = length_text(lift.travel_mm, design.units)
        yield Diagnostic(
            RULE.slug,
            "warning",
            f"travel is {mean} at mean thickness, but 0 {'in' if design.units == 'in' else 'mm'} {WORST}",
            place(foot.name.origin),
            related=related(*((item.sentence, item.origin) for item in ends(derived) or ())),
            remedy=(climber_remedy(design, derived, climbing) if climbing is not None else "")
            or most_travel(design, derived, foot.name.text)[0]
            or "sheets that vary less, or thicker gears",
            parts=ids(derived.feet),
        )
    yield from nothing_left(RULE, design, derived, "this end moved by more than {} leaves a travel")
