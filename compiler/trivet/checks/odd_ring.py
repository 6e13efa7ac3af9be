"""A closed ring with an odd number of meshes."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._train import gears_of, named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, SpeedConflict
from trivet.source import Span

RULE = Rule(
    "odd-ring",
    "error",
    "a closed ring with an odd number of meshes",
    "each mesh turns the direction round, so with an odd number the last gear would have to turn both ways: nothing turns",
    "derived: direction by (-1)^meshes round the ring; meshes are counted, not gears",
    failing="""
+ 
+ gear extra
+   teeth 16
+   turns_on pin
+ mesh hub
+   with extra at 116.39 deg
+ mesh west
+   with extra
""",
    passing="""
+ 
+ gear extra
+   teeth 16
+   turns_on pin
+ mesh hub
+   with extra at 90 deg
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a ring: those that have places, and those that show only by their speeds."""
    gears = gears_of(design)
    odd = [loop for loop in derived.train.loops if loop.odd]
    found = [(loop.gears, place(loop.origin)) for loop in odd]
    for conflict in derived.train.conflicts:
        closing = {conflict.gear, conflict.path_two[-2]}
        if conflict.speed_one == -conflict.speed_two and not any(closing <= set(loop.gears) for loop in odd):
            found.append((_ring(conflict), place(conflict.origin)))
    for names, span in found:
        yield _finding(names, span, {name: gears[name].name.origin for name in names})


def _ring(conflict: SpeedConflict) -> tuple[str, ...]:
    one, two = list(conflict.path_one), list(conflict.path_two[:-1])
    while len(one) > 1 and len(two) > 1 and one[1] == two[1]:
        one, two = one[1:], two[1:]
    return (*one, *reversed(two[1:]))


def _finding(names: tuple[str, ...], span: Span | None, origins: dict[str, object]) -> Diagnostic:
    labels = related(
        *((f"`{name}` is part of the ring", origin if isinstance(origin, Span) else None) for name, origin in origins.items())
    )
    return Diagnostic(
        RULE.slug,
        RULE.severity,
        f"the ring of {named(names, 8)} closes after an odd number of meshes; an even number is required",
        span,
        labels,
        "take one of its meshes out, or set one more idler into it",
        names,
    )
