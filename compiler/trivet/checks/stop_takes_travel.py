"""A stop on the drive whose longer bolt takes travel from the feet."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from trivet.checks._check import place, related
from trivet.checks._round import up_told
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.bolts import STOP_ITEM
from trivet.solve.derived import Derived
from trivet.solve.drive_stop import SPARE_TURNS, stop_mm
from trivet.solve.solve import solve
from trivet.units import Quantity, length_text, two_lengths

# Travel that is not missed, mm (common practice, no source).
ALLOWED_MM = 0.05
# Steps in which feet are put farther out, and how many are tried: common practice, no source.
STEP_MM, STEP_INCH_MM, TRIES = 0.5, 25.4 / 32.0, 6

RULE = Rule(
    "stop-takes-travel",
    "warning",
    "a stop on the drive whose nuts need a bolt so long that the feet lose travel to it",
    "the end of the bolt reaches the bench before the board is down; a table of turns costs no height",
    "derived: the bolt is as long as the drive's stack, the turns of the travel times its lead, two nuts and a washer",
    failing="""
- play 0.2 mm
+   play 0.2 mm
+   stop
""",
    passing="""
- play 0.2 mm
+   play 0.2 mm
+   dial marks 10, diameter 40 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each drive with a stop; the fixture is solved again without it."""
    stopped = [state for state in derived.drives if state.drive.stop]
    if not stopped:
        return
    before = solve(_without(design))
    if before.lift is None:
        return
    now = derived.lift.travel_mm if derived.lift is not None else 0.0
    lost = before.lift.travel_mm - now
    if lost <= ALLOWED_MM:
        return
    state = stopped[0]
    bolt = next((item for item in derived.bolts if item.part == state.id), None)
    longer = next((band.mean for name, band in bolt.stack if name == STOP_ITEM), 0.0) if bolt is not None else 0.0
    # The regained travel makes the bolt longer still.
    out = lost + max(0.0, stop_mm(state.drive, before.lift.turns_for_travel + 2.0 * SPARE_TURNS) - longer)
    left, whole = two_lengths(now, before.lift.travel_mm, design.units)
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"the stop of `{state.drive.name}` needs {length_text(longer, design.units)} of bolt below its nuts, which leaves {left} of travel; "
        f"without it the travel is {whole}",
        place(state.drive.origin, state.drive.name.origin),
        related((f"the lowest point is then {derived.low_point_part}", state.drive.name.origin)),
        f"feet that stand {_farther(design, out) if derived.try_changes else ''}farther out, or no stop: count the turns, with a dial",
        (state.drive.name.text,),
    )


def _without(design: Design) -> Design:
    return design.model_copy(
        update={"drives": tuple(drive.model_copy(update={"stop": False, "stop_nut": None}) for drive in design.drives)}
    )


def _farther(design: Design, out_mm: float) -> str:
    """How much farther the feet must stand out, tried out: their travel grows with it, and so does the bolt. Empty where none tried does."""
    step = STEP_INCH_MM if design.units in ("in", "thou") else STEP_MM
    for _ in range(TRIES):
        out = math.ceil(out_mm / step - 1e-6) * step
        feet = []
        for foot in design.feet:
            drop = (foot.pad.drop.mm if foot.pad.drop is not None else 0.0) + out
            feet.append(foot.model_copy(update={"pad": foot.pad.model_copy(update={"drop": _length(drop)})}))
        raised = design.model_copy(update={"feet": tuple(feet)})
        travels = [lift.travel_mm if lift is not None else 0.0 for lift in (solve(raised).lift, solve(_without(raised)).lift)]
        if travels[1] - travels[0] <= ALLOWED_MM:
            return f"{up_told(out, design.units, 0.5, 1 / 32)} "
        out_mm = out + max(travels[1] - travels[0], step)
    return ""


def _length(mm: float) -> Quantity:
    return Quantity(Fraction(mm).limit_denominator(100_000), "mm")
