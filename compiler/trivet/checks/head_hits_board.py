"""A foot whose gear, head or post meets the board, the insert or the keeper before any travel is left."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._stroke import nothing_left
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "head-hits-board",
    "error",
    "a foot whose gear, head or post meets the board, the insert or the keeper before any travel is left",
    "the foot jams, and teeth can break",
    "derived: the extension at which the two faces meet",
    failing="""
- insert my_insert, driven_from topside, flush underside
+   insert my_insert, driven_from topside, flush underside, proud 14 mm
""",
    passing="""
+ # Flush, the insert is clear of the gear.
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Where this bound leaves no stroke (`_stroke.named` says which of the two ends is named)."""
    yield from nothing_left(RULE, design, derived, "this part let in, or the gear hung lower, by more than {} leaves a travel")
