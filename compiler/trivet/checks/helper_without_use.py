"""A shop aid that finds nothing to serve."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "helper-without-use",
    "note",
    "a shop aid that is asked for serves something in the fixture: a guide block an insert, shims a stroke, a bar two holes in "
    "one board",
    "nothing is drawn for it, and who asked for it waits for a part that never comes",
    "derived: aids are drawn from what they serve",
    failing="""
- mesh hub
-   with west at 180 deg
-   with east at 0 deg
- mesh west
-   with nw at 118 deg
-   with sw at 242 deg
- mesh east
-   with ne at 62 deg
-   with se at 298 deg
+ helper centring_bar
""",
    passing="""
+ 
+ helper centring_bar
""",
)

_SERVES = {
    "guide_block": ("no foot has an insert", "guide_block"),
    "shims": ("no stroke is left to zero the feet in", "shim"),
    "centring_bar": ("no two gears in mesh stand over round holes of one board", "centring_bar"),
}


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note an aid; nothing where parts were not worked out."""
    if not derived.parts:
        return
    drawn = {part.part for part in derived.parts if part.kind == "helper"}
    for helper in design.helpers:
        why, stem = _SERVES[helper.kind]
        if not any(part.startswith(f"helper.{stem}") for part in drawn):
            yield Diagnostic(
                RULE.slug,
                RULE.severity,
                f"`helper {helper.kind}` draws nothing: {why}",
                place(helper.origin, design.origin),
                remedy="take it out",
                parts=(helper.kind,),
            )
