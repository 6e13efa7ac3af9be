"""Which length to buy: longest stack <= L <= shortest stack with its room, over both sheets and the recess depths."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trivet.model.base import Band
from trivet.model.hardware import Screw
from trivet.model.intent import Have
from trivet.record import record
from trivet.units import length_text, made_text, told_text

# Cut lengths are given to half a millimetre, or to 1/64 in (common practice, no source).
CUT_STEP_MM = 0.5
CUT_STEP_INCH_MM = 25.4 / 64
# Lengths that differ by less than this are one length.
SAME_MM = 1e-6


@record
class LengthChoice:
    """`length_mm` is what is fitted: bought or cut. `cut_to_mm` None: used as bought. `buy_mm` None: no stock length will do."""

    buy_mm: float | None
    cut_to_mm: float | None
    length_mm: float | None
    remedy: str = ""


def drawer_mm(have: Sequence[Have], screw: Screw) -> tuple[float, ...]:
    """The lengths of a screw that lie in the drawer."""
    return tuple(
        item.length_mm
        for item in have
        if item.length_mm is not None and item.standard == screw.standard and item.thread == screw.thread.designation
    )


def choose_length(
    screw: Screw, least_mm: float, most_mm: float, thread_from_mm: float, unit: str, in_drawer_mm: Sequence[float] = ()
) -> LengthChoice:
    """The longest length from `least_mm` to `most_mm` whose plain shank ends before the thread begins; else one to cut.

    What lies in the drawer is preferred to what is sold.

    A cut length lies as near the middle as its step allows, and is cut from the shortest stock length that has enough thread.
    """
    for lengths in (in_drawer_mm, screw.stock_mm):
        fitting = [length for length in lengths if fits(screw, length, least_mm, most_mm, thread_from_mm)]
        if fitting:
            return LengthChoice(max(fitting), None, max(fitting))
    cut = cut_length_mm(least_mm, most_mm, unit)
    if cut is not None:
        for length in sorted(screw.stock_mm):
            if length >= cut - SAME_MM and shank_mm(screw, length) <= thread_from_mm + SAME_MM:
                return LengthChoice(length, cut, cut)
    return LengthChoice(None, None, None, why_not(screw, least_mm, most_mm, thread_from_mm, unit))


def cut_length_mm(least_mm: float, most_mm: float, unit: str) -> float | None:
    """The length of the cutting step nearest the middle of the range; None where no step lies in it."""
    step = CUT_STEP_INCH_MM if unit in ("in", "thou") else CUT_STEP_MM
    if math.ceil(least_mm / step - SAME_MM) > math.floor(most_mm / step + SAME_MM):
        return None
    # Where a step lies in the range, the one nearest its middle does.
    return round((least_mm + most_mm) / 2 / step) * step


def fits(screw: Screw, length_mm: float, least_mm: float, most_mm: float, thread_from_mm: float) -> bool:
    """Whether a stated length does in every combination."""
    within = least_mm - SAME_MM <= length_mm <= most_mm + SAME_MM
    return within and shank_mm(screw, length_mm) <= thread_from_mm + SAME_MM


def shank_mm(screw: Screw, length_mm: float) -> float:
    """Plain shank under the head, mm."""
    return length_mm - screw.threaded.threaded_mm(screw.thread.major_mm, length_mm)


def why_not(screw: Screw, least_mm: float, most_mm: float, thread_from_mm: float, unit: str) -> str:
    """What would let a length do."""
    if least_mm > most_mm + SAME_MM:
        more = length_text(least_mm - most_mm, unit)
        return f"{more} more room: sheets that vary less, or a gear glued from two layers with a deeper recess for the nut"
    if cut_length_mm(least_mm, most_mm, unit) is None:
        return f"a recess {told_text(step_mm(unit), unit)} deeper for the last nut leaves a length that can be cut"
    longest = max(screw.stock_mm, default=0.0)
    if longest < least_mm - SAME_MM:
        return f"a screw of at least {length_text(least_mm, unit)}; the longest sold is {stock_text(screw, longest)}"
    if thread_from_mm < -SAME_MM:
        return f"thicker parts or shallower recesses: the first nut begins {length_text(-thread_from_mm, unit)} over the underside of the head"
    return f"a fully threaded screw: the thread must begin within {length_text(thread_from_mm, unit)} of the head"


def shortest_stock(screw: Screw, least_mm: float, most_mm: float, thread_from_mm: float) -> float | None:
    """The shortest stock length that fits; None where none does."""
    return min((length for length in screw.stock_mm if fits(screw, length, least_mm, most_mm, thread_from_mm)), default=None)


def stock_text(screw: Screw, length_mm: float) -> str:
    """A length as it is sold: in inches to a standard in inches, else in millimetres, whatever the fixture speaks."""
    return made_text(length_mm, "in") if screw.standard.startswith("ASME") else length_text(length_mm)


def step_mm(unit: str) -> float:
    """The cutting step of a unit, mm."""
    return CUT_STEP_INCH_MM if unit in ("in", "thou") else CUT_STEP_MM


def as_bands(nominal: Sequence[tuple[str, float]], *others: Sequence[tuple[str, float]]) -> tuple[tuple[str, Band], ...]:
    """Items of one stack at several combinations as bands, in the nominal order."""
    tables = [dict(other) for other in others]
    return tuple(
        (name, Band(value, min([value, *(t.get(name, 0.0) for t in tables)]), max([value, *(t.get(name, 0.0) for t in tables)])))
        for name, value in nominal
    )
