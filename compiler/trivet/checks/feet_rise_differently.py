"""Feet that rise by different amounts for one turn of the drive."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction

from trivet.checks._check import place, related
from trivet.checks._equal import also_here, grouped, too
from trivet.checks._train import feet_parts, gears_of, named, rise_texts
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
    """One finding for feet that differ alike from what most feet do."""
    rises = {foot.id: abs(foot.rise_per_turn_mm) for foot in derived.feet if foot.rise_per_turn_mm}
    if not rises:
        return
    ((usual, _),) = Counter(rises.values()).most_common(1)
    gears = gears_of(design)
    model = next(foot for foot in derived.feet if rises.get(foot.id) == usual)
    unlike = [foot for foot in derived.feet if rises.get(foot.id, usual) != usual]
    for feet in grouped(((rises[foot.id], gears[foot.gear].teeth, foot.foot.name.text), foot) for foot in unlike):
        foot, rise = feet[0], rises[feet[0].id]
        apart = abs(rise - usual)
        texts = rise_texts(design.units, rise, usual, apart)
        whole = ""
        if derived.lift is not None and derived.lift.travel_mm > 0:
            turns = derived.lift.travel_mm / float(usual)
            whole = f", {length_text(turns * float(apart), design.units)} over the whole travel"
        # Where the gears turn alike the thread is to blame.
        thread = foot.foot.name.origin if _ratio(foot) == _ratio(model) else None
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{foot.id}` moves {texts[0]} for a turn of the drive, `{model.id}` {texts[1]}: {texts[2]} apart after one turn{whole}"
            + too(other.id for other in feet[1:]),
            place(thread, gears[foot.gear].teeth.origin, gears[foot.gear].name.origin),
            (
                *related((f"`{model.id}` is carried here", gears[model.gear].name.origin)),
                *also_here((other.id, gears[other.gear].name.origin) for other in feet[1:]),
            ),
            _remedy(derived, feet, model, rise / usual, design.units),
            feet_parts(feet),
        )


def _ratio(foot: FootState) -> Fraction:
    """Turns of the foot's gear for one of the drive."""
    return abs(Fraction(foot.rise_per_turn_mm or 0)) / exact_lead_mm(foot.foot.thread.lead_mm)


def _remedy(derived: Derived, feet: Sequence[FootState], model: FootState, more: Fraction, unit: str) -> str:
    """The others' thread where it does; teeth where the gears have them by a mesh and the count is whole; else the lead that would."""
    foot, gears = feet[0], named(foot.gear for foot in feet)
    threads = f"`thread {model.foot.thread.designation}` for `{foot.foot.name}`, the thread of the others," if _ratio(foot) == _ratio(model) else ""
    teeth = derived.train.gear(foot.gear).gear.z * more
    meshed = all(_by_a_mesh(derived, item.gear) for item in feet)
    if meshed and teeth.denominator == 1 and teeth >= 4:
        return f"{threads}{' or ' if threads else ''}{teeth} teeth on {gears} would make them equal"
    if threads:
        return f"{threads} would make them equal"
    lead = exact_lead_mm(foot.foot.thread.lead_mm) / more
    return f"no tooth count of {gears} alone makes them equal; a lead of {rise_texts(unit, lead)[0]} would"


def _by_a_mesh(derived: Derived, gear: str) -> bool:
    """Whether the gear is turned by its own teeth, and not by a shaft."""
    path = derived.train.gear(gear).path
    return len(path) > 1 and {path[-2], gear} in ({mesh.a, mesh.b} for mesh in derived.train.meshes)
