"""Keepers that offer no place for a stand-off between them and the board."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._clear import places_of, where
from trivet.checks._round import up_text
from trivet.checks.keeper_overlaps import KEPT
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.keeper_room import STAND_OFF_MM, StandOffs, stand_offs
from trivet.units import length_text, two_lengths

RULE = Rule(
    "keeper-hangs-free",
    "error",
    "a keeper with no two places, at a right angle or more round its gear, where a stand-off finds 10 mm of plate outside the teeth and a"
    " board above it",
    "stand-offs and screws pass beside the gear, so a keeper that its gear hides, or that lies past the board's edge, cannot be hung",
    "derived: the keeper's outline outside the circle over the teeth; the 10 mm for a stand-off are common practice, no source",
    failing=KEPT.format("120 by 60"),
    passing=KEPT.format("170 by 70"),
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for the keepers of a set that have the same room."""
    places = places_of(design, derived)
    groups: dict[tuple[str, float], list[StandOffs]] = {}
    for item in stand_offs(design, derived):
        if not item.opposite:
            groups.setdefault((item.foot.partition(".")[0], round(item.room_mm, 6)), []).append(item)
    for items in groups.values():
        held = items[0]
        has, least = two_lengths(max(held.room_mm, 0.0), STAND_OFF_MM, design.units)
        if held.room_mm < STAND_OFF_MM:
            message = f"the keeper of `{held.foot}` reaches {has} past the teeth of `{held.gear}`; a stand-off wants {least}"
            wide = length_text(held.tip_diameter_mm, design.units)
            needs = up_text(held.tip_diameter_mm + 2.0 * STAND_OFF_MM, design.units, 1.0, 0.05)
            remedy = f"an outline of {needs} or more one way ({wide} over the teeth and {least} either side)"
        else:
            message = f"the keeper of `{held.foot}` has room for stand-offs on one side only: the other lies past the edge of `{held.board}`"
            remedy = "turn the outline so that both ends lie under the board, or widen the board"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            message,
            where(places, design, f"{held.foot}.keeper"),
            related((f"`{held.gear}` is declared here", places.get(held.gear))),
            remedy,
            tuple(item.foot for item in items),
        )
