"""What leaves no stroke: the bounds that end it, and which of the two is named as the fault."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._climber_remedy import climber_remedy, shortened
from trivet.checks._remedy import lower_feet, most_travel
from trivet.checks._round import down_text, up_text
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.record import record
from trivet.solve.climber import NOWHERE_MM
from trivet.solve.derived import Derived, Limit
from trivet.solve.heights import tightest_limits
from trivet.units import length_text

# A stroke that begins no later than this is not short because of its beginning, mm (common practice, no source).
NATURAL_START_MM = 1.0
# Which rule names which cause; of the two ends the earlier in this list is named, what is cheapest to change first.
CAUSES = {
    "shank_in_insert": "shank-in-insert",
    "shank_in_nut": "shank-in-insert",
    "tip_meets_board": "screw-bottoms",
    "tip_through": "tip-through-board",
    "hex_leaves_socket": "hex-leaves-socket",
    "gear_meets_board": "head-hits-board",
    "tilted_rim": "head-hits-board",
    "insert_proud": "head-hits-board",
    "hex_at_socket_floor": "head-hits-board",
    "post_meets_gear": "head-hits-board",
    "keeper": "head-hits-board",
    "thread_leaves_insert": "thread-leaves-insert",
    "teeth_part": "teeth-part",
}
REST = "no-stroke"


@record
class Crossing:
    """The two bounds of a comfortable stroke that is empty at mean sheets. `lacking_mm`: by how much they cross."""

    low: Limit
    high: Limit
    lacking_mm: float


def ends(derived: Derived) -> tuple[Limit, Limit] | None:
    """The bounds that end the comfortable stroke at mean sheets: the highest at the least end, the lowest at the most end."""
    limits = tightest_limits(derived.feet)
    low = next((item for item in limits if item.end == "least"), None)
    high = next((item for item in limits if item.end == "most"), None)
    return (low, high) if low is not None and high is not None else None


def crossing(derived: Derived) -> Crossing | None:
    """None where a stroke is left, or where the train is broken (others say so, and heights mean nothing then)."""
    found = ends(derived)
    if found is None or derived.train.faults or derived.train.conflicts:
        return None
    zero = {foot.id: foot.height_at_zero_mm for foot in derived.feet}
    low, high = (zero[limit.parts[0]] + limit.extension_mm for limit in found)
    return Crossing(*found, low - high) if low >= high - 1e-9 else None


def named(found: Crossing) -> tuple[str, Limit, Limit]:
    """The slug of the fault, the bound that is to blame and the other: one fault, one finding."""
    order = list(CAUSES)
    low = order.index(found.low.cause) if found.low.cause in CAUSES else len(order)
    high = order.index(found.high.cause) if found.high.cause in CAUSES else len(order)
    if low < high and found.low.extension_mm <= NATURAL_START_MM:
        low = len(order)
    first, other = (found.low, found.high) if low < high else (found.high, found.low)
    return (REST if min(low, high) == len(order) else CAUSES[first.cause]), first, other


def _beside(found: Crossing, blamed: Limit) -> Limit:
    """Of the two that cross the one that is not to blame."""
    return found.high if found.low is blamed or found.low.end == blamed.end else found.low


def nothing_left(rule: Rule, design: Design, derived: Derived, otherwise: str) -> Iterator[Diagnostic]:
    """The finding of `rule` where its cause leaves no stroke. `otherwise`: the remedy where no single
    change tried gives any, with places for the length that is lacking, for what the screw is to be shorter than, the socket deeper.
    """
    found = crossing(derived)
    if found is None:
        return
    climbing = shortened(derived)
    slug, blamed, other = named(found) if climbing is None else (REST, climbing.blamed, _beside(found, climbing.blamed))
    if slug != rule.slug:
        return
    foot = next(item for item in derived.feet if item.id == blamed.parts[0])
    told = found.lacking_mm > 1e-6 and blamed.extension_mm > NOWHERE_MM
    lacking = f", {length_text(found.lacking_mm, design.units)} is lacking" if told else ""
    members = tuple(item.id for item in derived.feet if item.foot.name.text == foot.foot.name.text)
    yield Diagnostic(
        rule.slug,
        rule.severity,
        f"no travel is left{lacking}: {blamed.sentence}",
        place(climbing.climber.foot.name.origin if climbing is not None else blamed.origin, foot.foot.name.origin),
        related=related((other.sentence, other.origin)) if other.sentence != blamed.sentence else (),
        remedy=(climber_remedy(design, derived, climbing) if climbing is not None else "")
        or most_travel(design, derived, foot.foot.name.text)[0]
        or lower_feet(design, derived, foot.foot.name.text, found.lacking_mm)
        or _otherwise(otherwise, foot.foot, found.lacking_mm, design.units),
        parts=(*members, *(part for part in blamed.parts if part not in members)),
    )


def _otherwise(words: str, foot: Foot, lacking_mm: float, unit: str) -> str:
    shorter = (foot.length.mm if foot.length is not None else 0.0) - lacking_mm
    socket = (foot.socket_depth.mm if foot.socket_depth is not None else 0.0) + lacking_mm
    return words.format(up_text(lacking_mm, unit), screw=down_text(shorter, unit), socket=up_text(socket, unit))
