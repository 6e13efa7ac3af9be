"""A file that declares a fixture and nothing in it."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived

RULE = Rule(
    "nothing-declared",
    "warning",
    "a fixture without a board, a gear and a foot",
    "nothing was checked, and a clean result would say more than is known",
    "derived: every check looks at boards, gears or feet",
    failing="fixture empty",
    passing="- hardware metric\n+   hardware metric",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for an empty fixture."""
    if not design.boards and not design.gears and not design.feet:
        message = f"`{design.name}` declares no board, no gear and no foot: nothing is checked"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            message,
            place(design.origin),
            (),
            "`trivet start` writes a fixture to begin with",
            (design.name,),
        )
