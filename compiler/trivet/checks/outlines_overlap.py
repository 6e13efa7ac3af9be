"""Two gears whose outlines, as the cutter leaves them, run into each other when they turn."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from trivet.checks._train import mesh_place
from trivet.checks.mesh_binds import binds
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, MeshState
from trivet.units import length_text

if TYPE_CHECKING:
    from trivet.solve.as_cut_proofs import AsCutProof

RULE = Rule(
    "outlines-overlap",
    "error",
    "the outlines of two gears in mesh, as the cutter leaves them, overlap somewhere in a tooth pitch: at their nominal centres, or where"
    " the root sum of squares of all that moves their axes brings them; a note where only every error at its worst does",
    "wood cannot be where wood is: the train binds at that tooth however well it is assembled",
    "derived: both outlines turned against each other through a whole pitch",
    failing="""
-   diameter 6 mm
+   diameter 8 mm
""",
    passing="""
-   diameter 6 mm
+   diameter 5 mm
""",
)
# Turns the outlines themselves, which is slow: `compile` and `check --full` run it.
FULL_ONLY = True
# Slivers below this are rounding of chords and arcs, mm².
LEAST_MM2 = 0.01


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each mesh; one that binds, or may, by its backlash is said there and not here: teeth too fat for their spaces.

    What is left is teeth that meet the corners which a round cutter leaves.
    """
    from trivet.solve.as_cut_proofs import as_cut_proofs

    states = {state.id: state for state in derived.train.meshes}
    for name, proof in as_cut_proofs(derived).items():
        state = states[name]
        if not binds(state):
            yield from _finding(design, derived, state, proof)


def _finding(design: Design, derived: Derived, state: MeshState, proof: AsCutProof) -> Iterator[Diagnostic]:
    unit = design.units
    nearer = length_text(state.centre_distance_mm - proof.likely.centre_distance_mm, unit, 3)
    worst = length_text(state.centre_distance_mm - proof.tightest.centre_distance_mm, unit, 3)
    if proof.nominal.overlap_mm2 > LEAST_MM2:
        mesh, where, severity = proof.nominal, "", RULE.severity
    elif proof.likely.overlap_mm2 > LEAST_MM2:
        mesh, where, severity = proof.likely, f" with the centres {nearer} nearer, as they may well come out,", RULE.severity
    elif proof.tightest.overlap_mm2 > LEAST_MM2 and state.backlash.min_mm >= 0.0:
        mesh, where, severity = proof.tightest, f" with the centres {worst} nearer, every error at its worst,", "note"
    else:
        return
    largest = min(derived.train.gear(name).largest_cutter_mm for name in (state.a, state.b))
    yield Diagnostic(
        RULE.slug,
        severity,
        f"the outlines of `{state.a}` and `{state.b}`{where} overlap by up to {mesh.overlap_mm2:.2f} mm² as they turn;"
        f" {LEAST_MM2:g} mm² is allowed",
        mesh_place(state),
        (),
        f"a cutter of {length_text(largest, unit)} or less leaves room at the nominal centres, or more backlash",
        (state.id, state.a, state.b),
    )
