"""The budget of flush, explained: each part by its formula, their sum and the root of the sum of squares."""

from __future__ import annotations

from collections.abc import Mapping

from trivet.solve.flush import Flush, FlushPart
from trivet.tables.explanation import DERIVED, Number, computed, given


def part_number(part: FlushPart, known: Mapping[str, Number]) -> Number:
    """One part; `known`: numbers that have an explanation of their own, by the symbol of their term."""
    words = f"off flush by {part.words}"
    if not part.formula:
        return given(part.key, words, part.mm, origin=part.origin, source=f"{part.how}: {part.source}")
    formula, inputs = part.formula, []
    for term in part.terms:
        number = known.get(term.symbol)
        if number is not None:
            formula = " ".join(number.symbol if word == term.symbol else word for word in formula.split())
        else:
            number = given(term.symbol, term.words, term.value, term.unit, term.origin, term.source)
        inputs.append(number)
    return computed(part.key, words, formula, part.source, *inputs)


def total(flush: Flush, parts: Mapping[str, Number], squares: bool) -> Number:
    """All parts against us, or their root sum of squares."""
    numbers = [parts[part.key] for part in flush.parts]
    left_out = "; left out: " + ", ".join(flush.left_out)
    if squares:
        formula = f"rss({', '.join(item.symbol for item in numbers)})"
        return computed("flush_rss", "how far off flush the board is likely to be", formula, f"{DERIVED}{left_out}", *numbers)
    formula = " + ".join(item.symbol for item in numbers)
    return computed("flush", "how far off flush the board may be, all against us", formula, f"{DERIVED}{left_out}", *numbers)
