"""Changes that would work, tried out: a foot set is changed and the heights are solved again, at every combination of sheets."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import islice

from trivet.model.board import Face
from trivet.model.design import Design
from trivet.model.foot import Foot, Pad
from trivet.model.hardware import Insert, ThreadLength
from trivet.record import replace
from trivet.solve.bolt_length import shank_mm, stock_text
from trivet.solve.derived import Derived, Lift
from trivet.solve.solve import solve_heights
from trivet.units import Quantity, decimal_beside, length_text, made_text, told_text

WORST = "at the worst combination of sheets"
# A gain worth naming, mm (common practice, no source).
LEAST_GAIN_MM = 0.1
# Steps of a pad's drop, how many are tried, and how many changes at most: common practice, no source.
PAD_STEPS = 12
LONGER, SHORTER = 8, 3
# A socket is deepened in so many equal parts; the floor that `thin-pocket-floor` wants (common practice, no source).
DEEPER_PARTS, LEAST_FLOOR_MM = 4, 3.0
# The work stays nearly the same for large trains: sixty gears are solved as often as the fewest tries say.
MOST_TRIES, FEWEST_TRIES, TRIES_BY_GEARS = 60, 12, 720

# How many steps past what is lacking a deeper pad is tried at: common practice, no source.
DEEPER = (1, 4, 7, 10)

Change = tuple[str, Foot]


def worst_travel_mm(lift: Lift) -> float:
    """The least travel of all combinations, the mean one included."""
    return min(lift.travel_worst_mm, lift.travel_mm)


def every_height_mm(lift: Lift) -> tuple[float, float]:
    """Heights that every combination reaches, the mean one included."""
    low, high = lift.height_every_sheet
    return max(low, lift.height_min_mm), min(high, lift.height_max_mm)


def changes(foot: Foot, unit: str, deepest_mm: float = 0.0) -> Iterator[Change]:
    """One fact of a foot set changed, the easiest first, each with its words. `deepest_mm`: how deep a socket its gears take."""
    insert, screw, length = foot.insert, foot.screw, foot.length
    if insert is not None and isinstance(insert.hardware, Insert) and insert.hardware.flange_diameter_mm is None:
        way: Face = "underside" if insert.driven_from == "topside" else "topside"
        turned = insert.model_copy(update={"driven_from": way})
        yield f"an insert driven from the {way}", foot.model_copy(update={"insert": turned})
    for deep in _depths(foot, unit, deepest_mm):
        text = made_text(deep, unit)
        yield f"`socket depth {text}`{decimal_beside(text)}", foot.model_copy(update={"socket_depth": length_of(deep)})
    if screw is not None and length is not None:
        if shank_mm(screw, length.mm) > 0.0:
            full = replace(screw, threaded=ThreadLength(full=True))
            yield f"a fully threaded screw of {stock_text(screw, length.mm)}", foot.model_copy(update={"screw": full})
        longer = [mm for mm in screw.stock_mm if mm > length.mm + 1e-6][:LONGER]
        shorter = [mm for mm in screw.stock_mm if mm < length.mm - 1e-6][-SHORTER:]
        for mm in sorted((*longer, *shorter), key=lambda mm: (abs(mm - length.mm), mm)):
            yield f"a screw of {stock_text(screw, mm)}", foot.model_copy(update={"length": length_of(mm)})
    if screw is None and length is not None:
        for times in range(1, LONGER + 1):
            mm = length.mm + times * (25.4 / 4 if unit == "in" else 5.0)
            yield f"a rod of {told_text(mm, unit)}", foot.model_copy(update={"length": length_of(mm)})
    step = 25.4 / 32 if unit == "in" else 0.5
    drop = foot.pad.drop.mm if foot.pad.drop is not None else 0.0
    part = pad_word(foot)
    for times in range(1, PAD_STEPS + 1):
        kind = "dome" if foot.pad.kind == "head" else foot.pad.kind
        pad: Pad = foot.pad.model_copy(update={"kind": kind, "drop": length_of(drop + times * step)})
        yield f"a {part} with a drop of {told_text(drop + times * step, unit)}", foot.model_copy(update={"pad": pad})


def _depths(foot: Foot, unit: str, deepest_mm: float) -> Iterator[float]:
    """Deeper sockets, in equal parts of what the gears leave."""
    now = foot.socket_depth.mm if foot.kind == "sliding_hex" and foot.socket_depth is not None else deepest_mm
    step = 25.4 / 32 if unit == "in" else 0.5
    found = (math.floor((now + (deepest_mm - now) * part / DEEPER_PARTS) / step + 1e-9) * step for part in range(1, DEEPER_PARTS + 1))
    yield from dict.fromkeys(deep for deep in found if deep > now + 1e-9)


def _deepest_mm(derived: Derived, name: str) -> float:
    """How deep a socket the gears of a foot set take and keep a floor, mm."""
    gears = [derived.train.gear(state.gear) for state in derived.feet if state.foot.name.text == name]
    return min((gear.face_width.least for gear in gears), default=0.0) - LEAST_FLOOR_MM


def _whose(design: Design, name: str) -> str:
    """Which set is meant, where there are several."""
    return f" for `{name}`" if len(design.feet) > 1 else ""


def pad_word(foot: Foot) -> str:
    """What the file calls the thing that stands on the bench."""
    return "post" if foot.kind == "sliding_hex" else "pad"


def _one_then_two(foot: Foot, unit: str, deepest_mm: float) -> Iterator[Change]:
    """One change, then two together: another screw with another insert's way, a deeper socket or another pad."""
    yield from changes(foot, unit, deepest_mm)
    for words, changed in changes(foot, unit, deepest_mm):
        if changed.length == foot.length:
            continue
        for more, again in changes(changed, unit, deepest_mm):
            if again.length == changed.length:
                yield f"{words} and {more}", again


def attempts(design: Design, derived: Derived, name: str) -> Iterator[tuple[str, Derived]]:
    """The words of each change to the foot set `name`, and what follows from it. The train stays as it is."""
    if not derived.try_changes:
        return
    foot = next(item for item in design.feet if item.name.text == name)
    for words, changed in islice(_one_then_two(foot, design.units, _deepest_mm(derived, name)), _tries(design)):
        feet = tuple(changed if item.name.text == name else item for item in design.feet)
        yield words + _whose(design, name), solve_heights(design.model_copy(update={"feet": feet}), derived.train)


def _tries(design: Design) -> int:
    """How many changes are solved."""
    return max(FEWEST_TRIES, min(MOST_TRIES, TRIES_BY_GEARS // max(1, len(design.gears))))


def first_that(design: Design, derived: Derived, name: str, meets: Callable[[Lift], bool]) -> tuple[str, Lift] | None:
    """The easiest change after which `meets` holds."""
    for words, after in attempts(design, derived, name):
        if after.lift is not None and meets(after.lift):
            return words, after.lift
    return None


def most_travel(design: Design, derived: Derived, name: str, enough: Callable[[Lift], bool] | None = None) -> tuple[str, bool, float]:
    """The one change that leaves most travel at the worst combination, or the first (or two) that is `enough`; whether it is; and
    how much travel it leaves, mm.

    Empty where none gives a tenth of a millimetre more.
    """
    best, found = (worst_travel_mm(derived.lift) if derived.lift is not None else 0.0) + LEAST_GAIN_MM, ""
    foot = next(item for item in design.feet if item.name.text == name)
    singles = sum(1 for _ in changes(foot, design.units, _deepest_mm(derived, name)))
    tried = islice(attempts(design, derived, name), singles if enough is None else None)
    for number, (words, after) in enumerate(tried):
        if after.lift is None:
            continue
        travel = worst_travel_mm(after.lift)
        if enough is not None and enough(after.lift):
            return _gives(words, travel, design.units), True, travel
        if number < singles and travel > best:
            best, found = travel, words
    return _gives(found, best, design.units) if found else "", False, best


def lower_feet(design: Design, derived: Derived, name: str, lacking_mm: float) -> str:
    """A deeper pad that leaves a travel where what hangs lowest reaches the bench too soon, with another screw where that takes one; or nothing."""
    foot = next(item for item in design.feet if item.name.text == name)
    if not derived.try_changes or foot.pad.kind == "swivel":
        return ""
    part = pad_word(foot)
    step = 25.4 / 16 if design.units == "in" else 1.0
    drop = foot.pad.drop.mm if foot.pad.drop is not None else 0.0
    first = math.ceil((drop + lacking_mm) / step)
    screws: list[Change] = [("", foot)]
    screws += [(f"{words} and ", changed) for words, changed in changes(foot, design.units) if changed.length != foot.length]
    best, found = LEAST_GAIN_MM, ""
    every = ((words, changed, first + more) for words, changed in screws for more in DEEPER)
    for words, changed, steps in islice(every, _tries(design)):
        kind = "dome" if foot.pad.kind == "head" else foot.pad.kind
        pad: Pad = foot.pad.model_copy(update={"kind": kind, "drop": length_of(steps * step)})
        feet = tuple(changed.model_copy(update={"pad": pad}) if item.name.text == name else item for item in design.feet)
        lift = solve_heights(design.model_copy(update={"feet": feet}), derived.train).lift
        if lift is not None and worst_travel_mm(lift) > best:
            best = worst_travel_mm(lift)
            found = f"{words}a {part} with a drop of {length_text(steps * step, design.units)}{_whose(design, name)}"
    return _gives(found, best, design.units) if found else ""


def _gives(words: str, travel_mm: float, unit: str) -> str:
    return f"{words} would give {length_text(travel_mm, unit)} of travel {WORST}"


def length_of(mm: float) -> Quantity:
    """A length as a file could have it."""
    return Quantity(Fraction(mm).limit_denominator(100_000), "mm")
