"""Faces of the gears at both ends of the travel, explained: tops, bottoms, and what meshing teeth share."""

from __future__ import annotations

from trivet.record import replace
from trivet.solve.climber import rate, start_mm
from trivet.solve.corner import MEAN
from trivet.solve.derived import MeshState
from trivet.solve.foot_case import FootSpec
from trivet.solve.stroke import cases_at, stroke_of
from trivet.tables.explanation import DERIVED, Number, computed, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_feet import height_at_zero
from trivet.tables.explanation_fixed import fixed_top
from trivet.tables.explanation_levels import underside
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


def climber_of(facts: Facts, gear: str) -> FootSpec | None:
    """The climbing idler that a gear moves with."""
    for spec in facts.stroked.world(MEAN).climbers:
        if any(state.id == gear for state in spec.stack):
            return spec
    return None


def hangs(facts: Facts, spec: FootSpec, end: str) -> Number:
    """How far a climbing idler's gear hangs below its board at an end of the travel."""
    return facts.once(("hangs", spec.id, end), lambda: _hangs(facts, spec, end))


def _hangs(facts: Facts, spec: FootSpec, end: str) -> Number:
    name, foot = spec.gear.id, next(iter(facts.stroked.specs.values()))
    world, start = facts.stroked.world(MEAN), spec.foot.climbs_from
    alone = stroke_of(cases := cases_at(list(facts.stroked.specs.values()), replace(world, climbers=()), MEAN))
    moves, at = rate(spec, foot), end_extension(facts, foot.id, end)
    words = f"how far `{name}` hangs at the {'lowest' if end == 'least' else 'greatest'} height"
    set_at = given(f"start_{name}", f"how far `{name}` is set to hang at the lowest height", start_mm(spec),
                   origin=start.origin if start is not None else spec.foot.origin)  # fmt: skip
    if alone is None or moves is None:
        return computed(f"hangs_{name}", words, set_at.symbol, "nothing is lifted", set_at)
    low = alone.low.height_mm - cases[foot.id].height_at_zero_mm
    zero = given(f"low_{foot.id}_alone", f"extension of `{foot.id}` at the lowest height that the feet allow by themselves", low,
                 source="as `explain limit least` works it out, the climbers left out")  # fmt: skip
    ratio = given(f"per_mm_{name}", f"what `{name}` moves for a millimetre of travel, down positive", moves, "",
                  source="its own rise for a turn over the feet's: leads and turns")  # fmt: skip
    formula = f"{set_at.symbol} + {ratio.symbol} · ({at.symbol} − {zero.symbol})"
    return computed(f"hangs_{name}", words, formula, DERIVED, set_at, ratio, at, zero)


def top_at(facts: Facts, gear: str, end: str) -> Number:
    """z of a gear's top face at an end of the travel."""
    spec, climbing = rider(facts, gear), climber_of(facts, gear)
    if climbing is not None:
        spec = climbing
    if spec is None:
        if gear in facts.stroked.world(MEAN).fixed:
            return fixed_top(facts, MEAN, gear)
        return given(f"top_{gear}", f"top face of `{gear}`", 0.0, source="nothing holds the gear")
    base = underside(facts, MEAN, spec.foot.into.text)
    out = end_extension(facts, spec.id, end) if climbing is None else hangs(facts, spec, end)
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
