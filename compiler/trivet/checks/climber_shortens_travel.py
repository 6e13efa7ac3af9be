"""A climbing idler that ends the travel before the feet would."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._climber_remedy import climber_remedy, shortened
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import two_lengths

RULE = Rule(
    "climber-shortens-travel",
    "warning",
    "an idler that rides a thread ends the travel more than 0.5 mm before the feet alone would",
    "turning against its neighbours it needs the other hand of thread to move with them; with the same hand they part twice as fast",
    "derived: shift per mm of travel |1 + eta (lead_i z_f)/(lead_f z_i)|, eta +1 for the same hand, -1 for the opposite",
    failing="""
+ 
+ foot climber
+   kind riding
+   thread M8
+   screw ISO 4017, length 25 mm, pocket 5.8 mm
+   insert my_insert, driven_from topside, flush underside
+   climbs from 8 mm
- turns_on pin
+   carries climber
""",
    passing="""
+ 
+ foot climber
+   kind riding
+   thread M8-LH
+   screw ISO 4017, length 30 mm, pocket 5.8 mm
+   insert my_insert, driven_from topside, flush underside
+   climbs from 1 mm
- turns_on pin
+   carries climber
- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
+   row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
+   row M8-LH, 16.0 +/- 0.1, 15, 4, 15, 13.5
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for the fixture, at the first climber that ends the travel. None where no travel is left, with some sheets at least: `no-stroke` says so."""
    found = shortened(derived)
    if found is None or found.left_mm <= 1e-9 or (derived.lift is not None and derived.lift.travel_worst_mm <= 0.0):
        return
    first = found.climber
    left, most = two_lengths(found.left_mm, found.alone_mm, design.units)
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"`{first.id}` climbs so that {left} of travel are left; the feet alone have {most}",
        place(first.foot.climbs_from.origin if first.foot.climbs_from is not None else None, first.foot.name.origin),
        related((found.blamed.sentence, first.foot.name.origin)),
        climber_remedy(design, derived, found),
        tuple(dict.fromkeys((first.id, *found.blamed.parts))),
    )
