"""Closed rings of meshes, explained: what is left at the mesh that closes one, and what its backlash takes up."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

import trivet.tables.explanation_teeth as teeth
from trivet.solve.derived import LoopState
from trivet.solve.train_graph import pair
from trivet.tables.explanation import DERIVED, Entry, Number, computed, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_mesh import spot

Phases = Callable[[], Mapping[str, Number]]
CLOSES = "derived: the alternate phases of a ring come round to where they began, or miss by a part of a pitch"


def loop_entries(facts: Facts, phases: Phases) -> Iterator[Entry]:
    """Both numbers of each ring; some of its gears are enough to name it."""
    for index, loop in enumerate(facts.derived.train.loops):
        path: tuple[str | int, ...] = ("loops", index)
        yield Entry("loop_residual", loop.gears, (*path, "residual_mm"), partial(_residual, facts, loop, phases), some=True)
        yield Entry("loop_allowed", loop.gears, (*path, "allowed_mm"), partial(_allowed, facts, loop), some=True)


def _residual(facts: Facts, loop: LoopState, phases: Phases) -> Number:
    """Pitches by which the closing mesh, between the first and the last gear, is out, as an arc."""
    a, b = loop.gears[0], loop.gears[-1]
    words = f"arc by which `{a}` and `{b}` miss a tooth in a space, every other mesh of the ring being in phase"
    known = phases()
    if pair(a, b) not in facts.graph.meshes or (a, b) not in facts.meshes or a not in known or b not in known:
        return given("residual", words, loop.residual_mm, source=f"{DERIVED}: a shaft closes the ring, and its clocking is free")
    x1, y1, x2, y2 = (spot(facts, gear, axis) for gear in (a, b) for axis in ("x", "y"))
    towards = computed(
        "to", f"direction from `{a}` to `{b}`", f"atan2({y2.symbol} − {y1.symbol}, {x2.symbol} − {x1.symbol})", DERIVED, y2, y1, x2, x1,
        unit="deg",
    )  # fmt: skip
    one, two, p, q, m = teeth.teeth(facts, a), teeth.teeth(facts, b), known[a], known[b], teeth.module(facts, a)
    whole = computed(
        "pitches", "tooth pitches from a tooth in a space to the next that would fit",
        f"({one.symbol} · ({towards.symbol} − {p.symbol}) + {two.symbol} · ({towards.symbol} + 180 − {q.symbol}) − 180) / 360",
        CLOSES, one, towards, p, two, q, unit="",
    )  # fmt: skip
    formula = f"abs(mod({whole.symbol} + 1 / 2, 1) − 1 / 2) · π · {m.symbol}"
    return computed("residual", words, formula, f"{CLOSES}; to the nearest whole pitch", whole, m)


def _allowed(facts: Facts, loop: LoopState) -> Number:
    """Half the sum of the least backlash of its meshes."""
    sides = [pair(one, other) for one, other in zip(loop.gears, loop.gears[1:] + loop.gears[:1], strict=True)]
    terms = []
    for a, b in sides:
        state = facts.meshes.get((a, b))
        if state is not None and b not in facts.graph.shafted[a]:
            source = f"`trivet explain backlash_min {a} {b}` says why"
            terms.append(given(f"B_{a}_{b}", f"least backlash of `{a}` and `{b}`", state.backlash.min_mm, source=source))
    formula = f"max(0, {' + '.join(item.symbol for item in terms)}) / 2"
    words = "what may be left over: half the least backlash of all its meshes together"
    return computed("allowed", words, formula, "derived: each mesh takes up half its backlash either way", *terms)
