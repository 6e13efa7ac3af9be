"""The chance that a train binds, explained: what was drawn, how often, and what counted. Slow."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from trivet.solve.binding import Binding, binding
from trivet.tables.explanation import DERIVED, Entry, Number, computed, found, given
from trivet.tables.explanation_facts import Facts

DRAWN = (
    "every error of the shop drawn at random within its band, evenly and independently (flanks, holes, bores, tilts, moisture), the gears'"
    " centres and teeth worked out from each draw, and the draws counted in which "
)
NEVER = "a mesh has no backlash left somewhere in a turn, or a closed ring finds tooth on tooth"


def binding_entries(facts: Facts) -> Iterator[Entry]:
    """Of the train, of each mesh, of each ring, without each kind of error and with each remedy; nothing in a train without meshes."""
    drawn = binding(facts.design, facts.derived)
    if drawn.chance is None:
        return
    train = partial(_chance, drawn, "", drawn.chance, NEVER)
    yield Entry("binding", (), ("train", "binding_probability"), train)
    yield Entry("draws", (), ("train", "draws"), partial(_draws, drawn))
    yield Entry("seed", (), ("train", "seed"), partial(_seed, drawn))
    of_mesh = {state.id: (state.a, state.b) for state in facts.derived.train.meshes}
    for index, (name, chance) in enumerate(drawn.meshes):
        explain = partial(_chance, drawn, f" at `{name}`", chance, "this mesh has no backlash left somewhere in a turn")
        yield Entry("binding_mesh", of_mesh[name], ("train", "meshes", index, "binding_probability"), explain)
    for index, (gears, chance) in enumerate(drawn.rings):
        explain = partial(_chance, drawn, f" in the ring of {', '.join(gears)}", chance, "this ring finds tooth on tooth")
        yield Entry("binding_ring", gears, ("train", "rings", index, "binding_probability"), explain, some=True)
    for index, (what, without) in enumerate(drawn.contributors):
        part = (what.replace(" ", "_").replace("'", ""),)
        explain = partial(_chance, drawn, f" without {what}", without, f"{NEVER}; the same draws, {what} left out")
        yield Entry("binding_without", part, ("train", "contributors", index, "binding_probability_without"), explain)
        yield Entry("share_of_risk", part, ("train", "contributors", index, "share_of_risk"), partial(_share, drawn, what, without))
    for index, (what, chance, _) in enumerate(drawn.remedies):
        explain = partial(_chance, drawn, f" with {what}", chance, f"{NEVER}; the same draws with that remedy")
        yield Entry("binding_with", (str(index + 1),), ("train", "remedies", index, "binding_probability"), explain)


def _draws(drawn: Binding) -> Number:
    return given("draws", "trains drawn", float(drawn.draws), "", source="fixed: gives one in twenty to about ±0.0014 (two standard errors)")


def _seed(drawn: Binding) -> Number:
    return given("seed", "seed of the draws", float(drawn.seed), "", source="fixed, so that the same file gives the same figures")


def _chance(drawn: Binding, about: str, chance: float, counted: str) -> Number:
    number = found("hits", f"draws that bind{about}, to the nearest ten", round(chance * drawn.draws), f"{DRAWN}{counted}", DERIVED, _seed(drawn), unit="")
    draws = _draws(drawn)
    words = f"chance that the train binds{about}, to four decimals"
    return computed("chance", words, "hits / draws", DERIVED, number, draws, unit="")


def _share(drawn: Binding, what: str, without: float) -> Number:
    whole = given("whole", "chance that the train binds", drawn.chance or 0.0, "", source="`trivet explain binding` says why")
    left = given("left", f"that without {what}", without, "", source="`trivet explain binding_without` says why")
    words = f"share of the risk that {what} carries, to three decimals"
    formula = "floor(max(0, 1 − left / whole) · 1000 + 1 / 2) / 1000" if whole.value else "0 · (whole + left)"
    return computed("share", words, formula, DERIVED, whole, left, unit="")
