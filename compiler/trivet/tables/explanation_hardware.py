"""Lengths of hardware and diameters of holes, explained."""

from __future__ import annotations

from trivet.model.hardware import Screw
from trivet.model.train import Drive
from trivet.solve.bolt_length import choose_length, drawer_mm, shortest_stock
from trivet.solve.derived import BoltChoice
from trivet.solve.stack_pivot import DEFAULT_PLAY_MM
from trivet.source import Origin
from trivet.tables.explanation import DERIVED, PRACTICE, Number, computed, found, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_feet import screw_length
from trivet.tables.explanation_stack import stack_limits
from trivet.tables.hardware_lines import HardwareLine

STEP = "cut lengths are whole halves of a millimetre or 64ths of an inch"
RULE = "longest stack <= L <= shortest stack with its room, over both sheets and the recess depths"


def bought_length(facts: Facts, line: HardwareLine) -> Number:
    """The length to buy of a line of the schedule."""
    piece = line.piece
    assert piece.length_mm is not None
    bolt = _bolt(facts, line)
    if bolt is None:
        return given("L", f"length of `{line.item}`, as stated", piece.length_mm, origin=_dowel_origin(facts, line))
    return _bought(facts, bolt, line)


def cut_length(facts: Facts, line: HardwareLine) -> Number:
    """The length that a piece is cut to."""
    piece = line.piece
    assert piece.cut_to_mm is not None
    bolt = _bolt(facts, line)
    if piece.kind == "sleeve":
        return _sleeve(facts, line)
    assert bolt is not None, line.item
    if bolt.part in facts.stroked.specs:
        whole = screw_length(facts, bolt.part)
        return computed("L_cut", f"`{line.item}` is cut to", whole.symbol, DERIVED, whole)
    if bolt.stated_mm is not None:
        return _stated(bolt)
    least, most, stock, begins = _limits(facts, bolt)
    screw = _screw(bolt)
    choice = choose_length(screw, least.value, most.value, begins.value, facts.design.units, drawer_mm(facts.design.have, screw))
    how = f"no stock length lies in this range: the step of cutting nearest its middle; {STEP}"
    return found(
        "L_cut",
        f"`{line.item}` is cut to",
        choice.cut_to_mm or 0.0,
        how,
        f"{RULE}; the steps are {PRACTICE}",
        least,
        most,
        begins,
        stock,
    )


def _bolt(facts: Facts, line: HardwareLine) -> BoltChoice | None:
    if line.piece.kind not in ("bolt", "screw", "rod"):
        return None
    return next((bolt for bolt in facts.derived.bolts if bolt.part == line.where[0]), None)


def _dowel_origin(facts: Facts, line: HardwareLine) -> Origin | None:
    for dowel in facts.design.dowels:
        if line.item.startswith(f"{dowel.name}-dowel") and dowel.length is not None:
            return dowel.length.origin
    return None


def _screw(bolt: BoltChoice) -> Screw:
    screw = bolt.of.bolt if isinstance(bolt.of, Drive) else bolt.of.screw
    assert screw is not None, bolt.part
    return screw


def _stock(screw: Screw) -> Number:
    words = f"lengths of {screw.standard} {screw.thread.designation} that are sold: {', '.join(f'{mm:g}' for mm in screw.stock_mm)}"
    return given("sold", words, float(len(screw.stock_mm)), "lengths", screw.stock_origin)


def _bought(facts: Facts, bolt: BoltChoice, line: HardwareLine) -> Number:
    screw, words = _screw(bolt), f"length of `{line.item}` to buy"
    stock = _stock(screw)
    if bolt.part in facts.stroked.specs or bolt.stated_mm is not None:
        whole = screw_length(facts, bolt.part) if bolt.part in facts.stroked.specs else _stated(bolt)
        shortest = min((mm for mm in screw.stock_mm if mm >= whole.value - 1e-6), default=0.0)
        return found("L_buy", words, shortest, "the shortest length sold that is not shorter", DERIVED, whole, stock)
    least, most, stock, begins = _limits(facts, bolt)
    choice = choose_length(screw, least.value, most.value, begins.value, facts.design.units, drawer_mm(facts.design.have, screw))
    value = choice.buy_mm
    how = "the longest length sold in this range whose plain shank ends before its nut or the wood begins; the drawer's first"
    if bolt.room_ends_at == "the bench at the lowest height" or value is None:
        value = shortest_stock(screw, least.value, most.value, begins.value)
        how = "the shortest length sold in this range: nothing ends within the gear, and the bench leaves room"
    elif choice.cut_to_mm is not None:
        how = "the shortest length sold that can be cut to a length in this range and has thread enough"
    return found("L_buy", words, value or 0.0, how, RULE, least, most, begins, stock)


def _stated(bolt: BoltChoice) -> Number:
    assert bolt.stated_mm is not None and bolt.of.length is not None
    return given("L", f"length of the screw of `{bolt.part}`, stated", bolt.stated_mm, origin=bolt.of.length.origin)


def _limits(facts: Facts, bolt: BoltChoice) -> tuple[Number, Number, Number, Number]:
    """(longest stack, most room, lengths sold, where the thread must begin)."""
    least, most, begins = stack_limits(facts, bolt)
    return least, most, _stock(_screw(bolt)), begins


def _sleeve(facts: Facts, line: HardwareLine) -> Number:
    """As long as the thickest gear above the shallowest recess, its play, and the washers that it passes through."""
    state = next(item for item in facts.derived.pivots if item.id == line.where[0])
    pivot, stack = state.pivot, facts.stroked.stacks[state.gear]
    terms = [facts.gear_width(item.id, 1) for item in stack]
    text = " + ".join(item.symbol for item in terms)
    if pivot.head_recessed is not None:
        recess = given("recess", "recess of the head", pivot.head_recessed.mm, origin=pivot.head_recessed.origin)
        error = facts.shop("depth", "depth", "error of depths, either way", facts.design.shop.depth_mm)
        text += f" − max({recess.symbol} − {error.symbol}, 0)"
        terms += [recess, error]
    play = given("play", f"play of `{pivot.name}`", pivot.play.mm if pivot.play is not None else DEFAULT_PLAY_MM,
                 origin=pivot.play.origin if pivot.play is not None else None, source="" if pivot.play is not None else PRACTICE)  # fmt: skip
    text += f" + {play.symbol}"
    terms.append(play)
    outside = pivot.sleeve_outside
    if pivot.washer is not None and outside is not None and pivot.washer.inside_mm >= outside.mm:
        washer = given("washer", "washer, at its thickest", pivot.washer.thickness_max_mm, origin=pivot.washer.origin)
        text += f" + {len(set(pivot.washer_places))} · {washer.symbol}"
        terms.append(washer)
    return computed("L_sleeve", f"length of `{line.item}`", text, DERIVED, *terms)


def bore(facts: Facts, gear: str) -> Number:
    """Diameter of a gear's bore as cut."""
    state = facts.states[gear]
    stated = state.gear.bore
    origin = stated.origin if stated is not None else None
    if stated is not None:
        return given(f"bore_{gear}", f"bore of `{gear}`, stated", stated.mm, origin=origin)
    return found(
        f"bore_{gear}",
        f"bore of `{gear}`",
        state.hole_mm,
        state.hole_because,
        f"{DERIVED}; clearances stated by the shop or {PRACTICE}",
    )


def hole(facts: Facts, name: str) -> Number:
    """Diameter of a board's hole as cut."""
    made = next(item for item in facts.design.holes if item.name.text == name)
    return given(f"D_{name}", f"diameter of `{name}`: {made.because}", made.diameter_mm, origin=made.origin)
