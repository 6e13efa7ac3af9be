"""Two gears whose outlines, as the cutter leaves them, run into each other when they turn."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.mesh_overlaps import mesh_overlaps
from trivet.units import length_text

RULE = Rule(
    "outlines-overlap",
    "error",
    "the outlines of two gears in mesh, as the cutter leaves them, overlap at their nominal centres somewhere in a tooth pitch",
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
    """One finding for each mesh; a mesh that binds by its backlash is said there and not here."""
    states = {state.id: state for state in derived.train.gears}
    for mesh, overlap in mesh_overlaps(derived).items():
        state = next(item for item in derived.train.meshes if item.id == mesh)
        if overlap <= LEAST_MM2 or state.backlash.nominal_mm <= 0.0:
            continue
        largest = min(states[name].largest_cutter_mm for name in (state.a, state.b))
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the outlines of `{state.a}` and `{state.b}` overlap by up to {overlap:.2f} mm² as they turn; {LEAST_MM2:g} mm² is allowed",
            place(state.mesh.origin, design.origin),
            (),
            f"a cutter of {length_text(largest, design.units)} or less leaves room, or more backlash",
            (state.id, state.a, state.b),
        )
