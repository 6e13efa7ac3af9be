"""Gears that strike a screw, nut, flange, insert, foot or keeper of another shaft."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._clear import places_of, solid_names, solid_words, where
from trivet.checks._round import up_told
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.clearances import LEAST_GAP_MM, Near, near_gears
from trivet.solve.derived import Derived
from trivet.units import length_text, two_lengths

RULE = Rule(
    "gear-hits-hardware",
    "error",
    "the teeth of a gear come nearer than 1 mm to a screw, washer, nut, flange, insert, foot or keeper of another shaft, at a height that"
    " both share at some place of the travel",
    "the teeth strike it, and nothing turns; or they do so only near one end of the travel, which a trial at the other does not show",
    "derived: distance of the axes less both radii, over the whole travel and both extremes of the sheets; the 1 mm is common practice,"
    " no source",
    failing="""
- gear west, east
+ gear low_w
+   teeth 25
+   on_shaft_with west, below
+ 
+ gear west, east
-   screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 30 mm, pocket 1 mm
-   pad dome, drop 3 mm
+   pad disc diameter 110 mm, drop 14 mm
""",
    passing="""
- gear west, east
+ gear low_w
+   teeth 25
+   on_shaft_with west, below
+ 
+ gear west, east
-   screw ISO 4017, length 30 mm, pocket 5.8 mm
+   screw ISO 4017, length 30 mm, pocket 1 mm
-   pad dome, drop 3 mm
+   pad disc diameter 60 mm, drop 14 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for a set of hardware and the gears that come equally near to it."""
    places, unit = places_of(design, derived), design.units
    worst: dict[tuple[str, str], Near] = {}
    for near in near_gears(derived):
        key = (near.one.part, near.other.part)
        if key not in worst or near.gap_mm < worst[key].gap_mm:
            worst[key] = near
    groups: dict[tuple[str, str, float], list[Near]] = {}
    for near in worst.values():
        # As far as a rule shows it: the places of gears round a circle are rounded.
        groups.setdefault((near.other.part.partition(".")[0], near.other.kind, round(near.gap_mm, 1)), []).append(near)
    for items in groups.values():
        near = min(items, key=lambda item: item.gap_mm)
        items = [near, *(item for item in items if item is not near)]
        gear, other = near.one, near.other
        has, least = two_lengths(near.gap_mm, LEAST_GAP_MM, unit)
        gap = f"reaches {length_text(-near.gap_mm, unit)} into" if near.gap_mm < 0.0 else f"passes with {has} by"
        over = "at some place of the travel" if gear.moves != other.moves else "all through the travel"
        more = [f"`{item.one.part}` and `{item.other.part}`" for item in items[1:4]]
        more += [f"{len(items) - 4} more pairs"] if len(items) > 4 else []
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{gear.part}` {gap} {solid_words(other)}, seen from above, and they share up to {length_text(near.shared_mm, unit)} of height"
            f" {over}; a gap of at least {least} is required" + (f"; so do {', '.join(more)}" if more else ""),
            where(places, design, gear.part),
            related((f"`{other.part}` is declared here", places.get(other.part) or other.origin)),
            _remedy(other.kind, up_told(LEAST_GAP_MM - near.gap_mm, unit), up_told(near.shared_mm, unit)),
            tuple(dict.fromkeys(name for item in items for name in (item.one.part, *solid_names(item.other)))),
        )


def _remedy(kind: str, apart: str, shared: str) -> str:
    """A keeper moves with the gear that it holds up, so only its outline, or heights, can make room."""
    if kind == "keeper":
        return (
            f"an outline of the keeper that ends {apart} sooner there, or lies the other way; or a gear that hangs more than {shared} higher"
            " there, from a thinner sheet for one"
        )
    return f"move the two {apart} further apart, make the gear or what it meets smaller, or see that they share no height"
