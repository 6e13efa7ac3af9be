"""The unit of length that a file speaks, for what a message tells its writer to write."""

from __future__ import annotations

import re
from functools import lru_cache

from trivet.source import SourceFile, Span
from trivet.units import length_text

_UNIT = re.compile(r"(?<=[0-9)]) (?:(in|thou)|mm|cm)\b", re.ASCII)


def spoken_unit(span: Span | None) -> str:
    """`in` where the file that the span is of has more lengths in inches than in millimetres, else `mm`."""
    return _unit_of(span.file) if span is not None else "mm"


def spoken_length(mm: float, span: Span | None) -> str:
    """A length in the unit that the file speaks."""
    return length_text(mm, spoken_unit(span))


@lru_cache(maxsize=8)
def _unit_of(file: SourceFile) -> str:
    inches = millimetres = 0
    for match in _UNIT.finditer(file.text):
        if match[1]:
            inches += 1
        else:
            millimetres += 1
    return "in" if inches > millimetres else "mm"
