"""Gears in pockets that dust cannot leave."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._clear import places_of, where
from trivet.checks._train import named
from trivet.checks.strikes_board_below import SKIRT
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.board_rooms import Closed, closed_pockets
from trivet.solve.derived import Derived

RULE = Rule(
    "dust-packs-in-pocket",
    "note",
    "gears that turn in a pocket of a lower board which has no hole through its floor and is not open at the board's edge",
    "dust that falls in packs between the teeth until the train binds",
    "common practice, no source",
    failing=SKIRT.format("depth 14 mm"),
    passing=SKIRT.format("through"),
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note a pocket."""
    places = places_of(design, derived)
    groups: dict[tuple[str, int], list[Closed]] = {}
    for item in closed_pockets(design, derived):
        groups.setdefault((item.board, id(item.cutout)), []).append(item)
    for items in groups.values():
        first = items[0]
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"{named(item.gear.part for item in items)} turn in a closed pocket of `{first.board}`: dust has no way out",
            where(places, design, first.gear.part),
            related((first.cutout.feature.title, first.cutout.feature.origin)),
            "a hole or slot through the pocket's floor under the teeth, or a pocket that runs out at the board's edge",
            (*(item.gear.part for item in items), first.board),
        )
