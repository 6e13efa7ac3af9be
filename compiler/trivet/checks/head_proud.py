"""A drive bolt's head that stands above the work surface."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._round import up_text
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import decimal_beside, two_lengths

RULE = Rule(
    "head-proud",
    "warning",
    "the head of a drive bolt that is less deep in the board than it is high",
    "it lifts the workpiece and catches what slides over the board",
    "common practice, no source",
    failing="""
-   bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762, head recessed 7 mm
""",
    passing="""
-   bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762, head recessed 8.2 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a drive; the recess at its shallowest against the tallest head. A countersunk one has its cone within the recess."""
    for drive in design.drives:
        head = drive.bolt.head
        if head.form == "wood":
            continue
        stated = drive.head_recessed.mm if drive.head_recessed is not None else 0.0
        least = stated - design.shop.depth_mm if stated else 0.0
        if least >= head.height_max_mm - 1e-9:
            continue
        deep, high = two_lengths(least, head.height_max_mm, design.units)
        needed = up_text(head.height_max_mm + design.shop.depth_mm, design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the head of `{drive.name}` is let in {deep} at least; it is up to {high} high",
            place(drive.head_recessed.origin if drive.head_recessed is not None else None, drive.name.origin, design.origin),
            (),
            f"`head recessed {needed}`{decimal_beside(needed)} sinks it at every depth that the shop cuts",
            (drive.name.text,),
        )
