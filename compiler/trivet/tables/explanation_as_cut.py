"""Meshes as cut, explained: how the outlines were turned against each other, and what was measured. Slow: each pair is turned when asked."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

import trivet.tables.explanation_teeth as teeth
from trivet.solve.as_cut_mesh import FINER, PITCHES, STEPS, AsCutMesh
from trivet.solve.as_cut_proofs import as_cut_proofs
from trivet.solve.as_cut_tooth import STEP_MM
from trivet.solve.derived import MeshState
from trivet.solve.outline_overlap import CHORD_MM, TEETH_EACH_SIDE
from trivet.solve.outline_overlap import STEPS as PLACES
from trivet.tables.explanation import DERIVED, Entry, Number, computed, found
from trivet.tables.explanation_backlash import tightest, widest
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_mesh import distance, thinning

QUANTITIES = ("as_cut_centre_distance", "as_cut_overlap", "as_cut_backlash", "as_cut_contact_ratio")
AT = ("nominal", "tightest", "loosest")
MEASURED = "measured on the outlines of the cut drawings"
_TURNED = (
    f"the outlines as the cutters leave them, points {STEP_MM:g} mm apart on their arcs, turned through {2 * PITCHES} pitches about the line"
    f" of centres, {STEPS} places a pitch"
)


def as_cut_entries(facts: Facts) -> Iterator[Entry]:
    """Four numbers at three centre distances for each mesh, and the overlap that stands by itself in the report."""
    for index, state in enumerate(facts.derived.train.meshes):
        path: tuple[str | int, ...] = ("meshes", index)
        explain = partial(_explained, facts, state, "nominal", "as_cut_overlap")
        yield Entry("as_cut_overlap", (state.a, state.b), (*path, "as_cut_overlap_mm2"), explain, some=True)
        for at in AT:
            for quantity, key in zip(QUANTITIES, ("centre_distance_mm", "overlap_mm2", "backlash_mm", "contact_ratio"), strict=True):
                explain = partial(_explained, facts, state, at, quantity)
                yield Entry(quantity, (state.a, state.b, at), (*path, "as_cut", at, key), explain, some=True)


def _explained(facts: Facts, state: MeshState, at: str, quantity: str) -> Number:
    proof = as_cut_proofs(facts.derived, (state,))[state.id]
    seen: AsCutMesh = getattr(proof, at)
    centres = distance(facts, state.a, state.b) if at == "nominal" else (tightest if at == "tightest" else widest)(facts, state)
    if quantity == "as_cut_centre_distance":
        return centres
    words = f"of `{state.a}` and `{state.b}` as cut, at the {at} centres"
    if quantity == "as_cut_overlap":
        return _overlap(facts, state, seen, centres, words)
    return (_backlash if quantity == "as_cut_backlash" else _contact)(facts, state, seen, centres, words)


def _outlines(facts: Facts, state: MeshState) -> tuple[Number, ...]:
    """What the outlines follow from: teeth, thinning and what cuts them."""
    made = [make(facts, gear) for gear in (state.a, state.b) for make in (teeth.teeth, thinning, teeth.cutter_diameter)]
    return tuple(dict.fromkeys((teeth.module(facts, state.a), teeth.angle(facts, state.a), *made)))


def _overlap(facts: Facts, state: MeshState, seen: AsCutMesh, centres: Number, words: str) -> Number:
    how = (
        f"{_TURNED}; everywhere each flank had room of its own, so nothing overlaps"
        if not seen.laid_over
        else f"the outlines with {TEETH_EACH_SIDE} teeth on each side of the line of centres, their arcs drawn by chords at most"
        f" {CHORD_MM:g} mm off, laid over each other at {PLACES} places of a pitch, each gear held in the middle of its play: the"
        " largest area that both cover"
    )
    return found("overlap", f"overlap {words}", seen.overlap_mm2, how, MEASURED, centres, *_outlines(facts, state), unit="mm2")


def _backlash(facts: Facts, state: MeshState, seen: AsCutMesh, centres: Number, words: str) -> Number:
    first = state.a if teeth.teeth(facts, state.a).value == seen.free_teeth else state.b
    z, other = teeth.teeth(facts, first), teeth.teeth(facts, state.b if first == state.a else state.a)
    how = (
        f"{_TURNED}; the least turn of `{first}` that both its flanks leave, at most a whole pitch, found {seen.free_at:g} pitches from the"
        " line of centres"
    )
    free = found("free", f"least free turn of `{first}`", math.degrees(seen.free_rad), how, MEASURED, centres, *_outlines(facts, state), unit="deg")
    formula = f"max(0, {free.symbol} · π / 180 · {centres.symbol} · {z.symbol} / ({z.symbol} + {other.symbol}))"
    return computed("B_cut", f"least backlash {words}, on the working circle", formula, DERIVED, free, centres, z, other)


def _contact(facts: Facts, state: MeshState, seen: AsCutMesh, centres: Number, words: str) -> Number:
    how = f"{_TURNED}; where flank begins and ceases to touch flank, each end looked at again in {FINER} places between two of these"
    begins = found("begins", "where one pair of flanks begins to touch, pitches from the line of centres", seen.touch[0], how, MEASURED,
                   centres, *_outlines(facts, state), unit="")  # fmt: skip
    ends = found("ends", "where that pair ceases to touch", seen.touch[1], "the other end of the same run of places", MEASURED,
                 centres, unit="")  # fmt: skip
    source = "derived: the turn through which one pair of flanks touches, in pitches"
    return computed("eps_cut", f"contact ratio {words}", "ends − begins", source, ends, begins, unit="")
