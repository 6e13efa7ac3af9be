"""A requirement that is not judged."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks.require_not_met import JUDGES
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "require-not-run",
    "note",
    "a `require` that was read but not judged",
    "a requirement that is passed over in silence would look as if it were met",
    "derived: what this version computes",
    failing="""
+ require travel >= 8 mm
- carries corner
+   turns_on pin
""",
    passing="""
+ require travel >= 8 mm
""",
)

WORDS = {"flush_within": "flush", "binding": "binding", "height_covers": "height covers"}


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """`binding` and the sag in `flush` for want of time; the others where no stroke can be computed."""
    yield from check_full(design, derived)
    sags = any(load.direction == "down" for load in design.loads)
    for require in design.requires:
        if require.kind == "binding" and derived.train.meshes:
            message = "`require binding` is not judged here: `compile` and `check --full` draw whole trains and do"
            yield Diagnostic(RULE.slug, "note", message, place(require.origin), parts=(require.kind,))
        if require.kind == "flush_within" and sags and derived.lift is not None:
            message = "`require flush` is judged without sag here: `compile` and `check --full` work it out"
            yield Diagnostic(RULE.slug, "note", message, place(require.origin), parts=(require.kind,))


def check_full(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """`binding` in a train without meshes; the others where no stroke can be computed."""
    for require in design.requires:
        word = WORDS.get(require.kind, require.kind)
        if require.kind == "binding":
            if derived.train.meshes:
                continue
            message, remedy = "`require binding` is not judged: the fixture has no gears in mesh", "declare a `mesh`"
        elif require.kind not in JUDGES:
            message, remedy = f"`require {word}` is not judged: it is not computed yet", ""
        elif derived.lift is None:
            message = f"`require {word}` is not judged: no heights can be computed for this fixture"
            remedy = (
                "heights need feet that the drive turns, all in the same sense"
                if derived.feet
                else "declare a `foot` and gears that carry it"
            )
        else:
            continue
        yield Diagnostic(RULE.slug, "note", message, place(require.origin), remedy=remedy, parts=(require.kind,))
