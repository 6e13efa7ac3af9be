"""Faces of the gears at both ends of the travel, explained: tops, bottoms, and what meshing teeth share."""

from __future__ import annotations

from trivet.solve.corner import MEAN
from trivet.solve.derived import MeshState
from trivet.solve.foot_case import FootSpec
from trivet.tables.explanation import DERIVED, Number, computed, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_feet import height_at_zero
from trivet.tables.explanation_levels import fixed_top, underside
from trivet.tables.explanation_lift import highest, lowest


def end_extension(facts: Facts, foot: str, end: str) -> Number:
    """Extension of a foot at an end of the travel, `least` or `most`; 0 where there is no stroke."""
    if facts.stroked.strokes[MEAN] is None:
        return given(f"out_{foot}", f"extension of `{foot}`", 0.0, source="no stroke could be computed")
    board, zero = (lowest(facts) if end == "least" else highest(facts)), height_at_zero(facts, MEAN, foot)
    words = f"extension of `{foot}` at the {'lowest' if end == 'least' else 'greatest'} height"
    return facts.once(
        ("end", foot, end), lambda: computed(f"out_{foot}", words, f"{board.symbol} − {zero.symbol}", DERIVED, board, zero)
    )


def rider(facts: Facts, gear: str) -> FootSpec | None:
    """The riding foot that a gear moves with."""
    for spec in facts.stroked.specs.values():
        if spec.foot.kind == "riding" and any(state.id == gear for state in spec.stack):
            return spec
    return None


def top_at(facts: Facts, gear: str, end: str) -> Number:
    """z of a gear's top face at an end of the travel."""
    spec = rider(facts, gear)
    if spec is None:
        if gear in facts.stroked.world(MEAN).fixed:
            return fixed_top(facts, MEAN, gear)
        return given(f"top_{gear}", f"top face of `{gear}`", 0.0, source="nothing holds the gear")
    base, out = underside(facts, MEAN, spec.foot.into.text), end_extension(facts, spec.id, end)
    above = []
    for state in spec.stack:
        if state.id == gear:
            break
        above.append(facts.gear_width(state.id))
    formula = " − ".join(item.symbol for item in (base, *above, out))
    words = f"top face of `{gear}` at the {'lowest' if end == 'least' else 'greatest'} height"
    return facts.once(("top", gear, end), lambda: computed(f"top_{gear}", words, formula, DERIVED, base, *above, out))


def bottom_at(facts: Facts, gear: str, end: str) -> Number:
    """z of a gear's lower face at an end of the travel."""
    top, width = top_at(facts, gear, end), facts.gear_width(gear)
    return facts.once(
        ("bottom", gear, end),
        lambda: computed(f"bottom_{gear}", f"lower face of `{gear}`", f"{top.symbol} − {width.symbol}", DERIVED, top, width),
    )


def face_overlap(facts: Facts, state: MeshState, end: str) -> Number:
    """Face width that two meshing gears share at an end of the travel."""
    tops = [top_at(facts, name, end) for name in (state.a, state.b)]
    bottoms = [bottom_at(facts, name, end) for name in (state.a, state.b)]
    formula = f"min({tops[0].symbol}, {tops[1].symbol}) − max({bottoms[0].symbol}, {bottoms[1].symbol})"
    words = f"face that `{state.a}` and `{state.b}` share at the {'lowest' if end == 'least' else 'greatest'} height"
    return computed(f"F_{state.a}_{state.b}", words, formula, DERIVED, *tops, *bottoms)
