"""Findings as a SARIF log: held to a part of the standard's schema, with places, escapes and file names as URIs."""

from __future__ import annotations

import json
import re
from urllib.parse import unquote

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trivet.diagnostics import Diagnostic, Label, Rule
from trivet.report.sarif import artifact_uri, sarif
from trivet.source import SourceFile, Span

# Before `nut`, the second line has one emoji: 1 code point, 2 UTF-16 units, 4 bytes of UTF-8. Line ends are CR LF.
FILE = SourceFile("riser.trivet", "# riser\r\n# 😋 nut\r\ngear hub\r\n  teeth 3\r\n")
RULE = Rule("few-teeth", "error", "at least 7 teeth", "fewer are undercut", "common practice, no source")


def at(word: str) -> Span:
    start = FILE.text.index(word)
    return Span(FILE, start, start + len(word))


NUT = Diagnostic("odd-nut", "warning", "nut is odd", at("nut"))
LABELS = (Label("`hub` is declared here", at("hub")), Label("row `M8` of `threads`", None))
TEETH = Diagnostic("few-teeth", "error", "3 teeth; at least 7 are required", at("3"), LABELS, "7 teeth or more")
KEPT = NUT.accept("it fits")
LOST = Diagnostic("unreadable-file", "error", "`a` cannot be read: it is a folder", None)
ALL = (NUT, TEETH, KEPT, LOST)

# A subset of the SARIF 2.1.0 schema, made by hand from memory of the standard: the parts our logs use, nothing else allowed.
_TEXT = {"type": "object", "required": ["text"], "additionalProperties": False, "properties": {"text": {"type": "string"}}}
_NUMBER = {"type": "integer", "minimum": 1}
_PHYSICAL = {
    "type": "object",
    "required": ["artifactLocation", "region"],
    "additionalProperties": False,
    "properties": {
        "artifactLocation": {
            "type": "object",
            "required": ["uri"],
            "properties": {"uri": {"type": "string", "pattern": r"^([A-Za-z0-9._~/:-]|%[0-9A-F]{2})+$"}},
        },
        "region": {
            "type": "object",
            "required": ["startLine", "startColumn", "endLine", "endColumn"],
            "additionalProperties": False,
            "properties": {name: _NUMBER for name in ("startLine", "startColumn", "endLine", "endColumn")},
        },
    },
}
_LOCATION = {
    "type": "object",
    "additionalProperties": False,
    "properties": {"message": _TEXT, "physicalLocation": _PHYSICAL},
}
_LEVEL = {"enum": ["none", "note", "warning", "error"]}
_RULE = {
    "type": "object",
    "required": ["id"],
    "additionalProperties": False,
    "properties": {
        "id": {"type": "string"},
        "shortDescription": _TEXT,
        "fullDescription": _TEXT,
        "help": _TEXT,
        "defaultConfiguration": {"type": "object", "properties": {"level": _LEVEL}},
    },
}
_RESULT = {
    "type": "object",
    "required": ["message", "suppressions"],
    "additionalProperties": False,
    "properties": {
        "ruleId": {"type": "string"},
        "ruleIndex": {"type": "integer", "minimum": 0},
        "level": _LEVEL,
        "message": _TEXT,
        "locations": {"type": "array", "items": _LOCATION},
        "relatedLocations": {"type": "array", "items": _LOCATION},
        "suppressions": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["kind"],
                "additionalProperties": False,
                "properties": {"kind": {"enum": ["inSource", "external"]}, "justification": {"type": "string"}},
            },
        },
    },
}
_SARIF = {
    "type": "object",
    "required": ["version", "runs"],
    "additionalProperties": False,
    "properties": {
        "$schema": {"type": "string"},
        "version": {"const": "2.1.0"},
        "runs": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["tool", "results", "columnKind"],
                "additionalProperties": False,
                "properties": {
                    "columnKind": {"enum": ["utf16CodeUnits", "unicodeCodePoints"]},
                    "results": {"type": "array", "items": _RESULT},
                    "tool": {
                        "type": "object",
                        "required": ["driver"],
                        "properties": {
                            "driver": {
                                "type": "object",
                                "required": ["name"],
                                "additionalProperties": False,
                                "properties": {
                                    "name": {"type": "string"},
                                    "version": {"type": "string"},
                                    "rules": {"type": "array", "items": _RULE},
                                },
                            }
                        },
                    },
                },
            },
        },
    },
}


def test_sarif() -> None:
    log = json.loads(sarif(ALL, version="0.1.0", rules=(RULE, Rule("a-rule", "note", "w", "y", "s"))))
    jsonschema.validate(log, _SARIF)
    run = log["runs"][0]
    assert run["columnKind"] == "unicodeCodePoints"
    assert [rule["id"] for rule in run["tool"]["driver"]["rules"]] == ["a-rule", "few-teeth"]
    nut, teeth, kept, lost = run["results"]
    location = nut["locations"][0]["physicalLocation"]
    assert location["artifactLocation"] == {"uri": "riser.trivet"}
    assert location["region"] == {"startLine": 2, "startColumn": 5, "endLine": 2, "endColumn": 8}
    assert (nut["level"], nut["suppressions"], "ruleIndex" in nut) == ("warning", [], False)
    assert (teeth["ruleId"], teeth["ruleIndex"]) == ("few-teeth", 1)
    assert "physicalLocation" not in teeth["relatedLocations"][1]
    assert kept["suppressions"] == [{"kind": "inSource", "justification": "it fits"}]
    assert "locations" not in lost


def test_sarif_text_is_no_placeholder_and_no_link() -> None:
    found = (Diagnostic("r", "error", "`{0}` and [a](b) and [c]", at("3")),)
    text = json.loads(sarif(found, version="0", rules=()))["runs"][0]["results"][0]["message"]["text"]
    assert text == "`{{0}}` and \\[a](b) and [c]"


# RFC 3986: a colon in the first segment of a relative reference would be a scheme (section 4.2); `%` is always encoded (2.4).
@pytest.mark.parametrize(
    ("name", "uri"),
    [
        ("my riser.trivet", "my%20riser.trivet"),
        ("ö/100%.trivet", "%C3%B6/100%25.trivet"),
        ("a:b#c?.trivet", "a%3Ab%23c%3F.trivet"),
        ("/home/x.trivet", "file:///home/x.trivet"),
        ("C:\\x\\y.trivet", "file:///C:/x/y.trivet"),
        ("\ud800", "%ED%A0%80"),
        ("A:ö", "A%3A%C3%B6"),
    ],
)
def test_artifact_uri(name: str, uri: str) -> None:
    assert artifact_uri(name) == uri


@given(st.text(alphabet=st.characters(exclude_categories=["Cs"]), min_size=1).filter(lambda name: name[0] != "/"))
def test_relative_uris_decode_to_the_name(name: str) -> None:
    if not re.match(r"[A-Za-z]:[/\\]", name):
        assert unquote(artifact_uri(name)) == name
