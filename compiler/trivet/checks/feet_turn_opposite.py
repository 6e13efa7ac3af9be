"""Feet of which some raise the board while others lower it."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._train import feet_parts, gears_of, named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "feet-turn-opposite",
    "error",
    "one turn of the drive raises the board at some feet and lowers it at others",
    "every mesh turns the direction round; feet with the same thread after an even and an odd number of meshes work against"
    " each other: the board twists instead of rising",
    "an idler changes the sense and nothing else: Wentzell, Machine Elements, example 11.2, p. 219 (published copy); its use for"
    " screw feet is derived",
    failing="""
+ 
+ foot left
+   like corner
+   thread M8-LH
+ gear sw
+   teeth 20
+   carries left
- gear nw, sw, ne, se
+ gear nw, ne, se
""",
    passing="""
+ 
+ foot left
+   like corner
+   thread M8
+ gear sw
+   teeth 20
+   carries left
- gear nw, sw, ne, se
+ gear nw, ne, se
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for the fixture, at the foot of the smaller party that comes first."""
    driven = [foot for foot in derived.feet if foot.rise_per_turn_mm]
    raising = [foot for foot in driven if foot.rise_per_turn_mm is not None and foot.rise_per_turn_mm > 0]
    lowering = [foot for foot in driven if foot not in raising]
    if not raising or not lowering:
        return
    few, many = (lowering, raising) if len(lowering) <= len(raising) else (raising, lowering)
    gears = gears_of(design)
    carrier = gears[few[0].gear]
    hand = "left" if few[0].foot.thread.hand == 1 else "right"
    paths = {state.id: state.path for state in derived.train.gears}
    path = paths.get(few[0].gear, ())
    between = f" between `{path[-2]}` and `{few[0].gear}`" if len(path) > 1 else ""
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"a clockwise turn of the drive raises the board at {named(foot.id for foot in raising)} and lowers it at"
        f" {named(foot.id for foot in lowering)}",
        place(carrier.carries.origin if carrier.carries is not None else None, carrier.name.origin),
        related(*((f"`{foot.id}` works the other way", gears[foot.gear].name.origin) for foot in many)),
        f"a {hand}-hand thread for {named(foot.id for foot in few)}, or one idler more{between}",
        feet_parts(few),
    )
