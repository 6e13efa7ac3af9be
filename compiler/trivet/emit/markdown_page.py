"""Markdown: a page with headings, lists, figures and tables."""

from __future__ import annotations

import re
from collections.abc import Iterator

from trivet.emit.markdown import escaped, markdown
from trivet.tables.prose_page import Item, Page, Picture, Section

# Characters that end a link's target or its text.
_ENDS = str.maketrans({" ": "%20", "(": "%28", ")": "%29", "<": "%3C", ">": "%3E", '"': "%22", "\\": "%5C"})


# A name in quotes of its own; anything else between such quotes is text like all other.
_NAME = re.compile(r"`([\w./\-]+(?: [\w./=\-]+)*)`")


def markdown_page(page: Page) -> bytes:
    """The page; ends with one line break."""
    lines = [f"# {escaped(page.title)}", ""]
    for picture in page.pictures:
        lines += [_picture(picture), ""]
    for paragraph in page.paragraphs:
        lines += [_text(paragraph), ""]
    for section in page.sections:
        lines += _section(section)
    return ("\n".join(lines).rstrip("\n") + "\n").encode("utf-8")


def _section(section: Section) -> Iterator[str]:
    yield from (f"## {escaped(section.heading)}", "")
    for paragraph in section.paragraphs:
        yield from (_text(paragraph), "")
    for index, item in enumerate(section.items):
        yield from _item(item, f"{section.first + index}. " if section.first else "- ")
    if section.items:
        yield ""
    if section.rows is not None:
        table = markdown(section.rows, level=3).decode("utf-8").rstrip("\n")
        # The section's heading says it already where both read the same.
        same = section.rows.title == section.heading
        yield from ((table.partition("\n\n")[2] if same else table), "")


def _item(item: Item, mark: str) -> Iterator[str]:
    inside = " " * len(mark)
    yield f"{mark}{_text(item.text)}"
    for detail in item.details:
        yield f"{inside}- {_text(detail)}"
    for picture in item.pictures:
        yield from ("", f"{inside}{_picture(picture)}", "")


def _text(text: str) -> str:
    """Text as it reads, names in quotes as code."""
    found, at = [], 0
    for name in _NAME.finditer(text):
        found += [escaped(text[at : name.start()]), f"`{name.group(1)}`"]
        at = name.end()
    return "".join((*found, escaped(text[at:])))


def _picture(picture: Picture) -> str:
    return f"![{escaped(picture.words)}]({picture.path.translate(_ENDS)})"
