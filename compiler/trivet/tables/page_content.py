"""The page's facts as plain data: what `index.html` says about one fixture, before any format."""

from __future__ import annotations

from typing import Literal

from trivet.record import record
from trivet.tables.prose_page import Item
from trivet.tables.rows import Rows


@record
class Figure:
    """A key figure. `value` stands large, `detail` under it; `findings` are numbers of findings that concern it."""

    name: str
    value: str
    detail: str = ""
    findings: tuple[int, ...] = ()


@record
class PageFinding:
    """A finding as the page shows it. `number` counts from 1. `place` is file:line:column, empty where there is none.

    `targets`: what it is about in the plan, as `gear:NAME`, `board:NAME` or `place:ID`.
    """

    number: int
    rule: str
    severity: Literal["error", "warning", "note"]
    message: str
    place: str
    remedy: str
    accepted: bool
    because: str
    related: tuple[tuple[str, str], ...]
    targets: tuple[str, ...]


@record
class PartRow:
    """A gear in the list beside the plan: what it is, in words, and the numbers of the findings about it."""

    target: str
    name: str
    what: str
    findings: tuple[int, ...]


@record
class Motion:
    """How the fixture moves over its comfortable travel. Heights in mm, angles in degrees anticlockwise seen from above.

    `turned_deg`: by gear, how far it turns in one turn of the drive that raises the board.
    """

    height_min_mm: float
    height_max_mm: float
    per_turn_mm: float
    turns: float
    raises_when: str
    turned_deg: tuple[tuple[str, float], ...]


@record
class PageSection:
    """A section of the page under a heading: paragraphs, points, numbered steps, then tables. `id` is its anchor: letters and hyphens."""

    id: str
    title: str
    paragraphs: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    steps: tuple[Item, ...] = ()
    tables: tuple[Rows, ...] = ()


@record
class PageContent:
    """Everything in words. `motion` is None where nothing moves; `ends`: what ends the travel, by end; `unit` is printed first."""

    name: str
    title: str
    revision: str
    version: str
    licence: str
    draft: bool
    status: Literal["clean", "findings", "failed"]
    status_words: str
    about: str
    unit: Literal["mm", "in"]
    figures: tuple[Figure, ...]
    findings: tuple[PageFinding, ...]
    parts: tuple[PartRow, ...]
    motion: Motion | None
    ends: tuple[tuple[str, str], ...]
    sections: tuple[PageSection, ...]

    @property
    def heading(self) -> str:
        """The title, or the name where no title is stated."""
        return self.title or self.name
