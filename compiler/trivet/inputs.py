"""The files of a fixture, read and parsed: the main one, those that it reads, the shop's own, and the library's tables."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache
from typing import TYPE_CHECKING

from trivet.diagnostics import Diagnostic
from trivet.files import Files, library_data, library_text
from trivet.lower.entries import Part
from trivet.record import replace
from trivet.source import SourceFile
from trivet.syntax.nodes import Document, Text
from trivet.syntax.parse import parse

if TYPE_CHECKING:
    from trivet.catalog_rows import Table


# Each is read while the one that names it waits; a workshop has a handful.
MOST_FILES = 50


@cache
def load_library(name: str) -> tuple[Table, ...]:
    """The tables of one library file: as data where the package carries it, else parsed."""
    data = library_data(name)
    if data is None:
        return parse_library(name)
    import json

    from trivet.catalog_data import from_plain

    return from_plain(json.loads(data))


def parse_library(name: str) -> tuple[Table, ...]:
    """The tables of one library file from its text."""
    from trivet.catalog_rows import table_of

    document, found = parse(SourceFile(f"{name}.trivet", library_text(name)))
    assert not found, found[0]
    faults: list[Diagnostic] = []
    tables = [table for block in document.blocks if (table := table_of(block, faults.append, users_own=False)) is not None]
    assert not faults, faults[0]
    return tuple(tables)


Parse = Callable[[SourceFile], tuple[Document, tuple[Diagnostic, ...]]]


def read_parts(
    source: SourceFile, files: Files, shop: SourceFile | None, parse: Parse = parse
) -> tuple[tuple[Part, ...], list[Diagnostic]]:
    """The main document, every file that it reads (each once), and the shop's own; `parse` may know lines that it read before."""
    found: list[Diagnostic] = []
    parts: list[Part] = []
    seen: set[str] = set()
    root = source.name.rpartition("/")[0] or ("/" if source.name.startswith("/") else ".")

    def take(file: SourceFile, role: str) -> None:
        document, faults = parse(file)
        found.extend(faults)
        parts.append(Part(document, role))
        for block in document.blocks:
            if block.heading.word.text != "read":
                continue
            items = block.heading.phrases[0].items
            if len(items) != 1 or not isinstance(items[0], Text) or len(block.heading.phrases) != 1:
                message = "`read` is followed by one file name in quotes"
                found.append(
                    Diagnostic("unexpected-item", "error", message, block.heading.span, remedy='write `read "shop.trivet"`')
                )
                continue
            if block.facts:
                found.append(
                    Diagnostic(
                        "unexpected-item",
                        "error",
                        "`read` has no facts",
                        block.facts[0].span,
                        remedy="begin a new heading at the margin",
                    )
                )
            other = files.read_beside(file.name, items[0].value, root, span=items[0].span)
            if isinstance(other, Diagnostic):
                found.append(other)
            elif other.name not in seen and len(seen) == MOST_FILES:
                message = f"more than {MOST_FILES} files are read for one fixture"
                found.append(Diagnostic("limit-exceeded", "error", message, items[0].span, remedy="join some of them"))
                return
            elif other.name not in seen:
                seen.add(other.name)
                take(other, "read" if role == "main" else role)

    seen.add(source.name)
    take(source, "main")
    if shop is not None and shop.name not in seen:
        seen.add(shop.name)
        take(shop, "shop")
    return tuple(parts), found


def tables_in(texts: Mapping[str, str]) -> tuple[Table, ...]:
    """The tables of a fixture's own files, by their texts; of two of one name the last, which is the shop's. Faults were told already."""
    from trivet.catalog_rows import table_of

    found: dict[str, Table] = {}
    for name, text in texts.items():
        # Most files have none, and reading a fixture again, or a kept placement, costs as much as solving it.
        if not any(line.lstrip("\ufeff \t").startswith("table") for line in text.splitlines()):
            continue
        document, _ = parse(SourceFile(name, text))
        for block in document.blocks:
            table = table_of(block, lambda fault: None, users_own=True) if block.heading.word.text == "table" else None
            if table is not None:
                found[table.name] = table
    return tuple(found.values())


def with_libraries(
    parts: tuple[Part, ...], found: list[Diagnostic], libraries: Sequence[SourceFile]
) -> tuple[tuple[Part, ...], list[Diagnostic]]:
    """The parts and, after them, files with a project's own tables, each once; anything else in those is a fault."""
    known = {part.document.file.name for part in parts}
    for file in libraries:
        if file.name in known:
            continue
        document, faults = parse(file)
        found.extend(faults)
        for block in document.blocks:
            if block.heading.word.text != "table":
                message = f"`{block.heading.word.text}` stands in a library file, which holds tables only"
                found.append(
                    Diagnostic("unexpected-item", "error", message, block.heading.word.span, remedy="`read` it from the fixture")
                )
        tables = tuple(block for block in document.blocks if block.heading.word.text == "table")
        parts = (*parts, Part(replace(document, blocks=tables), "read"))
    return parts, found


def with_units(parts: tuple[Part, ...], units: str) -> tuple[Part, ...]:
    """The parts with `units` as a fact of the fixture that states none itself."""
    fixture = next((block for block in parts[0].document.blocks if block.heading.word.text == "fixture"), None)
    if not units or fixture is None or any(line.word.text == "units" for line in fixture.facts):
        return parts
    stated, _ = parse(SourceFile("trivet.toml", f"fixture project\n  units {units}\n"))
    blocks = tuple(
        replace(block, facts=(*block.facts, *stated.blocks[0].facts)) if block is fixture else block
        for block in parts[0].document.blocks
    )
    return (Part(replace(parts[0].document, blocks=blocks), parts[0].role), *parts[1:])
