"""A page to read: headings, paragraphs, numbered steps with figures, lists and tables, ready for any format."""

from __future__ import annotations

from trivet.record import record
from trivet.tables.rows import Rows


@record
class Picture:
    """A figure by its path in the output folder, and what it shows."""

    path: str
    words: str


@record
class Item:
    """One entry of a list; `details` are entries under it."""

    text: str
    details: tuple[str, ...] = ()
    pictures: tuple[Picture, ...] = ()


@record
class Section:
    """Under a heading: paragraphs, then entries (numbered from `first`, 0 for bullets), then a table."""

    heading: str
    paragraphs: tuple[str, ...] = ()
    items: tuple[Item, ...] = ()
    first: int = 0
    rows: Rows | None = None


@record
class Page:
    """A whole page."""

    title: str
    paragraphs: tuple[str, ...]
    sections: tuple[Section, ...]
    pictures: tuple[Picture, ...] = ()
