"""Words and places of solids, for findings about what strikes or hides what."""

from __future__ import annotations

from trivet.checks._check import place
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.solid import Solid
from trivet.source import Origin, Span

_WORDS = {
    "head": "the head of",
    "pad": "the foot of",
    "nut": "the nut of",
    "flange": "the flange of",
    "washer": "a washer of",
    "shank": "the screw of",
    "bolt_end": "the end of the bolt of",
    "insert": "the insert of",
    "keeper": "the keeper",
    "rod": "the rod of",
    "sleeve": "the sleeve of",
    "barrel": "the tee nut of",
    "magnet": "the magnet",
    "gear": "the gear",
    "stand_off": "a stand-off of",
    "keeper_screw": "a screw of",
}


def solid_words(solid: Solid) -> str:
    """Such as: the head of `pin.west`."""
    return f"{_WORDS[solid.kind]} `{solid.part}`"


def solid_names(solid: Solid) -> tuple[str, ...]:
    """Ids that an acceptance may name: the part, and a keeper's foot."""
    return (solid.part.removesuffix(".keeper"),)


def places_of(design: Design, derived: Derived) -> dict[str, Origin | None]:
    """Where gears, boards, feet, pivots and drives are declared, by the id of each and by the name of each set."""
    names = [gear.name for gear in design.gears]
    names += [board.name for board in design.boards]
    names += [foot.name for foot in design.feet]
    names += [pivot.name for pivot in design.pivots]
    names += [drive.name for drive in design.drives]
    names += [magnet.name for magnet in design.magnets]
    found: dict[str, Origin | None] = {name.text: name.origin for name in names}
    for foot in (*derived.feet, *derived.climbers):
        found[foot.id] = found.get(foot.foot.name.text)
        found[f"{foot.id}.keeper"] = foot.foot.keeper.origin if foot.foot.keeper is not None else None
    for pivot in derived.pivots:
        found[pivot.id] = pivot.pivot.name.origin
    for drive in derived.drives:
        found[drive.id] = drive.drive.name.origin
    return found


def where(places: dict[str, Origin | None], design: Design, *parts: str) -> Span | None:
    """The place of the first part that has one, else of the fixture."""
    return place(*(places.get(part) for part in parts), design.origin)
