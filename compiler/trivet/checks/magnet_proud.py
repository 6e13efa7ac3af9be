"""A magnet that may stand out of its face."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import down_text
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import length_text

RULE = Rule(
    "magnet-proud",
    "note",
    "the depth of a magnet's hole, less the shop's depth error, is less than the magnet's thickness",
    "a magnet that stands proud keeps the faces apart and is torn out; holes are cut 0.15 mm deeper than the magnet, which a large depth"
    " error takes up",
    "common practice, no source",
    failing="""
+ 
+ magnet keeper
+   into deck, topside
+   disc 10 by 3 mm
+   at (240, 30) mm
""",
    passing="""
- inserts guide_block
+   inserts guide_block
+   depth +/- 0.1 mm
+ 
+ magnet keeper
+   into deck, topside
+   disc 10 by 3 mm
+   at (240, 30) mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note for each statement."""
    error = design.shop.depth_mm
    origins = design.shop.origins or {}
    for magnet in design.magnets:
        room = magnet.hole_depth_mm - magnet.disc.thickness_mm
        proud = error - room
        if proud <= 1e-9:
            continue
        unit = design.units
        assumed = "" if "depth" in design.shop.stated else ", assumed"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{magnet.name}` may stand {length_text(proud, unit)} proud: its hole is {length_text(room, unit)} deeper than the magnet,"
            f" the shop's depth error {length_text(error, unit)}{assumed}",
            place(magnet.name.origin, magnet.origin),
            related(("the depth error is stated here", origins.get("depth"))),
            f"cut a trial hole and try the magnet in it; a depth held to +/- {down_text(room, unit)} is enough",
            (magnet.name.text,),
        )
