"""Findings as workflow commands, which a build service shows beside the lines they concern."""

from __future__ import annotations

from trivet.diagnostics import Diagnostic
from trivet.report.places import Place, Places
from trivet.report.visible import visible

_COMMANDS = {"error": "error", "warning": "warning", "note": "notice"}


def annotation_lines(found: tuple[Diagnostic, ...]) -> str:
    """One command a line, such as `::error file=a.trivet,line=2,col=3,endColumn=9,title=few-teeth::message`.

    Columns are 1-based code points; `endColumn` is the first after the range and left out where the range leaves its
    line. An accepted finding is a notice.
    """
    places = Places()
    return "".join(_command(item, places) + "\n" for item in found)


def _command(item: Diagnostic, places: Places) -> str:
    properties = {} if item.span is None else _place(places.of(item.span))
    properties["title"] = visible(item.rule)
    listed = ",".join(f"{key}={_property(value)}" for key, value in properties.items())
    return f"::{_COMMANDS['note' if item.accepted else item.severity]} {listed}::{_data(_words(item))}"


def _place(place: Place) -> dict[str, str]:
    properties = {"file": visible(place.file), "line": str(place.line), "col": str(place.column)}
    if place.end_line == place.line:
        properties["endColumn"] = str(place.end_column)
    else:
        properties["endLine"] = str(place.end_line)
    return properties


def _words(item: Diagnostic) -> str:
    if item.accepted:
        because = f", because {visible(item.accepted_because)}" if item.accepted_because else ""
        return f"accepted: {visible(item.message)}{because}"
    remedy = f"\nremedy: {visible(item.remedy)}" if item.remedy else ""
    return visible(item.message) + remedy


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
