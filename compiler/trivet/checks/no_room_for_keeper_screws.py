"""Keepers on which no screw with its stand-off finds a place, and stated places that are none."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._clear import places_of, where
from trivet.checks._round import up_text
from trivet.checks.keeper_overlaps import KEPT
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.keeper_places import GAP_MM, WALL_MM
from trivet.solve.keeper_room import STAND_OFF_MM, stand_offs
from trivet.solve.keeper_state import KeeperState
from trivet.source import Origin
from trivet.units import length_text, two_lengths

RULE = Rule(
    "no-room-for-keeper-screws",
    "warning",
    "a keeper without room for its screws and stand-offs: 1 mm off its gear's teeth and all else, 2 mm of wood round each head, under the"
    " board; or a stated place that lacks one of these",
    "a screw put where it happens to fit splits the keeper's edge, or the gear's teeth strike its stand-off and nothing turns",
    "derived: outlines, tip circles and heights of all parts; the gaps are common practice, no source",
    failing=KEPT.format("170 by 11"),
    passing=KEPT.format("170 by 70"),
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for the keepers of a set that lack the same; none for keepers that cannot be hung at all, which is another finding."""
    places = places_of(design, derived)
    hanging = {item.foot for item in stand_offs(design, derived) if item.opposite} if derived.keepers else set()
    groups: dict[tuple[str, str, int], list[tuple[KeeperState, str, float]]] = {}
    for held in derived.keepers:
        if held.foot not in hanging:
            continue
        if not held.places:
            groups.setdefault((held.foot.partition(".")[0], held.lacking, -1), []).append((held, held.lacking, 0.0))
        for index, (why, lacking) in enumerate(held.faults):
            # What `gear-hits-hardware` and `thin-wall` find at a stated place is theirs to say.
            if why and not why.startswith("the teeth of") and (why != "edge" or held.screw.head.form != "pan"):
                groups.setdefault((held.foot.partition(".")[0], why, index), []).append((held, why, lacking))
    for (_, _, index), items in groups.items():
        held, why, lacking = items[0]
        at = held.screws.places[index].origin if index >= 0 else held.screws.origin or held.keeper.origin
        message, remedy = _stated(design, held, why, lacking, index) if index >= 0 else _none(design, held)
        gear: Origin | None = places.get(held.gear)
        yield Diagnostic(
            RULE.slug, RULE.severity, message, where({"": at, **places}, design, "", held.id),
            related((f"`{held.gear}` is declared here", gear)), remedy, tuple(item.foot for item, _, _ in items),
        )  # fmt: skip


def _none(design: Design, held: KeeperState) -> tuple[str, str]:
    """No place was found: something else is in the way everywhere, or the plate is too small."""
    count = "screws" if held.screws.count is None else f"{held.screws.count} screws"
    what = f"{held.screw.thread.designation} with a stand-off {length_text(held.stand_off.diameter.mm, design.units)} outside"
    if held.lacking:
        return (
            f"the keeper of `{held.foot}` has no room for its {count}, {what}, clear of {held.lacking}",
            "turn the outline, so that its corners stand clear, or make it longer",
        )
    wide = max(held.recess_diameter_mm + 2.0 * WALL_MM, held.stand_off.diameter.mm)
    past = GAP_MM + held.stand_off.diameter.mm / 2.0 + held.recess_diameter_mm / 2.0 + WALL_MM
    across = up_text(2.0 * (held.tip_mm + past), design.units, 1.0, 0.05)
    needs = up_text(max(wide, STAND_OFF_MM), design.units, 1.0, 0.05)
    return (
        f"the keeper of `{held.foot}` has no room for its {count}, {what}, beside the teeth of `{held.gear}`",
        f"an outline of {across} or more one way and {needs} or more the other, under the board at both ends",
    )


def _stated(design: Design, held: KeeperState, why: str, lacking: float, index: int) -> tuple[str, str]:
    unit, which = design.units, f"the stand-off {index + 1} of the keeper of `{held.foot}`"
    limit = {"teeth": GAP_MM, "edge": WALL_MM}.get(why, STAND_OFF_MM / 2.0)
    has, least = two_lengths(limit - lacking, limit, unit)
    more = up_text(lacking, unit, 0.1, 0.005)
    if why == "teeth":
        return f"{which} stands {has} off the teeth of `{held.gear}`; at least {least} is required", f"{more} further out"
    if why == "edge":
        return f"{which} leaves {has} of wood round its screw's head; at least {least} is required", f"{more} further in"
    if why == "board":
        return f"{which} stands {has} inside the edge of `{held.board}`; at least {least} is required", f"{more} further in"
    return f"{which} stands in the way of {why}", "another place, or none: they follow where they are not stated"
