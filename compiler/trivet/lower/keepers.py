"""What holds a keeper: its screws, its stand-offs and where they stand, with what is usual where nothing is stated."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import TYPE_CHECKING

from trivet.catalog import NoRow
from trivet.lower.fault import Fault
from trivet.lower.forms import FactForm
from trivet.lower.hardware import screw_of
from trivet.lower.match import Reading
from trivet.lower.spoken import spoken_length, spoken_unit
from trivet.lower.values import PlaceValue
from trivet.model.base import Point
from trivet.model.hardware import Screw, Thread
from trivet.model.keeper import KeeperScrews, StandOff, head_depth_mm
from trivet.source import Span
from trivet.units import Quantity

if TYPE_CHECKING:
    from trivet.lower.context import Context
    from trivet.lower.reader import Reader

KEEPER_FACTS = (
    FactForm(
        "keeper_screws",
        ("{standard:standard}",),
        details=("count {count:count}", "length {length:length}", "head recessed {recessed:length}", "drill {drill:length}"),
        example="keeper_screws ISO 7049 ST4.2, count 4",
    ),
    FactForm(
        "stand_offs",
        ("sleeve outside {sleeve:length}", "wood {wood:length}"),
        example="stand_offs sleeve outside 8 mm",
    ),
    FactForm("stand_off_at", ("{at:place}",), example="stand_off_at (54, 22) mm", repeats=True, place=True),
)
KEEPER_WORDS = tuple(fact.word for fact in KEEPER_FACTS)
# What holds a keeper where nothing is stated, the first that finds room and length: a pan-head tapping screw and a tube round it; where
# the gears are too thick for any that is sold, a wood screw (common practice, no source).
_USUAL_METRIC = (("ISO 7049", "ST4.2", "8"), ("ISO 7049", "ST3.5", "6"), ("ASME B18.6.1", "no_8", "8"))
_PAN = "ASME B18.6.4 type_ab_pan"
_USUAL_INCH = ((_PAN, "no_8", "5/16"), (_PAN, "no_6", "1/4"), ("ASME B18.6.1", "no_8", "5/16"))
_COUNTS = (2, 12)


def keeper_screws(reader: Reader, thread: Thread, context: Context) -> KeeperScrews | None:
    """As stated, else what is usual; None where the tables have nothing usual."""
    stated, stand, places = reader.get("keeper_screws"), reader.get("stand_offs"), reader.all("stand_off_at")
    usual = _usual(thread, context)
    screws = tuple(screw for screw, _ in usual)
    stand_offs = tuple(item for _, item in usual)
    if stated is not None:
        screws = (_stated_screw(stated, context),)
        stand_offs = (_round_screw(screws[0], thread),)
    if not screws:
        return None
    if stand is not None:
        stand_offs = (_stand_off(stand),) * len(screws)
        for screw in screws[-1:]:
            _goes_round(stand, stand_offs[0], screw)
    count = stated.get("count") if stated is not None else None
    if stated is not None and count is not None:
        _count_fits(stated, count, places)
    return KeeperScrews(
        screws=screws,
        stand_offs=stand_offs,
        screw_stated=stated is not None,
        stand_off_stated=stand is not None,
        count=count,
        length=stated.get("length") if stated is not None else None,
        recessed=stated.get("recessed") if stated is not None else None,
        drill=stated.get("drill") if stated is not None else None,
        places=tuple(_step(reading) for reading in places),
        origin=stated.line.span if stated is not None else None,
    )


def _usual(thread: Thread, context: Context) -> tuple[tuple[Screw, StandOff], ...]:
    inch = thread.system == "unified"
    found = []
    for standard, size, outside in _USUAL_INCH if inch else _USUAL_METRIC:
        try:
            screw = context.catalog.screw(standard, context.catalog.thread(size))
        except NoRow:
            continue
        diameter = Quantity(Fraction(outside), "in" if inch else "mm")
        found.append((screw, StandOff(form="sleeve", diameter=diameter)))
    return tuple(found)


def _stated_screw(reading: Reading, context: Context) -> Screw:
    use = reading.get("standard")
    if not use.size:
        inch = spoken_unit(reading.line.span) == "in"
        size = "no_8" if inch else "ST4.2"
        raise Fault(
            "incomplete-fact", "the keeper's screws have no size", reading.line.span,
            remedy=f"write it after the standard, as in `keeper_screws {use.text}{' ' + use.product if use.product else ''} {size}`",
        )  # fmt: skip
    try:
        thread = context.catalog.thread(use.size)
    except NoRow as missing:
        raise Fault("no-such-hardware", missing.message, use.size_span or use.span, remedy=missing.remedy) from None
    screw = screw_of(context, use, thread)
    if screw.head.form not in ("pan", "countersunk", "wood"):
        raise Fault(
            "value-not-allowed", f"{use.text} is no wood screw: nothing in the board holds it", use.span,
            remedy="a tapping or wood screw, as in `keeper_screws ISO 7049 ST4.2`",
        )  # fmt: skip
    recessed = reading.get("recessed")
    least = head_depth_mm(screw.head, thread.major_mm)
    if recessed is not None and recessed.mm < least - 1e-6:
        span = reading.span("recessed")
        raise Fault(
            "value-not-allowed",
            f"the head of {thread.designation} is up to {spoken_length(least, span)} high; let in by {recessed}, it stands out of the keeper",
            span,
            remedy=f"`head recessed {spoken_length(least + 0.05, span)}` or more: what stands out meets the bench first",
        )
    drill = reading.get("drill")
    if drill is not None and drill.mm >= thread.major_mm:
        raise Fault(
            "value-not-allowed",
            f"a pilot hole of {drill} holds no thread of {thread.designation}, {spoken_length(thread.major_mm, reading.span('drill'))}",
            reading.span("drill"),
            remedy=f"some three quarters of it: {spoken_length(0.75 * thread.major_mm, reading.span('drill'))} (common practice)",
        )
    return screw


def _round_screw(screw: Screw, thread: Thread) -> StandOff:
    """A tube with a wall of 1.5 mm or so: the next whole millimetre, or sixteenth of an inch (common practice, no source)."""
    wide = screw.thread.major_mm + 3.0
    if thread.system == "unified":
        return StandOff(form="sleeve", diameter=Quantity(Fraction(math.ceil(wide / (25.4 / 16)), 16), "in"))
    return StandOff(form="sleeve", diameter=Quantity(Fraction(math.ceil(wide)), "mm"))


def _stand_off(reading: Reading) -> StandOff:
    sleeve = reading.get("sleeve")
    if sleeve is not None:
        return StandOff(form="sleeve", diameter=sleeve, origin=reading.line.span)
    return StandOff(form="wood", diameter=reading.get("wood"), origin=reading.line.span)


def _goes_round(reading: Reading, stand_off: StandOff, screw: Screw) -> None:
    wall = 1.0 if stand_off.form == "sleeve" else 2.0 * 4.0
    least = screw.thread.major_mm + wall
    if stand_off.diameter.mm < least - 1e-6:
        span = reading.span("sleeve" if stand_off.form == "sleeve" else "wood")
        what = "a tube" if stand_off.form == "sleeve" else "a disc of wood"
        raise Fault(
            "value-not-allowed",
            f"{what} {stand_off.diameter} outside does not go round {screw.thread.designation}, {spoken_length(screw.thread.major_mm, span)}",
            span,
            remedy=f"{spoken_length(least, span)} or more",
        )


def _count_fits(reading: Reading, count: Quantity, places: list[Reading]) -> None:
    span = reading.span("count")
    low, high = _COUNTS
    if not low <= count.number <= high:
        raise Fault(
            "value-not-allowed", f"`count {count}` for the screws of a keeper", span, remedy=f"from {low} to {high}: one alone lets it swing"
        )
    if places and count.number != len(places):
        raise Fault(
            "facts-exclude", f"`count {count}` and {len(places)} lines of `stand_off_at`", span, remedy="leave out the count"
        )


def _step(reading: Reading) -> Point:
    at: PlaceValue = reading.get("at")
    span: Span = reading.span("at")
    if at.absolute:
        raise Fault(
            "unexpected-item", "a stand-off's place is a step from its gear's axis", span,
            remedy="write it as `stand_off_at (54, 22) mm`: to the right, and away from you",
        )  # fmt: skip
    return Point(float(at.x), float(at.y), span)
