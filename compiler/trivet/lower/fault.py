"""A fault in one statement: raised and caught inside lowering only, so that one statement gives one message."""

from __future__ import annotations

from trivet.diagnostics import Diagnostic, Edit, Label, Severity
from trivet.source import Origin, Span


class Fault(Exception):
    """Carries the one diagnostic of a statement that cannot be lowered."""

    def __init__(
        self,
        rule: str,
        message: str,
        span: Origin | None,
        *,
        remedy: str = "",
        related: tuple[Label, ...] = (),
        severity: Severity = "error",
        edits: tuple[Edit, ...] = (),
    ) -> None:
        super().__init__(message)
        # Values in slots keep the place where they were written; a library row never reaches a fault.
        assert isinstance(span, Span)
        self.diagnostic = Diagnostic(rule, severity, message, span, related, remedy, (), edits)


class Echo(Exception):
    """A statement that fails only because another one did: it gives no message."""
