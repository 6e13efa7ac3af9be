"""Metal where a cut zone lets a cutter run."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._clear import places_of, solid_words
from trivet.checks._round import down_told, up_told
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.metal import Metal, metal_in_zones, zone_name
from trivet.units import two_lengths

RULE = Rule(
    "metal-in-cut-zone",
    "error",
    "a screw, insert, nut, magnet or other metal that lies less deep under a cut zone than the zone goes, at any height of the travel",
    "a blade or cutter that meets hardened steel throws its tips",
    "derived: places and heights of all metal, over the travel and both extremes of the sheets",
    failing="""
+ 
+ cut_zone kerf
+   edge left, width 80 mm, depth 8 mm
""",
    passing="""
+ 
+ cut_zone kerf
+   edge left, width 60 mm, depth 8 mm
""",
)

# Further than this nothing is moved: the zone is wrong, mm.
FAR_MM = 200.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for a zone and a set of feet, a pivot, a drive or a magnet; its worst member is named."""
    places, unit = places_of(design, derived), design.units
    for found in metal_in_zones(design, derived):
        zone = found.zone
        called = f" `{zone.name}`" if zone_name(zone) else ""
        groups: dict[str, list[Metal]] = {}
        for item in found.inside:
            if item.cover_mm < zone.depth.mm - 1e-6:
                groups.setdefault(item.solid.part.partition(".")[0], []).append(item)
        for name, items in groups.items():
            worst = items[0]
            has, asked = two_lengths(worst.cover_mm, zone.depth.mm, unit)
            under = f"has {has} of wood over it" if worst.cover_mm >= 0.0 else f"stands {has.lstrip('-−')} out of the topside"
            out = max(item.inside_mm for item in items)
            shallow = f"cut no deeper than {down_told(worst.cover_mm, unit, 0.1, 0.005)} there" if worst.cover_mm >= 0.2 else ""
            ways = _out(out, zone.width.mm, unit)
            more = f" (and {len(items) - 1} more of its set)" if len(items) > 1 else ""
            yield Diagnostic(
                RULE.slug,
                RULE.severity,
                f"{solid_words(worst.solid)}{more} lies in the cut zone{called} of `{zone.into}` and {under}; the zone is {asked}"
                " deep",
                place(zone.origin, zone.name.origin, design.origin),
                related((f"`{name}` is declared here", places.get(name) or worst.solid.origin)),
                f"{shallow}{', or ' if shallow and ', or ' not in ways else ', ' if shallow else ''}{ways}",
                tuple(item.solid.part for item in items),
            )


def _out(out_mm: float, width_mm: float, unit: str) -> str:
    """Something small can be moved; what lies far inside is better left out by a narrower zone."""
    out = up_told(out_mm, unit, 0.1, 0.005)
    narrower = f"make the zone {out} narrower" if out_mm < width_mm else ""
    moved = f"move it {out} away from the edge" if out_mm < FAR_MM else ""
    return ", or ".join(words for words in (moved, narrower) if words) or "give up the zone"
