"""A stated requirement that the fixture does not reach."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from trivet.checks._require_binding import unmet_binding
from trivet.checks._require_flush import unmet_flush, unmet_flush_with_sag
from trivet.checks._require_overlap import unmet_overlap
from trivet.checks._require_stroke import unmet_height, unmet_travel
from trivet.checks._require_train import unmet_lift, unmet_turns
from trivet.checks._stroke import crossing
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.model.intent import Require
from trivet.solve.derived import Derived, Lift

RULE = Rule(
    "require-not-met",
    "error",
    "a `require` that the fixture does not reach",
    "the author says what the fixture is for; sheets, recesses and plays vary, so a figure counts only if the worst of them reaches it",
    "derived: the figure is solved at every combination of thin and thick sheets, shallow and deep recesses, low and high heads",
    failing="""
+ require travel >= 9 mm
""",
    passing="""
+ require travel >= 8 mm
""",
)

Judge = Callable[[Require, Design, Derived, Lift], Iterator[Diagnostic]]
JUDGES: dict[str, Judge] = {
    "travel": unmet_travel,
    "height_covers": unmet_height,
    "lift_per_turn": unmet_lift,
    "face_overlap": unmet_overlap,
    "turns_for_travel": unmet_turns,
    "flush_within": unmet_flush,
}


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Every requirement that can be judged. An empty stroke is another finding: only the lift per turn is judged beside it."""
    yield from _judged(design, derived, JUDGES)


def _judged(design: Design, derived: Derived, judges: Mapping[str, Judge]) -> Iterator[Diagnostic]:
    lift = derived.lift
    if lift is None:
        return
    empty = crossing(derived) is not None
    for require in design.requires:
        judge = judges.get(require.kind)
        if judge is not None and (not empty or require.kind == "lift_per_turn"):
            yield from judge(require, design, derived, lift)


def check_full(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """The chance of binding and sag too, which take longer."""
    yield from _judged(design, derived, JUDGES | {"flush_within": unmet_flush_with_sag})
    yield from unmet_binding(design, derived)
