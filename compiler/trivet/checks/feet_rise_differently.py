"""Feet that rise by different amounts for one turn of the drive."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from trivet.checks._check import place, related
from trivet.checks._train import feet_parts, gears_of, rise_texts
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, FootState
from trivet.solve.rise import exact_lead_mm
from trivet.units import length_text

RULE = Rule(
    "feet-rise-differently",
    "error",
    "one turn of the drive moves some feet further than others",
    "the board tilts, and tilts more with every turn, until it rocks or the screws jam",
    "derived: rise per turn = lead x product of z driver/z driven; exact fractions, no tolerance",
    failing="""
+ 
+ gear sw
+   teeth 24
+   carries corner
- gear nw, sw, ne, se
+ gear nw, ne, se
""",
    passing="""
+ 
+ gear sw
+   teeth 20
+   carries corner
- gear nw, sw, ne, se
+ gear nw, ne, se
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each foot that differs from what most feet do."""
    rises = {foot.id: abs(foot.rise_per_turn_mm) for foot in derived.feet if foot.rise_per_turn_mm}
    if len(set(rises.values())) < 2:
        return
    usual = Counter(rises.values()).most_common(1)[0][0]
    gears = gears_of(design)
    model = next(foot for foot in derived.feet if rises.get(foot.id) == usual)
    for foot in derived.feet:
        rise = rises.get(foot.id)
        if rise is None or rise == usual:
            continue
        apart = abs(rise - usual)
        texts = rise_texts(design.units, rise, usual, apart)
        whole = ""
        if derived.lift is not None and derived.lift.travel_mm > 0:
            turns = derived.lift.travel_mm / float(usual)
            whole = f", {length_text(turns * float(apart), design.units)} over the whole travel"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{foot.id}` moves {texts[0]} for a turn of the drive, `{model.id}` {texts[1]}: {texts[2]} apart after one turn{whole}",
            place(gears[foot.gear].teeth.origin, gears[foot.gear].name.origin),
            related((f"`{model.id}` is carried here", gears[model.gear].name.origin)),
            _remedy(derived, foot, rise, usual, design.units),
            feet_parts([foot]),
        )


def _remedy(derived: Derived, foot: FootState, rise: Fraction, usual: Fraction, unit: str) -> str:
    """Teeth that would equal the others, where the gear has them by a mesh and the count is whole; else the lead that would."""
    state = derived.train.gear(foot.gear)
    teeth = state.gear.z * rise / usual
    meshed = len(state.path) > 1 and {state.path[-2], state.id} in ({mesh.a, mesh.b} for mesh in derived.train.meshes)
    if meshed and teeth.denominator == 1 and teeth >= 4:
        return f"{teeth} teeth on `{foot.gear}` would make them equal"
    lead = exact_lead_mm(foot.foot.thread.lead_mm) * usual / rise
    return f"no tooth count of `{foot.gear}` alone makes them equal; a lead of {rise_texts(unit, lead)[0]} would"
