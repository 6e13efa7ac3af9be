"""Two gears whose outlines, as the cutter leaves them, run into each other when they turn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from trivet.checks._check import place
from trivet.checks._equal import also_here, grouped
from trivet.checks._round import down_told
from trivet.checks._train import down_to, mesh_place
from trivet.checks.mesh_binds import binds
from trivet.diagnostics import Diagnostic, Rule, Severity
from trivet.model.design import Design
from trivet.solve.cutter_limit import cutter_limit
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
MM2_PER_SQUARE_INCH = 25.4**2
# Smaller cutters that are tried out for a remedy.
CUTTER_STEP_MM, CUTTERS_TRIED = 0.1, 12
Overlap = tuple[Severity, str, tuple[str, str], float, MeshState]


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for equal meshes; one that binds, or may, by its backlash is said there and not here: teeth too fat for their spaces.

    What is left is teeth that meet the corners which a round cutter leaves.
    """
    from trivet.solve.as_cut_proofs import as_cut_proofs

    states = {state.id: state for state in derived.train.meshes}
    proofs = as_cut_proofs(derived).items()
    found = (_overlap(design, derived, states[name], proof) for name, proof in proofs if not binds(states[name]))
    for meshes in grouped((item[:-1], item) for item in found if item is not None):
        yield _finding(design, derived, meshes)


def _overlap(design: Design, derived: Derived, state: MeshState, proof: AsCutProof) -> Overlap | None:
    """Severity, where and how much, as shown, and the nearest centres that are to have room; None where nothing overlaps."""
    unit = design.units
    nearer = length_text(state.centre_distance_mm - proof.likely.centre_distance_mm, unit, 3)
    worst = length_text(state.centre_distance_mm - proof.tightest.centre_distance_mm, unit, 3)
    severity = RULE.severity
    if proof.nominal.overlap_mm2 > LEAST_MM2:
        mesh, where = proof.nominal, ""
    elif proof.likely.overlap_mm2 > LEAST_MM2:
        mesh, where = proof.likely, f" with the centres {nearer} nearer, as they may well come out,"
    elif proof.tightest.overlap_mm2 > LEAST_MM2 and state.backlash.min_mm >= 0.0:
        mesh, where, severity = proof.tightest, f" with the centres {worst} nearer, every error at its worst,", "note"
    else:
        return None
    nearest = min(mesh.centre_distance_mm, proof.likely.centre_distance_mm)
    return severity, where, _area_texts(mesh.overlap_mm2, unit), round(nearest, 6), state


def _largest_cutter_mm(derived: Derived, state: MeshState, centre_distance_mm: float) -> float:
    """With which both outlines have room at that distance, tried out in steps; 0 where none that is tried does."""
    from trivet.solve.as_cut_mesh import as_cut_mesh

    a, b = derived.train.gear(state.a), derived.train.gear(state.b)
    limits = [cutter_limit(one.geometry, other.geometry, centre_distance_mm) for one, other in ((a, b), (b, a))]
    present = a.cutter_diameter_mm, b.cutter_diameter_mm
    first = down_to(min(*present, *(limit.diameter_mm if limit is not None else 0.0 for limit in limits)), CUTTER_STEP_MM)
    for tried in range(CUTTERS_TRIED):
        cutter = round(first - tried * CUTTER_STEP_MM, 6)
        if cutter <= 0.0:
            break
        turned = as_cut_mesh(a.geometry, b.geometry, centre_distance_mm, (cutter / 2.0, cutter / 2.0))
        if turned.overlap_mm2 <= LEAST_MM2:
            return cutter
    return 0.0


def _finding(design: Design, derived: Derived, meshes: Sequence[Overlap]) -> Diagnostic:
    severity, where, (has, allowed), distance, state = meshes[0]
    largest = _largest_cutter_mm(derived, state, distance)
    stated, count = state.mesh.centre_distance, len(meshes) - 1
    more = f"; {count} other mesh{'es are' if count > 1 else ' is'} alike" if count else ""
    cutter = f"a cutter of {down_told(largest, design.units)} or less leaves room, errors counted, or more backlash"
    wider = "more backlash, more teeth, or a larger module"
    if stated is not None:
        wider = f"leave `centre_distance` out: {length_text(state.tight_centre_distance_mm, design.units)} follows"
    return Diagnostic(
        RULE.slug,
        severity,
        f"the outlines of `{state.a}` and `{state.b}`{where} overlap by up to {has} as they turn; {allowed} is allowed{more}",
        place(stated.origin if stated is not None and largest <= 0.0 else None, mesh_place(state)),
        also_here((f"{other.a}` and `{other.b}", mesh_place(other)) for *_, other in meshes[1:]),
        cutter if largest > 0.0 else wider,
        tuple(dict.fromkeys(name for *_, item in meshes for name in (item.id, item.a, item.b))),
    )


def _area_texts(area_mm2: float, unit: str) -> tuple[str, str]:
    """An overlap and the one allowed, mm² or in²."""
    if unit in ("in", "thou"):
        has, least = area_mm2 / MM2_PER_SQUARE_INCH, LEAST_MM2 / MM2_PER_SQUARE_INCH
        digits = next((count for count in range(5, 9) if f"{has:.{count}f}" != f"{least:.{count}f}"), 5)
        return f"{has:.{digits}f} in²", f"{least:.{digits}f} in²"
    digits = next((count for count in range(2, 6) if f"{area_mm2:.{count}f}" != f"{LEAST_MM2:.{count}f}"), 2)
    return f"{area_mm2:.{digits}f} mm²", f"{LEAST_MM2:g} mm²"
