"""A spacing that the cutter does not pass."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.nest_job import BESIDE_CUTTER_MM, widest_cutter_mm
from trivet.units import length_text, two_lengths

RULE = Rule(
    "parts-too-close",
    "error",
    "a sheet states a `spacing` of parts that is narrower than the widest cutter that runs round them",
    "the cutter that frees one part cuts into its neighbour; with 4 to 6 mm beside the cutter the waste still holds",
    "derived: the path of the cutter; common practice, no source, for the wood beside it",
    failing="""
-   size 1220 by 610 mm
+   size 1220 by 610 mm
+   spacing 5 mm
""",
    passing="""
-   size 1220 by 610 mm
+   size 1220 by 610 mm
+   spacing 10 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a sheet."""
    for sheet in design.sheets:
        mine = [part for part in derived.parts if part.sheet.name.text == sheet.name.text]
        cutter = widest_cutter_mm(mine)
        if sheet.spacing is None or not mine or sheet.spacing.mm >= cutter - 1e-6:
            continue
        stated, least = two_lengths(sheet.spacing.mm, cutter, design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"parts on `{sheet.name}` lie {stated} apart; the cutter that runs between them is {least} wide",
            place(sheet.spacing.origin, sheet.name.origin, design.origin),
            (),
            f"`spacing {length_text(cutter + BESIDE_CUTTER_MM, design.units)}`, or leave it out",
            (sheet.name.text,),
        )
