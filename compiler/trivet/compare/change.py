"""Change: one thing that is different, and Comparison: all of them in order of importance."""

from __future__ import annotations

from typing import Literal

from trivet.record import record

PartKind = Literal["cut again", "new", "gone", "another name"]


@record
class Change:
    """A named value that is different; a text is empty where that side has none."""

    what: str
    old: str
    new: str


@record
class PartChange:
    """A part that is different. `deviation_mm`: the largest distance between old and new edges of one cut, 0 where none moved.

    `reasons`: what is different, the largest first.
    """

    part: str
    kind: PartKind
    reasons: tuple[str, ...]
    deviation_mm: float = 0.0


@record
class PurchaseChange:
    """Pieces of one description: how many were wanted and how many are now."""

    description: str
    items: tuple[str, ...]
    old: int
    new: int


@record
class FindingChange:
    """A finding that came, went, or says something else; `old` and `new` are its words, empty where there is none."""

    rule: str
    severity: str
    parts: tuple[str, ...]
    old: str
    new: str


@record
class Comparison:
    """What is different for the maker. `same_parts`: how many parts need no cutting. `not_compared`: why the machine was not compared."""

    old: str
    new: str
    function: tuple[Change, ...] = ()
    parts: tuple[PartChange, ...] = ()
    same_parts: int = 0
    purchases: tuple[PurchaseChange, ...] = ()
    lengths: tuple[Change, ...] = ()
    findings: tuple[FindingChange, ...] = ()
    rest: tuple[Change, ...] = ()
    not_compared: str = ""

    @property
    def empty(self) -> bool:
        """Whether nothing at all is different."""
        found = self.function, self.parts, self.purchases, self.lengths, self.findings, self.rest
        return not any(found) and not self.not_compared
