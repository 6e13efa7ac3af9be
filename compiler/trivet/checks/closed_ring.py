"""A ring of meshes that closes: it must be put together as drawn."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._kite import kite
from trivet.checks._ring_remedy import ROUNDING_MM, closes
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, LoopState
from trivet.units import length_text

RULE = Rule(
    "closed-ring",
    "note",
    "a closed ring of an even number of meshes that fits together",
    "it adds no strength; its teeth go together only in the places drawn, and a small error of a centre shows as several times"
    " as much at the teeth",
    "derived: alternating sum of z phi/360 deg whole; its published cousin: SDP/SI, Elements of Metric Gear Technology, p. T-116,"
    " eq. 13-8",
    failing=kite(200.059485),
    passing="""
-   backlash 0.5 mm
+   backlash 0.6 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note a ring."""
    # No mark is cut on the gear of a riding foot: zeroing would turn it away from it.
    riding = {foot.name.text for foot in design.feet if foot.kind == "riding"}
    unmarked = {gear.name.text for gear in design.gears if gear.carries is not None and gear.carries.text in riding}
    for loop in derived.train.loops:
        if loop.odd or not closes(loop):
            continue
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the ring of {named(loop.gears, 8)} closes{_how(loop, design.units)}",
            place(loop.origin),
            (),
            "put the gears in one after the other round the ring, each tooth in its space, before the feet are zeroed"
            if unmarked & set(loop.gears)
            else "set the gears by the marks on their undersides",
            loop.gears,
        )


def _how(loop: LoopState, unit: str) -> str:
    if loop.residual_mm <= ROUNDING_MM:
        return ", with every tooth in its place"
    left, allowed = length_text(loop.residual_mm, unit), length_text(loop.allowed_mm, unit)
    return f" with its teeth {left} out of place; {allowed} is what backlash takes up"
