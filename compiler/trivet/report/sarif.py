"""Findings as a SARIF 2.1.0 log (OASIS standard, 2020; written from memory of it)."""

from __future__ import annotations

import re
from urllib.parse import quote

from trivet.diagnostics import Diagnostic, Label, Rule
from trivet.report.json import ascii_json
from trivet.report.places import Places
from trivet.source import Span

_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_LINK = re.compile(r"\[(?=[^\[\]]*\]\()")


def sarif(found: tuple[Diagnostic, ...], *, version: str, rules: tuple[Rule, ...]) -> str:
    """One run with the rules' texts, and one result for each finding; an accepted one is suppressed in source.

    `rules` are listed by slug; a finding of a rule that is not among them has no `ruleIndex`.
    """
    ordered = sorted({rule.slug: rule for rule in rules}.values(), key=lambda rule: rule.slug)
    index = {rule.slug: number for number, rule in enumerate(ordered)}
    places = Places()
    run = {
        "tool": {"driver": {"name": "trivet", "version": version, "rules": [_rule(rule) for rule in ordered]}},
        "columnKind": "unicodeCodePoints",
        "results": [_result(item, index, places) for item in found],
    }
    return ascii_json({"$schema": _SCHEMA, "version": "2.1.0", "runs": [run]}, indent=2) + "\n"


def artifact_uri(name: str) -> str:
    """A file's name as a URI: relative names stay relative; all but letters, digits and `-._~/` is percent-encoded."""
    path = quote(name.encode("utf-8", "surrogatepass"), safe="/")
    if re.match(r"[A-Za-z]%3A(/|%5C)", path):
        return "file:///" + path.replace("%3A", ":", 1).replace("%5C", "/")
    return "file://" + path if path.startswith("/") else path


def _rule(rule: Rule) -> dict[str, object]:
    return {
        "id": rule.slug,
        "shortDescription": _text(rule.what),
        "fullDescription": _text(rule.why),
        "help": _text(f"{rule.what}\n{rule.why}\nsource: {rule.source}"),
        "defaultConfiguration": {"level": rule.severity},
    }


def _result(item: Diagnostic, index: dict[str, int], places: Places) -> dict[str, object]:
    message = f"{item.message}\nremedy: {item.remedy}" if item.remedy else item.message
    result: dict[str, object] = {"ruleId": item.rule, "level": item.severity, "message": _text(message)}
    if item.rule in index:
        result["ruleIndex"] = index[item.rule]
    if item.span is not None:
        result["locations"] = [{"physicalLocation": _physical(item.span, places)}]
    if item.related:
        result["relatedLocations"] = [_related(label, places) for label in item.related]
    result["suppressions"] = [{"kind": "inSource", "justification": item.accepted_because}] if item.accepted else []
    return result


def _related(label: Label, places: Places) -> dict[str, object]:
    location: dict[str, object] = {"message": _text(label.message)}
    if label.span is not None:
        location["physicalLocation"] = _physical(label.span, places)
    return location


def _physical(span: Span, places: Places) -> dict[str, object]:
    place = places.of(span)
    region = {
        "startLine": place.line,
        "startColumn": place.column,
        "endLine": place.end_line,
        "endColumn": place.end_column,
    }
    return {"artifactLocation": {"uri": artifact_uri(place.file)}, "region": region}


def _text(text: str) -> dict[str, str]:
    """A message object: braces would be placeholders and `[a](b)` a link, so both are escaped."""
    return {"text": _LINK.sub(r"\\[", text).replace("{", "{{").replace("}", "}}")}
