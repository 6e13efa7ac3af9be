"""Lengths chosen among those sold, and lengths to cut, explained: each length that comes into question, and which of them it is."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.model.hardware import Screw
from trivet.model.train import Drive
from trivet.solve.bolt_length import choose_length, cut_length_mm, drawer_mm, fits, shank_mm, shortest_stock, step_mm
from trivet.solve.derived import BoltChoice
from trivet.tables.explanation import DERIVED, PRACTICE, Number, computed, found, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_stack import stack_limits

RULE = "longest stack <= L <= shortest stack with its room, over both sheets and the recess depths"
STEP = "cut lengths are whole halves of a millimetre or 64ths of an inch, the nearest to the middle of the range"
SAME_MM = 1e-6


def screw_of(bolt: BoltChoice) -> Screw:
    """The screw that a length is of."""
    screw = bolt.of.bolt if isinstance(bolt.of, Drive) else bolt.of.screw
    assert screw is not None, bolt.part
    return screw


def bought(facts: Facts, bolt: BoltChoice, words: str) -> Number:
    """The length to buy of a drive's bolt or a pivot's screw: within its range, or long enough to be cut to it."""
    screw = screw_of(bolt)
    least, most, begins = stack_limits(facts, bolt)
    drawer = drawer_mm(facts.design.have, screw)
    choice = choose_length(screw, least.value, most.value, begins.value, facts.design.units, drawer)
    if bolt.room_ends_at == "the bench at the lowest height" or choice.buy_mm is None:
        how = "nothing ends within the gear, and the bench leaves room"
        value = shortest_stock(screw, least.value, most.value, begins.value)
        return _picked(screw, "shortest", screw.stock_mm, (least, most, begins), words, how, value or 0.0)
    if choice.cut_to_mm is not None:
        cut = cut_to(facts, bolt, "the length that it is cut to")
        how = "the shortest sold that can be cut to it and has thread enough"
        return _picked(screw, "next", screw.stock_mm, (cut, most, begins), words, how, choice.buy_mm)
    from_drawer = [mm for mm in drawer if fits(screw, mm, least.value, most.value, begins.value)]
    how = "what lies in the drawer first" if from_drawer else "none that fits lies in the drawer" if drawer else "the longest holds most thread"
    return _picked(screw, "longest", drawer if from_drawer else screw.stock_mm, (least, most, begins), words, how, choice.buy_mm)


def next_length(facts: Facts, screw: Screw, whole: Number, words: str) -> Number:
    """The shortest length sold that is not shorter than one."""
    top = max(screw.stock_mm, default=0.0)
    stock = _stock(screw, screw.stock_mm)
    listed = ", ".join(f"{mm:g}" for mm in sorted(screw.stock_mm))
    value = min((mm for mm in screw.stock_mm if mm >= whole.value - SAME_MM), default=0.0)
    number = computed("L_buy", words, f"shortest({whole.symbol}, {top:g}, {listed})", "the shortest length sold that is not shorter", whole, stock)
    if abs(number.value - value) < SAME_MM:
        return number
    return found("L_buy", words, value, "the shortest length sold that is not shorter", DERIVED, whole, stock)


def cut_to(facts: Facts, bolt: BoltChoice, words: str) -> Number:
    """A length to cut: the step nearest the middle of the range."""
    least, most, begins = stack_limits(facts, bolt)
    screw, unit = screw_of(bolt), facts.design.units
    inch = unit == "in"
    step = given("step", "step of lengths that are cut", step_mm(unit), source=f"{'1/64 in' if inch else 'half a millimetre'}; {PRACTICE}")
    value = cut_length_mm(least.value, most.value, unit) or 0.0
    middle = f"({least.symbol} + {most.symbol}) / 2 / {step.symbol}"
    low, high = f"−floor(0.000001 − {least.symbol} / {step.symbol})", f"floor({most.symbol} / {step.symbol} + 0.000001)"
    source = f"{RULE}; no length sold lies in it; {STEP} ({PRACTICE})"
    # A middle between two steps goes to the even one.
    for nearest in (f"floor({middle} + 1 / 2)", f"−floor(1 / 2 − {middle})"):
        formula = f"{step.symbol} · min(max({nearest}, {low}), {high})"
        number = computed("L_cut", words, formula, source, least, most, step)
        if abs(number.value - value) < SAME_MM:
            return number
    how = f"no length sold lies in this range: {STEP}"
    return found("L_cut", words, value, how, f"{RULE}; the steps are {PRACTICE}", least, most, begins, _stock(screw, screw.stock_mm))


def _stock(screw: Screw, lengths: Sequence[float]) -> Number:
    words = f"lengths of {screw.standard} {screw.thread.designation} that come into question: {', '.join(f'{mm:g}' for mm in lengths)}"
    return given("sold", words, float(len(lengths)), "lengths", screw.stock_origin, "" if screw.stock_origin is not None else "its table")


def _picked(
    screw: Screw, way: str, lengths: Sequence[float], limits: tuple[Number, Number, Number], words: str, how: str, value: float
) -> Number:
    """The longest or shortest within limits whose plain shank ends before its thread must have begun."""
    least, most, begins = limits
    threaded = [mm for mm in lengths if shank_mm(screw, mm) <= begins.value + SAME_MM]
    late = [mm for mm in lengths if mm not in threaded]
    source = RULE if not late else f"{RULE}; left out, for their plain shank is longer than {begins.symbol}: {', '.join(f'{mm:g}' for mm in late)}"
    inputs = [least, most, begins, _stock(screw, lengths)]
    listed = ", ".join(f"{mm:g}" for mm in sorted(threaded))
    name, top = ("shortest", f"{max(threaded, default=0.0):g}") if way == "next" else (way, most.symbol)
    if way == "next":
        inputs.remove(most)
    if listed:
        number = computed("L_buy", words, f"{name}({least.symbol}, {top}, {listed})", f"{source}; {how}", *inputs)
        if abs(number.value - value) < SAME_MM:
            return number
    return found("L_buy", words, value, f"the {name} length sold in this range whose plain shank ends in time; {how}", source, *inputs)
