"""Lengths of hardware and diameters of holes, explained."""

from __future__ import annotations

from trivet.solve.derived import BoltChoice
from trivet.source import Origin
from trivet.tables.explanation import DERIVED, Number, computed, given
from trivet.tables.explanation_bore import sleeve
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_feet import screw_length
from trivet.tables.explanation_keepers import keeper_length, keeper_of, stand_off_height
from trivet.tables.explanation_lengths import bought, cut_to, next_length, screw_of
from trivet.tables.hardware_lines import HardwareLine


def bought_length(facts: Facts, line: HardwareLine) -> Number:
    """The length to buy of a line of the schedule."""
    piece = line.piece
    assert piece.length_mm is not None
    bolt = _bolt(facts, line)
    held = keeper_of(facts, line)
    if held is not None:
        return keeper_length(facts, held, line)
    if bolt is None:
        return given("L", f"length of `{line.item}`, as stated", piece.length_mm, origin=_dowel_origin(facts, line))
    return _bought(facts, bolt, line)


def cut_length(facts: Facts, line: HardwareLine) -> Number:
    """The length that a piece is cut to."""
    piece = line.piece
    assert piece.cut_to_mm is not None
    bolt = _bolt(facts, line)
    held = keeper_of(facts, line)
    if held is not None:
        return stand_off_height(facts, held)
    if piece.kind == "sleeve":
        state = next(item for item in facts.derived.pivots if item.id == line.where[0])
        return sleeve(facts, state.pivot, facts.stroked.stacks[state.gear])
    assert bolt is not None, line.item
    if bolt.part in facts.stroked.specs:
        whole = screw_length(facts, bolt.part)
        return computed("L_cut", f"`{line.item}` is cut to", whole.symbol, DERIVED, whole)
    if bolt.stated_mm is not None:
        return _stated(bolt)
    return cut_to(facts, bolt, f"`{line.item}` is cut to")


def _bolt(facts: Facts, line: HardwareLine) -> BoltChoice | None:
    if line.piece.kind not in ("bolt", "screw", "rod"):
        return None
    return next((bolt for bolt in facts.derived.bolts if bolt.part == line.where[0]), None)


def _dowel_origin(facts: Facts, line: HardwareLine) -> Origin | None:
    for dowel in facts.design.dowels:
        if line.item.startswith(f"{dowel.name}-dowel") and dowel.length is not None:
            return dowel.length.origin
    return None


def _bought(facts: Facts, bolt: BoltChoice, line: HardwareLine) -> Number:
    words = f"length of `{line.item}` to buy"
    if bolt.part in facts.stroked.specs or bolt.stated_mm is not None:
        whole = screw_length(facts, bolt.part) if bolt.part in facts.stroked.specs else _stated(bolt)
        return next_length(facts, screw_of(bolt), whole, words)
    return bought(facts, bolt, words)


def _stated(bolt: BoltChoice) -> Number:
    assert bolt.stated_mm is not None and bolt.of.length is not None
    return given("L", f"length of the screw of `{bolt.part}`, stated", bolt.stated_mm, origin=bolt.of.length.origin)


def hole(facts: Facts, name: str) -> Number:
    """Diameter of a board's hole as cut."""
    made = next(item for item in facts.design.holes if item.name.text == name)
    return given(f"D_{name}", f"diameter of `{name}`: {made.because}", made.diameter_mm, origin=made.origin)
