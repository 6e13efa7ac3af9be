"""A ring whose last mesh finds tooth against tooth."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._kite import kite
from trivet.checks._ring_remedy import closes, ring_remedy
from trivet.checks._train import gears_of, named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import two_lengths

RULE = Rule(
    "ring-out-of-phase",
    "error",
    "a closed ring of an even number of meshes whose last two gears do not find tooth in space",
    "in a ring the place of every tooth is fixed by the centres; the last gear goes in only where the alternating sum of z phi/360"
    " deg is whole, or where backlash takes up what is left",
    "derived, and checked by turning outlines against each other; its published cousin: SDP/SI, Elements of Metric Gear"
    " Technology, p. T-116, eq. 13-8",
    failing=kite(200.559485),
    passing=kite(200.059485),
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a ring."""
    gears = gears_of(design)
    for loop in derived.train.loops:
        if loop.odd or closes(loop):
            continue
        left, room = two_lengths(loop.residual_mm, loop.allowed_mm, design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the ring of {named(loop.gears, 8)} closes with its teeth {left} out of place; {room} is what backlash takes up",
            place(loop.origin),
            related(*((f"`{name}` is part of the ring", gears[name].name.origin) for name in loop.gears)),
            ring_remedy(design, derived, loop, design.units),
            loop.gears,
        )
