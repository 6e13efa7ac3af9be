"""A stated length too long for its stack."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._bolts import too_long
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "bolt-too-long",
    "error",
    "a stated length with which a drive's or pivot's bolt stands out, or whose plain shank meets its nut",
    "a bolt that stands out of its gear meets the bench first; a plain shank stops the nut before it is home",
    "derived: longest stack <= L <= shortest stack with its room, over both sheets and the depth of the recesses",
    failing="""
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762, head recessed 9 mm, length 30 mm
""",
    passing="""
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762, head recessed 9 mm, length 27.5 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each group of bolts alike."""
    yield from too_long(RULE, design, derived)
