"""Parts that cannot be put together in any order."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._clear import places_of, where
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.assembly import Captive, assembly
from trivet.solve.assembly_units import PAD
from trivet.solve.derived import Derived

RULE = Rule(
    "assembly-blocked",
    "error",
    "parts of which each would have to be there before the other",
    "what comes straight up from below, or down from above, meets a part that could not come later: nobody can put it together",
    "derived: parts taken off one after another, each straight down or up; gears in mesh slide out along their axes",
    failing="""
- gear west, east
+ gear low_w
+   teeth 17
+   on_shaft_with west, below
+ 
+ gear low_nw
+   teeth 17
+   on_shaft_with nw, below
+ 
+ gear west, east
""",
    passing="""
- gear west, east
+ gear low_w
+   teeth 17
+   on_shaft_with west, below
+ 
+ gear low_nw
+   teeth 15
+   on_shaft_with nw, below
+ 
+ gear west, east
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each group of parts that hold each other."""
    found = assembly(design, derived)
    places = places_of(design, derived)
    for group in _groups(found.blocked):
        first = group[0]
        because = "; ".join(dict.fromkeys(item.why[0] for item in group))
        parts = tuple(dict.fromkeys(item.part.removesuffix(".keeper").removesuffix(PAD) for item in group))
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"{named(parts)} cannot be put together in any order: {because}",
            where(places, design, first.part),
            related(*((f"`{name}` is declared here", places.get(name)) for name in parts[1:4])),
            "make one of them smaller or move them apart; or join the gears of a shaft only when they hang in their places",
            parts,
        )


def _groups(blocked: tuple[Captive, ...]) -> Iterator[tuple[Captive, ...]]:
    """Captives that hold each other, directly or round a ring, in the order of the file."""
    left = {item.part: item for item in blocked}
    while left:
        reached = {next(iter(left))}
        while grown := {
            name
            for name, item in left.items()
            if name not in reached and (reached & set(item.held_by) or any(name in left[other].held_by for other in reached))
        }:
            reached |= grown
        yield tuple(item for name, item in left.items() if name in reached)
        left = {name: item for name, item in left.items() if name not in reached}
