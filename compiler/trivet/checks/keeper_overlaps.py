"""Keepers that lie in each other, or in hardware of another shaft."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._clear import places_of, solid_names, solid_words, where
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.clearances import Near, near_keepers
from trivet.solve.derived import Derived
from trivet.units import length_text

KEPT = """
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 620 by 500 mm, corner_radius 12 mm
- kind riding
+   kind sliding_hex
+   held_by keeper, stock ply18, outline rectangle {} mm
+   socket depth 12 mm
- screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 30 mm
- pad dome, drop 3 mm
+   post dome, drop 40 mm
"""
RULE = Rule(
    "keeper-overlaps",
    "error",
    "a keeper that overlaps another keeper, or a screw, nut or foot of another shaft, at the same height",
    "two things cannot be in one place: the second does not go on",
    "derived: outlines seen from above, and heights at both extremes of the sheets",
    failing=KEPT.format("100 by 260"),
    passing=KEPT.format("170 by 70"),
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for a keeper and a part."""
    places = places_of(design, derived)
    said: dict[tuple[str, str], Near] = {}
    for near in near_keepers(derived):
        said.setdefault((near.one.part, near.other.part), near)
    for near in said.values():
        keeper, other = near.one, near.other
        shared = length_text(near.shared_mm, design.units)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"{solid_words(keeper)} overlaps {solid_words(other)}, seen from above, and they share {shared} of height",
            where(places, design, keeper.part),
            related((f"`{other.part}` is declared here", places.get(other.part))),
            "a smaller or turned outline, or one keeper with a bore for each",
            tuple(dict.fromkeys((*solid_names(keeper), *solid_names(other)))),
        )
