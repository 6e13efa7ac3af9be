"""Backlash with the shop's errors, explained: each contributor's share, worst case and root-sum-square, and the widest centres."""

from __future__ import annotations

import math

from trivet.model.train import Gear
from trivet.record import record
from trivet.solve.backlash_budget import Carrying
from trivet.solve.carrying import gear_carrying, gear_cutting
from trivet.solve.derived import MeshState
from trivet.solve.overlap_depth import levels_down_mm
from trivet.tables.explanation import DERIVED, PRACTICE, Number, computed, found, given
from trivet.tables.explanation_bore import play
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_lever import lever
from trivet.tables.explanation_mesh import distance, nominal_backlash, working_angle
from trivet.tables.explanation_moisture import moisture_shift

# The derivative of the exact backlash by the centre distance.
SHIFT = "derived: the derivative of the exact backlash by the centre distance"
CENTRES = "derived: between two centre distances the normal backlash changes by (db1 + db2)(inv aw' − inv aw)"


@record(eq=False)
class Errors:
    """What may be wrong with a mesh: radial `shifts`, insert `tilts` as (tilt, reach), flank errors, and each as a share of backlash."""

    shifts: tuple[Number, ...]
    tilts: tuple[tuple[Number, Number], ...]
    flanks: tuple[str, tuple[Number, ...]]
    shares: tuple[Number, ...]
    overlap: Number


def widest(facts: Facts, state: MeshState) -> Number:
    """The widest working centre distance that the errors allow."""
    return facts.once(("widest", state.id), lambda: _outermost(facts, state, "most"))


def tightest(facts: Facts, state: MeshState) -> Number:
    """The tightest working centre distance that the errors allow."""
    return facts.once(("tightest", state.id), lambda: _outermost(facts, state, "least"))


def _outermost(facts: Facts, state: MeshState, end: str) -> Number:
    apart, held = distance(facts, state.a, state.b), errors(facts, state)
    leans = [
        computed(f"lean{reach.symbol}", "radial shift by the tilt", f"{reach.symbol} · tan({tilt.symbol})", DERIVED, reach, tilt)
        for tilt, reach in held.tilts
    ]
    terms = (apart, *held.shifts, *leans)
    words = f"centre distance of `{state.a}` and `{state.b}` with every error {'apart' if end == 'most' else 'together'}"
    formula = (" + " if end == "most" else " − ").join(item.symbol for item in terms)
    return computed(f"A_{end}_{state.a}_{state.b}", words, formula, DERIVED, *terms)


def backlash_with_errors(facts: Facts, state: MeshState, which: str) -> Number:
    """`min`, `max`: at the tightest and the widest centres, every other error the same way; `rss`: first-order shares, independent."""
    held, nominal, aw = errors(facts, state), nominal_backlash(facts, state), working_angle(facts, state.a, state.b)
    symbol, of = f"B_{which}_{state.a}_{state.b}", f"of `{state.a}` and `{state.b}`"
    if which == "rss":
        formula = f"rss({', '.join(item.symbol for item in held.shares)})" if held.shares else "0"
        return computed(
            symbol, f"spread of the backlash {of}, errors independent", formula, "root of the sum of squares", *held.shares
        )
    apart, sign = distance(facts, state.a, state.b), "−" if which == "min" else "+"
    shifted = computed(f"A_{which}", f"centre distance with the axes {'nearer' if which == 'min' else 'farther'}",
                       f" {sign} ".join(item.symbol for item in (apart, *held.shifts)), DERIVED, apart, *held.shifts)  # fmt: skip
    at = computed(f"aw_{which}", "working pressure angle there", f"acos(min(1, {apart.symbol} · cos({aw.symbol}) / {shifted.symbol}))",
                  CENTRES, apart, aw, shifted, unit="deg")  # fmt: skip
    normal = computed(
        f"Bn_{which}", "normal backlash there, with every flank's error",
        f"{nominal.symbol} · cos({aw.symbol}) + 2 · {apart.symbol} · cos({aw.symbol}) · (inv({at.symbol}) − inv({aw.symbol}))"
        f" {sign} ({held.flanks[0]})",
        CENTRES, *dict.fromkeys((nominal, aw, apart, at, *held.flanks[1])),
    )  # fmt: skip
    formula, inputs = f"{normal.symbol} / cos({at.symbol})", [normal, at]
    for tilt, reach in held.tilts:
        formula += f" {sign} tan({tilt.symbol}) · rss(2 · {reach.symbol} · tan({at.symbol}), {held.overlap.symbol})"
        inputs += [tilt, reach, held.overlap]
    words = f"{'least' if which == 'min' else 'greatest'} backlash {of}, every error at its worst"
    return computed(symbol, words, formula, CENTRES, *dict.fromkeys(inputs))


def errors(facts: Facts, state: MeshState) -> Errors:
    """The errors of a mesh and their first-order shares; those without a share are left out of the shares."""
    aw, apart, nominal = working_angle(facts, state.a, state.b), distance(facts, state.a, state.b), nominal_backlash(facts, state)
    per_mm = computed(f"q_{state.a}_{state.b}", "backlash for a millimetre of centre distance",
                      f"2 · tan({aw.symbol}) + {nominal.symbol} / {apart.symbol}", SHIFT, aw, nominal, apart, unit="")  # fmt: skip
    overlap = min((facts.gear_width(state.a), facts.gear_width(state.b)), key=lambda item: item.value)
    shares: list[Number] = []
    shifts: list[Number] = []
    tilts: list[tuple[Number, Number]] = []
    for name in (state.a, state.b):
        held = _carrying(facts, name, overlap.value)
        for index, (what, mm) in enumerate(held.shifts):
            shift = _shift(facts, name, index, what, mm)
            shifts.append(shift)
            shares.append(
                computed(
                    f"share_{shift.symbol}",
                    f"share of the {what} of `{name}`",
                    f"{shift.symbol} · {per_mm.symbol}",
                    SHIFT,
                    shift,
                    per_mm,
                )
            )
        if held.tilt_rad > 0.0:
            tilt = tilt_number(facts, math.degrees(held.tilt_rad), name)
            reach = lever(facts, name, overlap, held.reach_mm)
            tilts.append((tilt, reach))
            shares.append(computed(f"share_tilt_{name}", f"share of the insert's tilt at `{name}`",
                                   f"tan({tilt.symbol}) · rss(2 · {reach.symbol} · tan({aw.symbol}), {overlap.symbol})", DERIVED,
                                   tilt, reach, aw, overlap))  # fmt: skip
    if state.moisture_mm > 0.0:
        moist = moisture_shift(facts, state)
        shifts.append(moist)
        words = "share of the moisture of board and gears"
        shares.append(computed(f"share_{moist.symbol}", words, f"{moist.symbol} · {per_mm.symbol}", SHIFT, moist, per_mm))
    one, two = (gear_cutting(facts.graph.gears[name], facts.parts) for name in (state.a, state.b))
    together = (one.cutter, one.machine) == (two.cutter, two.machine)
    flanks: list[str] = []
    flaws: list[Number] = []
    for kind in ("profile_offset", "run_out"):
        made = [cutting_error(facts, name, kind) for name in (state.a, state.b)]
        flaws += made
        # Run-out r widens a cut by r at most, r/2 a flank.
        terms = [f"2 · {error.symbol}" if kind == "profile_offset" else error.symbol for error in made]
        flanks += terms
        words = f"share of the {kind.replace('_', ' ')}"
        if together:
            formula = f"({' + '.join(terms)}) / cos({aw.symbol})"
            shares.append(
                computed(
                    f"share_{kind}",
                    f"{words}, one cutter for both gears: all four flanks",
                    formula,
                    DERIVED,
                    *dict.fromkeys((*made, aw)),
                )
            )
        else:
            shares += [
                computed(
                    f"share_{kind}_{name}", f"{words} of `{name}`, two flanks", f"{term} / cos({aw.symbol})", DERIVED, error, aw
                )
                for name, term, error in zip((state.a, state.b), terms, made, strict=True)
            ]
    kept = tuple(item for item in shares if item.value > 0.0)
    return Errors(tuple(shifts), tuple(tilts), (" + ".join(flanks), tuple(flaws)), kept, overlap)


def _carrying(facts: Facts, name: str, overlap_mm: float) -> Carrying:
    gears = facts.graph.gears
    levels = {state.id: state.level for state in facts.derived.train.gears}
    down = levels_down_mm((facts.graph.shaft_of[item], levels[item], facts.parts.face_width(gears[item]).mean) for item in levels)
    holder = _holder(facts, name)
    return gear_carrying(holder, facts.parts, facts.states[holder.name.text].hole_mm, down[levels[name]] + overlap_mm)


def _holder(facts: Facts, name: str) -> Gear:
    return facts.graph.gears[facts.graph.shaft_of[name]]


def _shift(facts: Facts, name: str, index: int, what: str, mm: float) -> Number:
    """A radial play: the shop's or the machine's error of a hole's place, or half a diametral clearance."""
    holder = _holder(facts, name)
    if what == "hole position":
        board = facts.parts.boards[holder.under.text]
        machine = facts.parts.machines[board.machine.text] if board.machine is not None else None
        if machine is not None and machine.hole_position is not None:
            stated = machine.hole_position
            return facts.once(
                ("hole", machine.name.text),
                lambda: given(f"hole_{machine.name}", f"hole position error of `{machine.name}`", mm, origin=stated.origin),
            )
        return facts.shop("hole_position", f"hole_{name}", f"error of the place of the hole of `{name}`, either way", mm)
    symbol = f"play_{name}" + ("" if index == 1 else f"_{index}")
    return facts.once(("shift", name, index), lambda: play(facts, name, what, mm, symbol))


def tilt_number(facts: Facts, tilt_deg: float, name: str) -> Number:
    """The tilt of an insert: as the shop drives them, or what a guide leaves."""
    shop = facts.design.shop
    origin = (shop.origins or {}).get("inserts")
    if abs(tilt_deg - shop.insert_tilt_deg) > 1e-12:
        return found(
            f"tilt_{name}",
            f"tilt of `{name}`",
            tilt_deg,
            "what the foot's guide leaves: its clearance over its length",
            DERIVED,
            unit="deg",
        )
    source = "" if shop.inserts == "measured" else f"assumed for inserts driven {shop.inserts.replace('_', ' ')}, {PRACTICE}"
    return facts.once(("tilt",), lambda: given("tilt", "tilt of an insert", tilt_deg, "deg", origin, source))


def cutting_error(facts: Facts, name: str, kind: str) -> Number:
    """`profile_offset` or `run_out` of what cuts a gear: its machine's, else the shop's."""
    gear = facts.graph.gears[name]
    machine = facts.parts.machines[gear.machine.text] if gear.machine is not None else None
    stated = getattr(machine, kind) if machine is not None else None
    if machine is not None and stated is not None:
        return facts.once(
            (kind, machine.name.text),
            lambda: given(
                f"{kind}_{machine.name}", f"{kind.replace('_', ' ')} of `{machine.name}`", stated.mm, origin=stated.origin
            ),
        )
    if kind == "run_out":
        return facts.shop("run_out", "run_out", "run-out of the spindle", facts.design.shop.run_out_mm)
    return facts.shop(
        "profile_offset", "profile_offset", "error of each cut flank, either way", facts.design.shop.profile_offset_mm
    )
