"""An explanation as text: what is given with its place, then each step, down to the number on the report."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Mapping

from trivet.report.places import Places
from trivet.report.visible import visible
from trivet.source import LibraryRow, Origin, Span
from trivet.tables.explanation import Entry, Number, in_order, path_text
from trivet.tables.formula import shown
from trivet.tables.wording import STATUS_WORDS

# As the report rounds.
DECIMALS = 6
WIDTH = 100


def explanation_text(
    entry: Entry, number: Number, report_has: object, unit: str, parameters: Mapping[str, tuple[str, Origin | None]]
) -> str:
    """All of one explanation. `report_has`: the report's number, None where it has none; `parameters`: the value of each and where it is declared."""
    places = Places()
    ordered = in_order(number)
    lines = [f"{' '.join((entry.quantity, *entry.parts))}: {value_text(number, unit)}", ""]
    if unit == "in" and any(item.unit == "mm" for item in ordered):
        lines += ["worked in millimetres, as report.json is; inches in brackets", ""]
    leaves = [item for item in ordered if not item.formula and not item.how]
    if leaves:
        lines.append("given")
        for item in leaves:
            lines += _wrapped(f"{item.symbol} = {value_text(item, unit)}: {item.words}")
            lines += [f"    {line}" for line in _origin_lines(item, places, parameters)]
        lines.append("")
    steps = [item for item in ordered if item.formula or item.how]
    if steps:
        lines.append("worked out")
    for item in steps:
        lines += _wrapped(f"{item.symbol} = {value_text(item, unit)}: {item.words}")
        if item.formula:
            lines += _wrapped(f"{item.symbol} = {item.formula}", "    ")
            if item.with_numbers != item.formula:
                lines += _wrapped(f"{' ' * len(item.symbol)} = {item.with_numbers}", "    ")
        else:
            lines += _wrapped(f"found, not by one formula: {item.how}", "    ")
        lines += _wrapped(f"source: {item.source}", "    ")
    if steps:
        lines.append("")
    if entry.path:
        lines.append(f"in report.json: {path_text(entry.path)} = {_number(report_has)}")
    else:
        lines.append(f"not in report.json: see {entry.elsewhere or 'the drawing of the part'}")
    return visible_lines("\n".join(lines)) + "\n"


def value_text(number: Number, unit: str) -> str:
    """A value with its unit; a length of an inch fixture in inches too."""
    text = shown(number.value)
    if not number.unit:
        return text
    if number.unit == "mm" and unit == "in":
        return f"{text} mm ({number.value / 25.4:.4f} in)"
    return f"{text} {number.unit}"


def agrees(number: Number, report_has: object) -> bool:
    """Whether the explanation gives the number that the report prints."""
    same = isinstance(report_has, (int, float)) and abs(number.value - report_has) <= 10.0**-DECIMALS
    return same


def visible_lines(text: str) -> str:
    """Each line made fit to print."""
    return "\n".join(visible(line) for line in text.split("\n"))


def _number(value: object) -> str:
    return shown(float(value)) if isinstance(value, (int, float)) else "null"


def _origin_lines(number: Number, places: Places, parameters: Mapping[str, tuple[str, Origin | None]]) -> list[str]:
    lines: list[str] = []
    origin = number.origin
    if isinstance(origin, Span):
        lines.append(_place(origin, places))
        # A parameter stands for its number: the number is one step away.
        for word in dict.fromkeys(re.findall(r"[^\W\d]\w*", origin.text)):
            value, declared = parameters.get(word, ("", None))
            if isinstance(declared, Span) and declared != origin:
                place = places.of(declared)
                lines.append(f"{place.file}:{place.line}:{place.column}: the parameter `{word}` is {value}")
    elif isinstance(origin, LibraryRow):
        status = STATUS_WORDS.get(origin.status, origin.status)
        lines.append(f"table `{origin.table}`, row {origin.key}: {origin.source or 'no source'} ({status})")
        if origin.span is not None:
            lines.append(_place(origin.span, places))
    if number.source:
        lines.append(number.source)
    return lines


def _place(span: Span, places: Places) -> str:
    place = places.of(span)
    text = " ".join(span.text.split())
    return f"{place.file}:{place.line}:{place.column}: `{text[:80]}{'…' if len(text) > 80 else ''}`"


def _wrapped(text: str, indent: str = "  ") -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=indent, subsequent_indent=f"{indent}    ", break_long_words=False, break_on_hyphens=False
    )
