"""A train that is too likely to bind, though no mesh of it stands out."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._binding import binding_labels, binding_remedy, drawn_words
from trivet.checks._require import met
from trivet.checks._ring_remedy import closes
from trivet.checks._train import mesh_place
from trivet.checks.mesh_binds import binds
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.binding import binding
from trivet.solve.binding_words import EVERY, chance_words, percent_words
from trivet.solve.derived import Derived

RULE = Rule(
    "train-binds",
    "error",
    "the chance that some mesh of the train has no backlash left somewhere in a turn is more than 5 percent",
    "each mesh alone may be likely to run, but a train runs only if all do; a hole that is off, or a cutter that leaves teeth thick, is felt by"
    " several meshes at once",
    "derived: exact backlash of every mesh for errors drawn evenly within their bands, seed and draws stated; 5 percent is common"
    " practice, no source",
    failing="""
-   backlash 0.5 mm
+   backlash 0.36 mm
""",
    passing="""
-   backlash 0.5 mm
+   backlash 0.45 mm
""",
)
# Draws whole trains, which is slow: `compile` and `check --full` run it.
FULL_ONLY = True
MOST = 0.05


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a fixture. A mesh that binds, a ring out of phase and a stated limit that is not kept are findings of their own."""
    if any(binds(mesh) for mesh in derived.train.meshes) or any(not loop.odd and not closes(loop) for loop in derived.train.loops):
        return
    found = binding(design, derived)
    if found.chance is None or found.chance <= MOST:
        return
    if not all(met(require, found.chance) for require in design.requires if require.kind == "binding"):
        return
    worst = next(mesh for mesh in derived.train.meshes if mesh.id == found.meshes[0][0])
    yield Diagnostic(
        RULE.slug,
        RULE.severity,
        f"{_trains(found.chance)} made to these tolerances would bind somewhere in a turn ({drawn_words(found)});"
        f" {percent_words(MOST)} is allowed",
        mesh_place(worst),
        binding_labels(design, derived, found),
        binding_remedy(design, found, MOST),
        (worst.id, worst.a, worst.b, *(form.name.text for form in design.tooth_forms)),
    )


def _trains(chance: float) -> str:
    words = chance_words(chance)
    return "nearly every train" if words == EVERY else f"{words} trains"
