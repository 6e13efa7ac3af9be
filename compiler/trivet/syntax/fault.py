"""What is wrong with one line, before it becomes a diagnostic."""

from __future__ import annotations

from trivet.record import record


@record
class Fault:
    """A fault at [start, end) of the text.

    `fix` is what to put there instead, None where no guess is good enough; it may stand at another place, `fix_start` to
    `fix_end`. `opening` is the offset of the other half of a pair. `hint` is the remedy where there is no fix.
    """

    slug: str
    start: int
    end: int
    message: str
    fix: str | None = None
    fix_start: int = -1
    fix_end: int = -1
    opening: int | None = None
    hint: str = ""

    @property
    def fix_place(self) -> tuple[int, int]:
        """The range that `fix` replaces."""
        return (self.start, self.end) if self.fix_start < 0 else (self.fix_start, self.fix_end)
