"""Two magnets that face each other with the same pole."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.board import MagnetPlace
from trivet.model.design import Design
from trivet.solve.derived import Derived

_PAIR = """
fixture pair
sheet ply
  thickness 17.8 +/- 0.2 mm
cutter straight
  diameter 6 mm
default board
  stock ply
  cutter straight
  outline rectangle 200 by 200 mm
board lid
board base
  under lid, centred
default magnet
  disc 10 by 3 mm
magnet upper
  into lid, underside
  polarity north
  at lid (100, 100) mm
magnet lower
  into base, topside
  polarity {pole}
  at lid (100, 100) mm
"""

RULE = Rule(
    "pole-mismatch",
    "error",
    "two magnets face each other across two boards and both show the same pole",
    "they push the boards apart; a magnet that is glued in is not turned round any more",
    "derived: like poles repel; only magnets with a stated `polarity` are judged",
    failing=_PAIR.format(pole="north"),
    passing=_PAIR.format(pole="south"),
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each pair of statements: magnets in the topside of a board against those in the underside of the one on it."""
    above = {board.name.text: board.under.text for board in design.boards if board.under is not None}
    upper: dict[str, list[MagnetPlace]] = {}
    for magnet in design.magnets:
        if magnet.face == "underside" and magnet.polarity is not None:
            upper.setdefault(magnet.into.text, []).append(magnet)
    for lower in design.magnets:
        if lower.face != "topside" or lower.polarity is None:
            continue
        for mate in upper.get(above.get(lower.into.text, ""), []):
            pairs = _facing(lower, mate) if mate.polarity == lower.polarity else []
            if not pairs:
                continue
            more = f", {len(pairs)} pairs in all," if len(pairs) > 1 else ""
            yield Diagnostic(
                RULE.slug,
                RULE.severity,
                f"`{pairs[0][0]}` and `{pairs[0][1]}`{more} face each other with {lower.polarity} poles",
                place(lower.name.origin, lower.origin),
                related((f"`{mate.name}` lies over it", mate.name.origin)),
                f"`polarity {'south' if lower.polarity == 'north' else 'north'}` for one of them",
                (lower.name.text, mate.name.text),
            )


def _facing(lower: MagnetPlace, upper: MagnetPlace) -> list[tuple[str, str]]:
    """Ids of magnets whose axes are less than half the smaller disc apart."""
    near = min(lower.disc.diameter_mm, upper.disc.diameter_mm) / 2.0
    pairs = ((low, high) for low in lower.places for high in upper.places)
    return [(low.id, high.id) for low, high in pairs if math.hypot(high.x_mm - low.x_mm, high.y_mm - low.y_mm) < near]
