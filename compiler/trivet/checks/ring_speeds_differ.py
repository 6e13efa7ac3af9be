"""A gear that two paths would drive at different speeds."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._train import gears_of
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import number_text

RULE = Rule(
    "ring-speeds-differ",
    "error",
    "a gear reached by two paths from the drive that ask for different speeds",
    "a ring through a shaft closes only if both ways round give the same ratio; else nothing turns",
    "derived: speed = product of z driver/z driven over meshes, exact; Wentzell, Machine Elements, example 11.2 (published copy)",
    failing="""
+ 
+ gear lower
+   teeth 15
+   profile_shift 0.55
+   on_shaft_with hub, below
+ mesh west
+   with lower
""",
    passing="""
+ 
+ gear lower
+   teeth 15
+   profile_shift 0.55
+   on_shaft_with hub, below
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a closing mesh or shaft; rings that are odd are reported as that alone."""
    gears, odd = gears_of(design), [loop for loop in derived.train.loops if loop.odd]
    for conflict in derived.train.conflicts:
        closing = {conflict.gear, conflict.path_two[-2]}
        if conflict.speed_one == -conflict.speed_two or any(closing <= set(loop.gears) for loop in odd):
            continue
        one, two = number_text(conflict.speed_one), number_text(conflict.speed_two)
        if one == two:
            one, two = str(conflict.speed_one), str(conflict.speed_two)
        before = conflict.path_two[-2]
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{conflict.gear}` would turn at {one} times the drive's speed by way of `{conflict.path_one[-2]}`,"
            f" and at {two} times by way of `{before}`",
            place(conflict.origin, gears[conflict.gear].name.origin),
            related(
                *(
                    (f"`{name}` has {gears[name].z} teeth", gears[name].teeth.origin)
                    for name in (conflict.gear, conflict.path_one[-2], before)
                )
            ),
            f"leave out the mesh or shaft between `{before}` and `{conflict.gear}`, or choose teeth that make both ways equal",
            (conflict.gear, before),
        )
