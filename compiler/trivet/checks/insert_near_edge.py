"""Little wood round an insert, a tee nut or a wood screw."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._insert_walls import Near, near_inserts
from trivet.checks._round import up_told
from trivet.checks._walls import CHORD_MM
from trivet.checks.thin_wall import LEAST_MM
from trivet.diagnostics import Diagnostic, Rule, Severity
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import length_text, two_lengths

RULE = Rule(
    "insert-near-edge",
    "warning",
    "the wood between the hole of an insert, tee nut or wood screw and the board's edge is less than the outside diameter of what is"
    " screwed in; less than half is an error. Between it and another cut, where wood stands on both sides, these are a note and a"
    " warning. MDF wants 12 mm to an edge and 25 mm to a corner",
    "a thread that is driven in wedges the wood apart: it splits towards the edge, and the foot leans or pulls out",
    "common practice, no source; for MDF a fixing guide of the trade (from memory)",
    failing="""
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 480 by 250 mm, corner_radius 12 mm
""",
    passing="""
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 480 by 260 mm, corner_radius 12 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for equal walls of one set. What is thinner than a wall may be at all is `thin-wall`'s finding."""
    groups: dict[tuple[str, bool, float, float], list[Near]] = {}
    for near in near_inserts(design, derived):
        if near.wood_mm >= LEAST_MM - (CHORD_MM if near.to_edge else 1e-9):
            groups.setdefault((near.set_name, near.to_edge, round(near.wood_mm, 3), near.wanted_mm), []).append(near)
    for found in groups.values():
        near, unit = found[0], design.units
        severe = near.wood_mm < near.outside_mm / 2.0 - 1e-9
        grades: tuple[Severity, Severity] = ("error", "warning") if near.to_edge else ("warning", "note")
        wanted = near.outside_mm / 2.0 if severe else near.wanted_mm
        has, least = two_lengths(near.wood_mm, wanted, unit)
        why = f"half its outside diameter of {length_text(near.outside_mm, unit)}" if severe else "its outside diameter"
        why = "for MDF" if not severe and near.mdf_mm > near.outside_mm else why
        away = up_told(near.wanted_mm - near.wood_mm, unit)
        more = f", and {len(found) - 1} more like it" if len(found) > 1 else ""
        yield Diagnostic(
            RULE.slug,
            grades[0] if severe else grades[1],
            f"between {near.what} and {near.other} {has} of wood is left{more}; at least {least}, {why}, is {'required' if severe else 'wanted'}",
            near.span,
            related((near.other, near.other_span)),
            f"move {'it' if near.to_edge else 'one of them'} {away} away for {length_text(near.wanted_mm, unit)} of wood",
            tuple(dict.fromkeys(name for item in found for name in item.names)),
        )
