"""What a file may state although nothing is computed from it yet."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.source import Origin

RULE = Rule(
    "statement-not-yet-used",
    "note",
    "a statement is read and kept, but no figure, check or drawing follows from it yet",
    "who states it may take a clean check for more than it is",
    "derived: the list of what trivet computes",
    failing="""
+ 
+ machine router
+   slot_width 6.1 mm
""",
    passing="""
-   size 1220 by 610 mm
+   size 1200 by 600 mm
""",
)

_Found = tuple[str, tuple[str, ...], tuple[Origin | None, ...]]


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note a statement."""
    for words, parts, origins in _of_parts(design):
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"{words}: nothing is computed from it yet",
            place(*origins, design.origin),
            (),
            "keep it for later, and check by hand what it is for",
            parts,
        )


def _of_parts(design: Design) -> Iterator[_Found]:
    flipped = [gear.name for gear in design.gears if gear.flip != "none"]
    if flipped:
        yield f"the flip of {named(name.text for name in flipped)}", tuple(name.text for name in flipped), (flipped[0].origin,)
    for machine in design.machines:
        for word in ("slot_width", "scale", "skew"):
            value = getattr(machine, word)
            if value is not None:
                yield f"the {word} of `{machine.name}`", (machine.name.text,), (value.origin, machine.name.origin)
