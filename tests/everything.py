"""All that the compiler works out of a text, number by number, as lines: to see whether a change of the code changes anything at all.

`python -m tests.everything RULE NUMBER` prints them, for two states of the tree to be laid side by side. The truth of the figures is held
elsewhere (the oracles, the laws); here none changes unseen.
"""

from __future__ import annotations

import sys
import zlib
from collections.abc import Iterator, Mapping
from enum import Enum
from fractions import Fraction
from functools import cache
from typing import Any
from unittest.mock import patch

from trivet import pipeline
from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.inputs import load_library
from trivet.pipeline import Compilation
from trivet.solve.as_cut_proofs import as_cut_proofs
from trivet.solve.assembly import assembly
from trivet.solve.binding import binding
from trivet.solve.inspection import readings
from trivet.solve.nest import nest
from trivet.source import SourceFile, Span
from trivet.tables.report import report

NAME = "law.trivet"
DIGITS = 7
# Nearer to nothing than this a number is what sums of other numbers leave over.
NOTHING = 1e-7
_library = cache(load_library)


def checked(text: str, full: bool = False) -> Compilation:
    """As the pipeline checks it, the library read once."""
    with patch.object(pipeline, "load_library", _library):
        return pipeline.check(SourceFile(NAME, text), MemoryFiles({NAME: text}), full=full)


def said(item: Diagnostic) -> str:
    """A finding with its places, parts and edits."""
    labels = "; ".join(f"{_place(label.span)} {label.message}" for label in item.related)
    edits = "; ".join(f"{_place(edit.span)} -> {edit.text!r}" for edit in item.edits)
    return f"{item.severity} {item.rule} {_place(item.span)} {item.message} [{labels}] [{edits}] {' '.join(item.parts)}"


def _place(span: Span | None) -> str:
    return "-" if span is None else f"{span.start}-{span.end}"


def lines(item: Any, path: str = "") -> Iterator[str]:
    """Records, tuples, maps and shapes, down to one line for each plain value; what the text itself says (the design) is left out."""
    if isinstance(item, float):
        yield f"{path} {number(item)}"
    elif item is None or isinstance(item, str | int | bool | Fraction | Enum):
        yield f"{path} {item!r}"
    elif isinstance(item, Span):
        yield f"{path} {_place(item)}"
    elif isinstance(item, Mapping):
        for key, value in item.items():
            yield from lines(value, f"{path}.{key if isinstance(key, str) else '|'.join(lines(key))}")
    elif isinstance(item, tuple | list):
        yield f"{path} {len(item)} of"
        for index, value in enumerate(item):
            yield from lines(value, f"{path}.{index}")
    elif isinstance(item, set | frozenset):
        yield f"{path} {sorted('|'.join(lines(value)) for value in item)}"
    elif hasattr(type(item), "__match_args__") and not hasattr(item, "model_fields_set"):
        # In the order of their names: where a field stands in its record is nobody's concern.
        for name in sorted(type(item).__match_args__):
            yield from lines(getattr(item, name), f"{path}.{name}")
    elif hasattr(item, "geom_type"):
        yield f"{path} {item.geom_type} {number(item.area)} {number(item.length)} {' '.join(map(number, item.bounds))}"


def number(value: float) -> str:
    """So many digits as every machine gets alike."""
    return "0" if abs(value) < NOTHING else f"{value:.{DIGITS}g}"


def everything(text: str, full: bool = False) -> dict[str, list[str]]:
    """The lines under a heading each: what is found, what is derived (parts and bodies too) and the report; with `full` the slow ones."""
    result = checked(text, full)
    found = {"found": [said(item) for item in result.findings]}
    design, derived = result.design, result.derived
    if design is None or derived is None:
        return found
    found["derived"] = list(lines(derived))
    facts = report(design, derived, findings=(), status="clean", version="")
    found["report"] = list(lines(facts))
    if full:
        found["meshes"] = list(lines(as_cut_proofs(derived)))
        found["binding"] = list(lines(binding(design, derived)))
        found["nest"] = list(lines(nest(design, derived)))
        found["readings"] = list(lines(readings(design, derived)))
        found["assembly"] = list(lines(assembly(design, derived)))
    return found


def mark(found: Mapping[str, list[str]]) -> str:
    """A short mark of all lines: equal for equal ones, and hardly ever else."""
    return f"{zlib.crc32(repr(found).encode()):08x}"


def main(arguments: list[str]) -> int:
    """Print the lines of one text: of a rule (`RULE NUMBER`) or a sound one (`SEED 0`)."""
    from tests.corpus import named

    text = named(*arguments)
    for name, found in everything(*text).items():
        print(f"## {name}", *found, sep="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
