"""Gears and hardware that strike a board which lies below the one they hang under."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._clear import places_of, solid_names, where
from trivet.checks._strike_words import strike_words
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.board_rooms import Strike, strikes
from trivet.solve.derived import Derived

SKIRT = """
+ 
+ board skirt
+   stock ply18
+   cutter straight6
+   outline rectangle 500 by 380 mm, corner_radius 12 mm
+   under deck, centred
+   clear 2 mm
+ 
+ pocket room
+   into skirt, topside
+   outline rectangle 470 by 350 mm, corner_radius 20 mm
+   {}
+   at skirt (250, 190) mm
+ 
- carries corner
+   carries corner
+   under deck
- turns_on pin
+   turns_on pin
+   under deck
- turned_by crank
+   turned_by crank
+   under deck
- kind riding
+   kind riding
+   into deck
"""
RULE = Rule(
    "strikes-board-below",
    "error",
    "a gear that comes nearer than 1 mm sideways, or 0.5 mm downwards, to a board below the one that it hangs under, or to the wall or floor"
    " of its pocket in it; a head, nut, foot or keeper that touches such a board",
    "teeth rub on the wood, or the part has no room at all",
    "derived: heights over the travel and at both extremes of the sheets; the least gaps are common practice, no source",
    failing=SKIRT.format("depth 14 mm"),
    passing=SKIRT.format("through"),
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for what strikes one wall, one floor or one topside; the worst is named first."""
    places = places_of(design, derived)
    thin = {level.board.name.text: level.thickness.least for level in derived.boards}
    groups: dict[tuple[str, int, bool], list[Strike]] = {}
    for strike in strikes(design, derived):
        groups.setdefault((strike.board, id(strike.cutout), strike.radial_mm is None), []).append(strike)
    for items in groups.values():
        worst = min(items, key=lambda item: item.radial_mm if item.radial_mm is not None else item.axial_mm or 0.0)
        rest = [item for item in items if item is not worst]
        cutout = worst.cutout
        message, remedy = strike_words(worst, thin[worst.board], design.units)
        other = f"`{worst.board}` is declared here" if cutout is None else cutout.feature.title
        origin = places.get(worst.board) if cutout is None else cutout.feature.origin or places.get(worst.board)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            message + (f"; so do {named(dict.fromkeys(item.solid.part for item in rest), 4)}" if rest else ""),
            where(places, design, worst.solid.part),
            related((other, origin)),
            remedy,
            tuple(dict.fromkeys((*(name for item in items for name in solid_names(item.solid)), worst.board))),
        )
