"""Derived numbers beside the statements that they follow from."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.lsp.answers import Hint
from trivet.lsp.known import Known
from trivet.lsp.view import View
from trivet.solve.derived import BoltChoice
from trivet.syntax.nodes import Block, Line, Name
from trivet.tables.wording import sold_length
from trivet.units import length_text


def hints(view: View, start: int, end: int) -> tuple[Hint, ...]:
    """The hints in [start, end): centre distances, lift, chosen bolts, and what each requirement measures."""
    known = view.known
    if known is None:
        return ()
    found = []
    for block in view.document.blocks:
        for line in (block.heading, *block.facts):
            if line.span.end >= start and line.span.start <= end:
                found += [Hint(line.span.end, text) for text in _texts(known, block, line)]
    return tuple(found)


def _texts(known: Known, block: Block, line: Line) -> Iterator[str]:
    kind = block.heading.word.text
    heading = line is block.heading
    unit = known.design.units
    lift = known.derived.lift
    if kind == "mesh" and not heading and line.word.text == "with":
        pair = {_name(block.heading), _name(line)}
        for mesh in known.derived.train.meshes:
            if {mesh.a, mesh.b} == pair:
                yield f"{length_text(mesh.centre_distance_mm, unit)} apart"
    elif kind == "drive" and heading and lift is not None:
        yield f"lifts {length_text(lift.per_turn_mm, unit, 4)} per turn"
    elif kind in ("drive", "pivot", "foot") and not heading and line.word.text in ("bolt", "screw", "rod"):
        yield from _bolt(known, _name(block.heading), unit)
    elif kind == "require" and lift is not None:
        yield from _required(known, line, unit)


def _bolt(known: Known, name: str, unit: str) -> Iterator[str]:
    lengths = {_length(bolt, unit) for bolt in known.derived.bolts if bolt.of.name.text == name and bolt.stated_mm is None}
    if lengths - {""}:
        yield " or ".join(sorted(lengths - {""}))


def _length(bolt: BoltChoice, unit: str) -> str:
    if bolt.buy_mm is None:
        return ""
    bought = sold_length(bolt.buy_mm, unit)
    return f"{bought}, cut to {sold_length(bolt.cut_to_mm, unit)}" if bolt.cut_to_mm is not None else bought


def _required(known: Known, line: Line, unit: str) -> Iterator[str]:
    lift = known.derived.lift
    assert lift is not None
    what = _name(line)
    if what == "travel":
        worst = length_text(lift.travel_worst_mm, unit)
        yield f"is {length_text(lift.travel_mm, unit)}, at worst {worst}"
    elif what == "height":
        yield f"is {length_text(lift.height_min_mm, unit)} to {length_text(lift.height_max_mm, unit)}"
    elif what == "lift_per_turn":
        yield f"is {length_text(lift.per_turn_mm, unit, 4)}"
    elif what == "turns_for_travel":
        yield f"is {lift.turns_for_travel:.1f}"


def _name(line: Line) -> str:
    items = line.phrases[0].items
    return items[0].text if items and isinstance(items[0], Name) else ""
