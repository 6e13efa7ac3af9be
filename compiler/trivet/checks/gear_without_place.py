"""Gears for which no place can be derived."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._faults import of_kind
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "gear-without-place",
    "error",
    "neither `at`, a mesh with an angle, a ring nor a shaft says where a gear stands",
    "without its place nothing of it can be checked or drawn",
    "derived: places follow from stated ones through meshes, rings and shafts",
    failing="""
-   with se at 298 deg
+   with se
""",
    passing="""
-   with se at 298 deg
+   with se at 300 deg
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each group that hangs together.

    A foot's gear that nothing drives either is reported as that alone, which is an error too; an idler's would only be a warning.
    """
    feet = {gear.name.text for gear in design.gears if gear.carries is not None}
    lost = feet.intersection(derived.train.unreached) if derived.train.drive_gear is not None else set()
    remedy = "add `at (x, y) mm` to `{gear}`, or an angle to its mesh: `with {gear} at 90 deg`"
    for item in of_kind(RULE, "no_place", design, derived, remedy):
        if item.parts[0] not in lost:
            yield item
