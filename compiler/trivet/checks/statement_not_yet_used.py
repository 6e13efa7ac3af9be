"""What a file may state although nothing is computed from it yet."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.source import Origin

RULE = Rule(
    "statement-not-yet-used",
    "note",
    "a statement is read and kept, but no figure, check or drawing follows from it yet",
    "who states it may take a clean check for more than it is",
    "derived: the list of what trivet computes",
    failing="""
+ 
+ helper shims
""",
    passing="""
-   size 1220 by 610 mm
+   size 1200 by 600 mm
""",
)

_Found = tuple[str, str, tuple[Origin | None, ...]]


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One note a statement."""
    for words, part, origins in (*_of_parts(design), *_of_the_whole(design)):
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"{words}: nothing is computed from it yet",
            place(*origins, design.origin),
            (),
            "keep it for later, and check by hand what it is for",
            (part,),
        )


def _of_parts(design: Design) -> Iterator[_Found]:
    for name in (*(gear.name for gear in design.gears if gear.tabs), *(board.name for board in design.boards if board.tabs)):
        yield f"the tabs of `{name}`", name.text, (name.origin,)
    for drive in design.drives:
        if drive.stop:
            yield f"the stop of `{drive.name}`", drive.name.text, (drive.name.origin,)
    for machine in design.machines:
        for word in ("slot_width", "scale", "skew", "work_area_width"):
            value = getattr(machine, word)
            if value is not None:
                shown = "work_area" if word == "work_area_width" else word
                yield f"the {shown} of `{machine.name}`", machine.name.text, (value.origin, machine.name.origin)

    for board in design.boards:
        if board.bow is not None:
            yield f"the bow of `{board.name}`", board.name.text, (board.bow.origin, board.name.origin)
    for foot in design.feet:
        if foot.zeroed:
            yield f"`zeroed` of `{foot.name}`", foot.name.text, (foot.name.origin,)


def _of_the_whole(design: Design) -> Iterator[_Found]:
    for zone in design.cut_zones:
        yield "a cut zone", zone.name.text, (zone.origin, zone.name.origin)
    for helper in design.helpers:
        yield f"the helper {helper.kind}", helper.kind, (helper.origin,)
