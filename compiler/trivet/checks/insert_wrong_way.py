"""An insert that would do better driven from the other face."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._sets import by_set, ids
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.model.hardware import Insert
from trivet.solve.derived import Derived, FootState
from trivet.units import length_text, two_lengths

# A gain of travel worth turning an insert for, mm (common practice, no source).
WORTH_MM = 0.5

RULE = Rule(
    "insert-wrong-way",
    "note",
    "an insert that gives less travel, or is loosened by raising, as it is driven",
    "the drive slot carries no thread, so the live thread lies elsewhere when the insert is turned round; "
    "and the screw's friction turns the insert with it: driven from the topside, raising tightens it, from the underside it loosens it",
    "derived: the stroke is solved both ways; an insert's outer thread is taken as right-hand",
    failing="""
- insert my_insert, driven_from topside, flush underside
+   insert my_insert, driven_from underside, flush underside
""",
    passing="""
+ # Driven from the topside, the live thread of this insert lies low.
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each foot set. A flange decides the way by itself, so flanged inserts and tee nuts are left out."""
    if derived.lift is None:
        return
    now = derived.lift.travel_mm
    for name, feet in by_set(derived.feet):
        foot, use = feet[0], feet[0].foot.insert
        if use is None or not isinstance(use.hardware, Insert) or use.hardware.flange_diameter_mm is not None:
            continue
        other = foot.other_way_travel_mm if foot.other_way_travel_mm is not None else now
        loosens = _raising_loosens(foot)
        if other < now + WORTH_MM and not loosens:
            continue
        here, there = two_lengths(now, other, design.units)
        way = "underside" if use.driven_from == "topside" else "topside"
        gain = other >= now + WORTH_MM
        said = [f"travel is {here}; driven from the {way} it would be {there}"] if gain else []
        said += ["raising the board loosens it"] if loosens else []
        glue = "epoxy round the insert keeps it"
        remedy = f"`driven_from {way}` gives {there} of travel at mean thickness" if gain or other > 0.0 else glue
        if gain and not loosens:
            remedy += f"; raising the board then loosens it: {glue}"
        if loosens and not gain and other > 0.0:
            remedy += f"; {glue} as it is"
        live = f"its live thread runs from {length_text(use.hardware.live_from_mm, design.units)} "
        live += f"to {length_text(use.hardware.live_to_mm, design.units)} from the end it is driven by"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the insert of `{name}` is driven from the {use.driven_from}: {', and '.join(said)}",
            place(use.origin, foot.foot.name.origin),
            related=related((live, use.hardware.origin)),
            remedy=remedy,
            parts=ids(feet),
        )


def _raising_loosens(foot: FootState) -> bool:
    """A right-hand screw turns clockwise seen from above to raise; that tightens a right-hand outer thread driven from above."""
    assert foot.foot.insert is not None
    return (foot.foot.insert.driven_from == "topside") != (foot.foot.thread.hand > 0)
