"""Faults of places and levels: found while the train was solved, reported by one rule a kind."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._train import gears_of
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived


def of_kind(rule: Rule, kind: str, design: Design, derived: Derived, remedy: str) -> Iterator[Diagnostic]:
    """The faults of one kind as findings; `{gear}` in the remedy stands for the gear's name."""
    gears = gears_of(design)
    for fault in derived.train.faults:
        if fault.kind != kind:
            continue
        gear = gears.get(fault.gear)
        name = gear.name.origin if gear is not None else None
        span = place(fault.origin, name)
        yield Diagnostic(
            rule.slug,
            rule.severity,
            fault.message,
            span,
            related((f"`{fault.gear}` is declared here", name)) if name is not span else (),
            remedy.format(gear=fault.gear),
            (fault.gear,),
        )
