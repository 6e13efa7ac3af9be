"""A screw that meets the board above, or the end of a blind hole, before any travel is left."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._stroke import nothing_left
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "screw-bottoms",
    "error",
    "a screw that meets the board above, or the end of a blind hole, before any travel is left",
    "the screw jams on the wood above it and teeth can break",
    "derived: extension >= bearing face + length + 0.5 mm - underside of the board above; the 0.5 mm is common practice, no source",
    failing="""
+ board lower
+   stock ply18
+   cutter straight6
+   outline rectangle 480 by 350 mm
+   under deck, centred
+ default gear
+   under lower
- kind riding
+   kind riding
+   into lower
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762, head recessed 9.2 mm
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 45 mm, pocket 5.8 mm
""",
    passing="""
+ board lower
+   stock ply18
+   cutter straight6
+   outline rectangle 480 by 350 mm
+   under deck, centred
+ default gear
+   under lower
- kind riding
+   kind riding
+   into lower
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762, head recessed 9.2 mm
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 30 mm, pocket 5.8 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Where this bound leaves no stroke (`_stroke.named` says which of the two ends is named)."""
    yield from nothing_left(
        RULE,
        design,
        derived,
        "a screw shorter than {screw}, or a through hole wider than it in the board above, leaves a travel",
    )
