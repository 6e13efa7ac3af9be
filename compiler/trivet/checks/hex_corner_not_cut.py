"""Hexagonal pockets so much enlarged for their round corners that the head turns in them."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._hexagon import hexagon_of
from trivet.checks._round import down_told
from trivet.checks._train import gears_of
from trivet.diagnostics import Diagnostic, Rule, Severity
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.hex_pocket import hex_size
from trivet.units import two_lengths

RULE = Rule(
    "hex-corner-not-cut",
    "warning",
    "a hexagonal pocket, enlarged so that the cutter's round corners let the head in, holds it by less than 0.3 mm of"
    " its corners: a warning where the head is glued in, an error where it is not",
    "a cutter of radius r leaves 0.155 r at each corner, so an unrelieved pocket grows by 0.268 r across flats; a head held by its"
    " last corners turns in the wood",
    "growth of the pocket derived (plane geometry, checked numerically); 0.3 mm is common practice, no source",
    failing="""
-   diameter 6 mm
+   diameter 7.5 mm
""",
    passing="""
-   diameter 6 mm
+   diameter 6.5 mm
""",
)

# How much more the head must measure across corners than the pocket across flats, mm (common practice, no source).
HELD_MM = 0.3
# Across flats a sharp hexagon's pocket grows by this share of the cutter's radius: 2 (1 - sin 60 deg).
GROWTH = 0.267949


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each set of feet and cutter."""
    gears, cutters = gears_of(design), {cutter.name.text: cutter for cutter in design.cutters}
    seen: set[tuple[str, str]] = set()
    for state in (*derived.feet, *derived.climbers):
        hexagon, gear = hexagon_of(state.foot), gears[state.gear]
        cutter = cutters[gear.cutter.text]
        if hexagon is None or cutter.diameter is None or (state.foot.name.text, gear.cutter.text) in seen:
            continue
        seen.add((state.foot.name.text, gear.cutter.text))
        size = hex_size(hexagon.flats_mm, hexagon.corners_mm, hexagon.origin, cutter.diameter.mm, hexagon.room_mm)
        if size.across_flats_mm <= hexagon.corners_mm - HELD_MM:
            continue
        pocket, most = two_lengths(size.across_flats_mm, hexagon.corners_mm - HELD_MM, design.units)
        fits = 2.0 * (hexagon.corners_mm - HELD_MM - hexagon.room_mm - hexagon.flats_mm) / GROWTH
        severity: Severity = "warning" if state.foot.kind == "riding" else "error"
        yield Diagnostic(
            RULE.slug,
            severity,
            f"the pocket of `{state.foot.name}` for {hexagon.words} is {pocket} across flats with `{cutter.name}`; {most} is the most"
            f" that still holds its corners",
            place(state.foot.name.origin),
            related((f"`{cutter.name}`, {cutter.diameter}", cutter.diameter.origin), (hexagon.words, hexagon.origin)),
            f"a cutter of {down_told(fits, design.units, 0.1)} or less; or a row of your own with the corners measured, for which the pocket"
            " grows less",
            (state.foot.name.text,),
        )
