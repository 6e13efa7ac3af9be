"""Webs that are asked for and not cut."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._train import gears_of, named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.web_fit import WebFault, web_faults
from trivet.units import length_text

RULE = Rule(
    "web-finds-no-room",
    "warning",
    "openings of a web that find no room between the hub and the rim: the gear is drawn without them",
    "who asks for a lighter gear gets a solid one",
    "common practice, no source: a rim of 6 mm and 2 modules under the root, a hub ring of 1.5 bores, 6 mm round what is let in",
    failing="""
- gear west, east
+ gear west, east
+   web holes 6, diameter 30 mm
""",
    passing="""
- gear west, east
+ gear west, east
+   web holes 6, diameter 20 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for equal gears of one statement."""
    unit, gears = design.units, gears_of(design)
    groups: dict[tuple[object, float], list[WebFault]] = {}
    for fault in web_faults(design, derived):
        groups.setdefault((fault.web.origin, round(fault.room_mm, 6)), []).append(fault)
    for faults in groups.values():
        first, names = faults[0], tuple(fault.gear for fault in faults)
        web = first.web
        size = f"{'width' if web.form == 'spokes' else 'diameter'} {length_text(web.size.mm, unit)}"
        asked = f"{int(web.count.number)} {web.form}, {size}"
        remedy = "leave the web out"
        if first.size_mm is not None:
            word = "width" if web.form == "spokes" else "diameter"
            remedy = f"`web {web.form} {first.count}, {word} {length_text(first.size_mm, unit)}` finds room; or {remedy}"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the web of {named(names)} is not cut: {asked} find no room in the {length_text(max(first.room_mm, 0.0), unit)} between hub and"
            " rim",
            place(web.origin, gears[names[0]].name.origin),
            (),
            remedy,
            names,
        )
