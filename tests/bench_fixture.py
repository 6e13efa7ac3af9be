"""Fixtures for the bench: examples read, solved and their filled cards."""

from __future__ import annotations

import csv
import io
from functools import cache
from pathlib import Path

from trivet.card import Card, read_card
from trivet.emit.csv import csv as csv_bytes
from trivet.files import DiskFiles
from trivet.inputs import load_library, read_parts
from trivet.lower.lower import lower
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.inspection import readings
from trivet.solve.measured import Measured, measured
from trivet.solve.solve import solve
from trivet.source import SourceFile
from trivet.tables.inspection import inspection_rows

EXAMPLES = Path(__file__).parent.parent / "examples"


@cache
def solved(name: str, more: str = "") -> tuple[Design, Derived]:
    """An example with more lines at its end, without its checks."""
    path = EXAMPLES / f"{name}.trivet"
    return solved_text(path.read_text(encoding="utf-8") + more, str(path))


def solved_text(text: str, name: str = "x.trivet") -> tuple[Design, Derived]:
    """A fixture from its text."""
    source = SourceFile(name, text)
    parts, found = read_parts(source, DiskFiles(), None)
    design, lowered = lower(parts, load_library, {})
    assert design is not None, (found, lowered)
    return design, solve(design)


def card_text(name: str, filled: dict[str, str] | None = None, *, as_expected: bool = False) -> str:
    """The card as a spreadsheet saves it again, with these rows filled in, or all of them as the card expects."""
    design, derived = solved(name)
    lines = list(csv.reader(io.StringIO(csv_bytes(inspection_rows(design, derived)).decode("utf-8-sig"), newline="")))
    heading = lines[0]
    row, expect, written = (heading.index(word) for word in ("row", "expect", "measured"))
    rest = dict(filled or {})
    for line in lines[1:]:
        line[written] = line[expect] if as_expected else rest.pop(line[row], "")
    assert not rest, rest
    stream = io.StringIO(newline="")
    csv.writer(stream).writerows(lines)
    return stream.getvalue()


def card(name: str, text: str) -> Card:
    """The card read for an example."""
    design, derived = solved(name)
    return read_card(SourceFile("card.csv", text), readings(design, derived), design.units)


def cut(name: str, filled: dict[str, str]) -> Measured:
    """An example as its parts were measured."""
    design, derived = solved(name)
    read = card(name, card_text(name, filled))
    assert not read.faults, read.faults
    return measured(design, derived, readings(design, derived), read.filled)
