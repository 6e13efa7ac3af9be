"""Extended screws that give sideways under a stated load."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.sway import THREAD_PLAY_MM, sways
from trivet.units import length_text, two_lengths

# Sideways give that is felt at the work, mm.
ALLOWED_MM = 0.1

RULE = Rule(
    "screws-sway",
    "note",
    "a board that sways by more than 0.1 mm on its screws under a stated load along x or y, at the greatest height",
    "a screw bends with the cube of what stands out of its thread, and rocks in its thread's play; an estimate, which certifies no load",
    "derived: F L^3 / (3 E I) on the root diameter of steel, and play over engaged length times L; the play and 0.1 mm are common "
    "practice, no source",
    failing="""
+ 
+ load push
+   force 100 N at deck.centre, along x
""",
    passing="""
+ 
+ load plank
+   force 100 N at deck.centre, down
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each load along x or y, about the foot that sways most."""
    for sway in sways(design, derived):
        total = sway.bend_mm + sway.play_mm
        if total <= ALLOWED_MM:
            continue
        load, foot = sway.load, sway.foot
        unit = design.units
        measured, allowed = two_lengths(total, ALLOWED_MM, unit)
        digits = 4 if unit in ("in", "thou") else 3
        bend, play = length_text(sway.bend_mm, unit, digits), length_text(sway.play_mm, unit, digits)
        free = length_text(sway.free_mm, unit)
        engaged = length_text(foot.engagement_at_most_mm, unit)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{load.name}` makes `{foot.id}` sway by about {measured} at the greatest height; {allowed} is usual",
            place(load.origin, load.name.origin),
            related(
                (
                    f"{bend} is the bending of {free} of screw, {play} the rocking in {engaged} of thread with "
                    f"{length_text(THREAD_PLAY_MM, unit, 3)} of play, which is assumed",
                    foot.foot.name.origin,
                )
            ),
            "a longer engagement, a thicker screw or a lower setting",
            (load.name.text, foot.id),
        )
