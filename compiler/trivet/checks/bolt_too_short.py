"""A stated length too short for its stack."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._bolts import too_short
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "bolt-too-short",
    "error",
    "a stated length with which a drive's or pivot's bolt does not fill its last nut, or a screw does not hold in the wood",
    "a nut that is not filled strips, and so does a wood screw with little thread in the board",
    "derived: longest stack <= L <= shortest stack with its room, over both sheets and the depth of the recesses",
    failing="""
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762, head recessed 9 mm, length 25 mm
""",
    passing="""
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762, head recessed 9 mm, length 27.5 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each group of bolts alike."""
    yield from too_short(RULE, design, derived)
