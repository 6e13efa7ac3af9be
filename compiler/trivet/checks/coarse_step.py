"""A turn that raises the board by more than a hand can set."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._train import gears_of
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import two_lengths

RULE = Rule(
    "coarse-step",
    "note",
    "an eighth of a turn of the drive raises the board by more than 0.25 mm, and no `require lift_per_turn` says that this is meant",
    "a hand stops a knob within about a sixteenth of a turn, and a step of a tenth of a millimetre is felt between two boards",
    "common practice, no source",
    failing="""
-   teeth 16
+   teeth 36
""",
    passing="""
-   teeth 16
+   teeth 32
""",
)

# Height of an eighth of a turn, mm.
MOST_MM = 0.25


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """At most one note."""
    lift, train = derived.lift, derived.train
    if lift is None or train.drive_gear is None or any(item.kind == "lift_per_turn" for item in design.requires):
        return
    step = abs(lift.per_turn_mm) / 8.0
    if step <= MOST_MM + 1e-9:
        return
    gear = gears_of(design)[train.drive_gear]
    teeth = int(gear.z * MOST_MM / step + 1e-9)
    fewer = f"`{gear.name}` with {teeth} teeth or fewer, or " if teeth >= 6 else ""
    has, most = two_lengths(step, MOST_MM, design.units)
    drive = gear.turned_by or gear.name
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"an eighth of a turn of `{drive}` raises the board by {has}; {most} or less is easy to set",
        place(drive.origin, gear.name.origin),
        (),
        f"{fewer}feet with more teeth or a finer thread",
        (drive.text, gear.name.text),
    )
