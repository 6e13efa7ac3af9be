"""`trivet.toml`: what holds for all fixtures of a project, as a record, or what is wrong with it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Literal, cast

from trivet.diagnostics import Diagnostic, Rule, Severity, rank
from trivet.record import record, replace
from trivet.source import SourceFile, Span
from trivet.suggest import nearest

RULE = Rule(
    "project-file",
    "error",
    "`trivet.toml` holds `units`, `output`, `library` and a table `[severity]`, and nothing else",
    "a misspelt key would be believed to have an effect; a severity is raised here and never lowered, since a finding that is known"
    " better about is accepted in the fixture, with its reason",
    "TOML 1.0.0 for the form; common practice, no source, for the content",
)
RULES = (RULE,)

_KEYS = ("units", "output", "library", "severity")
_SEVERITIES = ("warning", "error")


@record
class Project:
    """`units`: what is printed where a fixture does not say. `output`: the folder that each fixture's own output folder lies in.

    `severities`: rules that are graver here. `libraries`: folders with tables of the project's own.
    """

    units: Literal["", "mm", "in"] = ""
    output: str = ""
    severities: tuple[tuple[str, Severity], ...] = ()
    libraries: tuple[str, ...] = ()

    def graver(self, found: tuple[Diagnostic, ...]) -> tuple[Diagnostic, ...]:
        """The findings with the severities of the project where those are graver."""
        if not self.severities:
            return found
        raised = dict(self.severities)
        return tuple(
            replace(item, severity=raised[item.rule])
            if item.rule in raised and rank(raised[item.rule]) < rank(item.severity)
            else item
            for item in found
        )


def project_of(source: SourceFile, rules: Mapping[str, Rule]) -> tuple[Project, tuple[Diagnostic, ...]]:
    """The project, as far as the file is right, and every fault in it. `rules`: those that a severity may name."""
    import tomllib

    reader = _Reader(source)
    try:
        data = tomllib.loads(source.text.replace("\r\n", "\n"))
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        reader.fault(str(error) or "it is nested too deeply", reader.place_in(str(error)), "see https://toml.io for the form")
        return Project(), tuple(reader.found)
    for key in data:
        if key not in _KEYS:
            near = nearest(key, _KEYS)
            remedy = f"write `{near}`" if near else f"the keys are {', '.join(_KEYS)}"
            reader.fault(f"`{key}` is no key of this file", reader.place(key), remedy)
    project = Project(
        units=cast(Literal["", "mm", "in"], _units(data, reader)),
        output=_path(data, "output", reader),
        severities=_severities(data, rules, reader),
        libraries=_libraries(data, reader),
    )
    return project, tuple(reader.found)


class _Reader:
    """Collects faults; finds the places of keys, which the standard library's reader does not keep."""

    def __init__(self, source: SourceFile) -> None:
        self.source = source
        self.found: list[Diagnostic] = []

    def fault(self, message: str, span: Span, remedy: str = "") -> None:
        """One more fault."""
        self.found.append(Diagnostic(RULE.slug, RULE.severity, message, span, remedy=remedy))

    def place(self, key: str) -> Span:
        """Where the key begins a line, in quotes or not, or as a table's name; else the file's first character."""
        pattern = rf"^[ \t]*(?:\[[ \t]*)?([\"']?{re.escape(key)}[\"']?)[ \t]*[\]=.]"
        match = re.search(pattern, self.source.text, re.MULTILINE)
        return Span(self.source, match.start(1), match.end(1)) if match else Span(self.source, 0, min(1, len(self.source.text)))

    def place_in(self, message: str) -> Span:
        """The place that a message of the reader names: its line, or the end."""
        match = re.search(r"line (\d+), column (\d+)", message)
        if match is None:
            return Span(self.source, len(self.source.text), len(self.source.text))
        lines = self.source.text.splitlines(keepends=True)
        start = min(sum(len(line) for line in lines[: int(match[1]) - 1]) + int(match[2]) - 1, len(self.source.text))
        return Span(self.source, start, min(start + 1, len(self.source.text)))


def _units(data: Mapping[str, object], reader: _Reader) -> str:
    value = data.get("units", "")
    if value not in ("", "mm", "in") or not isinstance(value, str) or ("units" in data and not value):
        reader.fault(f"`units` is {_shown(value)}", reader.place("units"), 'write `units = "mm"` or `units = "in"`')
        return ""
    return value


def _path(data: Mapping[str, object], key: str, reader: _Reader) -> str:
    value = data.get(key, "")
    if not isinstance(value, str) or (key in data and not _is_inside(value)):
        reader.fault(
            f"`{key}` is {_shown(value)}", reader.place(key), f'write a folder inside the project, such as `{key} = "build"`'
        )
        return ""
    return value


def _libraries(data: Mapping[str, object], reader: _Reader) -> tuple[str, ...]:
    value = data.get("library", [])
    if not isinstance(value, list) or not all(isinstance(item, str) and _is_inside(item) for item in value):
        reader.fault(
            f"`library` is {_shown(value)}", reader.place("library"), 'write folders inside the project: `library = ["hardware"]`'
        )
        return ()
    return tuple(value)


def _severities(data: Mapping[str, object], rules: Mapping[str, Rule], reader: _Reader) -> tuple[tuple[str, Severity], ...]:
    table = data.get("severity", {})
    if not isinstance(table, dict):
        reader.fault(
            "`severity` is not a table",
            reader.place("severity"),
            'write `[severity]` and under it lines such as `few-teeth = "warning"`',
        )
        return ()
    found: list[tuple[str, Severity]] = []
    for slug, value in table.items():
        place = reader.place(slug)
        rule = rules.get(slug)
        if rule is None:
            near = nearest(slug, rules)
            reader.fault(f"`{slug}` is no rule", place, f"write `{near}`" if near else "`trivet explain` lists the rules")
        elif value not in _SEVERITIES:
            reader.fault(
                f"the severity of `{slug}` is {_shown(value)}",
                place,
                "write `warning` or `error`; a finding is let pass with `accept` in the fixture",
            )
        elif rank(cast(Severity, value)) > rank(rule.severity):
            reader.fault(
                f"`{slug}` is {_a(rule.severity)} and would be lowered to {_a(str(value))}",
                place,
                "a project raises severities only; `accept` it in the fixture, with the reason",
            )
        else:
            found.append((slug, cast(Severity, value)))
    return tuple(found)


def _is_inside(path: str) -> bool:
    return bool(path) and not path.startswith(("/", "\\")) and ":" not in path and ".." not in path.replace("\\", "/").split("/")


def _shown(value: object) -> str:
    return (
        f"`{value}`"
        if isinstance(value, str)
        else f"a {type(value).__name__}"
        if not isinstance(value, (int, float))
        else f"{value}"
    )


def _a(word: str) -> str:
    return f"an {word}" if word[0] in "aeiou" else f"a {word}"
