"""The requirement on the chance that the train binds, judged in full runs only."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._binding import binding_labels, binding_remedy, drawn_words
from trivet.checks._check import place
from trivet.checks._require import SLUG, met, required, side_of, too_great
from trivet.diagnostics import Diagnostic
from trivet.model.design import Design
from trivet.solve.binding import binding
from trivet.solve.binding_words import chance_words, percent_words
from trivet.solve.derived import Derived


def unmet_binding(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """`binding …`: needs no heights. A train without meshes has nothing to judge."""
    stated = [require for require in design.requires if require.kind == "binding"]
    if not stated or not derived.train.meshes:
        return
    found = binding(design, derived)
    assert found.chance is not None
    for require in stated:
        if met(require, found.chance):
            continue
        upper = too_great(require, found.chance)
        limit = side_of(require, upper)
        yield Diagnostic(
            SLUG,
            "error",
            f"the chance that the train binds somewhere in a turn is {chance_words(found.chance)} ({drawn_words(found)});"
            f" {required(require, percent_words(limit), upper)}",
            place(require.origin),
            binding_labels(design, derived, found),
            binding_remedy(design, found, limit) if upper else "less backlash would bind more often",
            ("binding",),
        )
