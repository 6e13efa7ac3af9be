"""A gear that passes close over or under a screw, nut or pad: once it leans, droops or warps it touches."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._clear import places_of, solid_names, solid_words, where
from trivet.checks._round import up_told
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.leaning_gears import Leaning, leaning_gears
from trivet.units import length_text, two_lengths

RULE = Rule(
    "leaning-gear-touches",
    "warning",
    "a gear passes over or under a screw, nut, washer or pad of another shaft with less height between them than the lean of inserts, the"
    " droop within bores and play, and warp may take together",
    "inserts lean, bores have play and plywood warps, so that a rim that clears on the drawing scrapes once a turn",
    "derived: rim times the insert's tilt, droop as in the lowest point; warp of 1 mm over 150 mm of diameter is common practice, no source",
    failing="""
-   screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 30 mm, pocket 1 mm
-   pad dome, drop 3 mm
+   pad disc diameter 130 mm, drop 6 mm
""",
    passing="""
-   screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 30 mm, pocket 1 mm
-   pad dome, drop 3 mm
+   pad disc diameter 100 mm, drop 6 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for hardware of one set and gears that have as much room and may take as much."""
    places, unit = places_of(design, derived), design.units
    groups: dict[tuple[str, str, float, float], list[Leaning]] = {}
    for near in leaning_gears(design, derived):
        key = (near.other.part.partition(".")[0], near.other.kind, round(near.clear_mm, 3), round(near.takes_mm, 3))
        groups.setdefault(key, []).append(near)
    for items in groups.values():
        near = items[0]
        has, takes = two_lengths(near.clear_mm, near.takes_mm, unit)
        more = f"; so have {len(items) - 1} more pairs" if len(items) > 2 else "; so has 1 more pair" if len(items) == 2 else ""
        over = "at one end of the travel" if near.gear.moves != near.other.moves else "all through the travel"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{near.gear.part}` has {has} of height to {solid_words(near.other)} {over}{more}; lean and droop may take"
            f" {length_text(near.leans_mm, unit)} of it and warp {length_text(near.warps_mm, unit)}, {takes} in all",
            where(places, design, near.gear.part),
            related((f"`{near.other.part}` is declared here", places.get(near.other.part) or near.other.origin)),
            f"{up_told(near.takes_mm - near.clear_mm, unit)} more height between them, or hardware that ends outside the tips",
            tuple(dict.fromkeys(name for item in items for name in (item.gear.part, *solid_names(item.other)))),
        )
