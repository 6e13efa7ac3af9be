"""Findings as each report shows them: places, escapes, and the form that other programs read."""

from __future__ import annotations

import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trivet.diagnostics import Diagnostic, Label
from trivet.report.annotations import annotation_lines
from trivet.report.json import finding_rows, json_report, status
from trivet.report.jsonl import json_lines
from trivet.report.sarif import sarif
from trivet.report.terminal import summary, terminal
from trivet.source import SourceFile, Span

# Before `nut`, the second line has one emoji: 1 code point, 2 UTF-16 units, 4 bytes of UTF-8. Line ends are CR LF.
TEXT = "# riser\r\n# 😋 nut\r\ngear hub\r\n  teeth 3\r\n"
FILE = SourceFile("riser.trivet", TEXT)


def at(word: str, file: SourceFile = FILE) -> Span:
    start = file.text.index(word)
    return Span(file, start, start + len(word))


NUT = Diagnostic("odd-nut", "warning", "nut is odd", at("nut"))
TEETH = Diagnostic(
    "few-teeth",
    "error",
    "3 teeth; at least 7 are required",
    at("3"),
    (Label("`hub` is declared here", at("hub")), Label("row `M8` of `threads`", None)),
    "7 teeth or more",
)
KEPT = NUT.accept("it fits")
LOST = Diagnostic("unreadable-file", "error", "`a` cannot be read: it is a folder", None)
ALL = (NUT, TEETH, KEPT, LOST)


def test_terminal_lines() -> None:
    assert terminal(ALL) == (
        "riser.trivet:2:5: warning: nut is odd [odd-nut]\n"
        "riser.trivet:4:9: error: 3 teeth; at least 7 are required [few-teeth]\n"
        "riser.trivet:3:6: note: `hub` is declared here\n"
        "  note: row `M8` of `threads`\n"
        "  remedy: 7 teeth or more\n"
        "trivet: error: `a` cannot be read: it is a folder [unreadable-file]\n"
        "riser.trivet:2:5: note: accepted: nut is odd, because it fits [odd-nut]\n"
        "2 errors, 1 warning; 1 accepted\n"
    )


def test_summary_counts() -> None:
    assert summary(()) == "no known fault found"
    assert summary((KEPT,)) == "no known fault found; 1 accepted"
    assert summary((TEETH, NUT, NUT, Diagnostic("a", "note", "b", None))) == "1 error, 2 warnings, 1 note"


def test_colour_adds_only_colour() -> None:
    coloured = terminal(ALL, colour=True)
    assert "\x1b[" in coloured and "\x1b" not in terminal(ALL)
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == terminal(ALL)


def test_only_the_remedy_is_broken() -> None:
    long = Diagnostic("a", "error", "word " * 60 + "end", at("3"), remedy="word " * 60 + "end")
    lines = terminal((long,), width=60).splitlines()
    assert len(lines[0]) > 300
    assert all(len(line) <= 60 and line.startswith("  ") for line in lines[1:-1]) and len(lines) > 5


def test_fault_of_ours_is_said() -> None:
    ours = Diagnostic("check-crashed", "error", "the check `x` stopped", at("3"), fault_of_ours=True)
    assert "a fault of trivet" in terminal((ours,)) and "a fault of trivet" not in terminal((TEETH,))
    assert status((ours,)) == "failed"


HOSTILE = "a\x1b[31m\u202eb\nc\rd\u2028e\x9bf\ud800\u200bg\x00"


@pytest.mark.parametrize("written", [terminal, annotation_lines])
def test_user_text_cannot_steer_the_terminal(written) -> None:
    file = SourceFile(HOSTILE, "x")
    span = Span(file, 0, 1)
    found = (
        Diagnostic(HOSTILE, "error", HOSTILE, span, (Label(HOSTILE, span),), HOSTILE),
        Diagnostic("rule", "error", HOSTILE, span).accept(HOSTILE),
    )
    text = written(found)
    assert "a\\x1b[31m\\u202eb\\nc\\rd\\u2028e\\x9bf\\ud800\\u200bg\\x00" in text.replace("%3A", ":")
    assert all(letter == "\n" or letter.isprintable() for letter in text)
    # 2 findings; the terminal adds a label, a remedy and the sums.
    assert len(text.splitlines()) == (5 if written is terminal else 2)


@given(st.text())
def test_no_message_breaks_its_line(message: str) -> None:
    text = terminal((Diagnostic("r", "error", message, at("3")),))
    assert len(text.splitlines()) == 2 and text.startswith("riser.trivet:4:9: error: ")


def test_json_follows_the_contract() -> None:
    report = json.loads(json_report(ALL, fixture="riser", version="0.1.0", title="A 😋", parameters={"play": "0.5 mm"}))
    assert list(report) == ["fixture", "status", "findings"]
    assert report["fixture"] == {
        "name": "riser",
        "title": "A 😋",
        "revision": "",
        "version": "0.1.0",
        "parameters": {"play": "0.5 mm"},
    }
    assert report["status"] == "failed"
    nut, teeth, kept, lost = report["findings"]
    place = {"file": "riser.trivet", "line": 2, "column": 5, "end_line": 2, "end_column": 8}
    assert nut == {
        "rule": "odd-nut",
        "severity": "warning",
        "message": "nut is odd",
        **place,
        "accepted": False,
        "because": "",
        "related": [],
        "remedy": "",
    }
    assert teeth["related"][0]["line"] == 3 and teeth["related"][1]["line"] is None
    assert kept == {**nut, "accepted": True, "because": "it fits"}
    assert lost["file"] is None and lost["line"] is None


def test_json_lines_are_the_same_findings() -> None:
    lines = json_lines(ALL).splitlines()
    assert [json.loads(line) for line in lines] == finding_rows(ALL)
    assert json_lines(()) == ""


def test_machine_reports_are_ascii() -> None:
    found = (Diagnostic("r", "error", HOSTILE, Span(SourceFile(HOSTILE, "x"), 0, 1)),)
    for text in (json_report(found, fixture=HOSTILE, version="0"), json_lines(found)):
        assert text.isascii() and "\x1b" not in text
    assert json.loads(json_lines(found))["message"] == HOSTILE.replace("\ud800", "\ufffd")
    assert json.loads(sarif(found, version="0", rules=()))["runs"][0]["results"][0]["ruleId"] == "r"


def test_status() -> None:
    assert status(()) == "clean" and status((KEPT,)) == "clean"
    assert status((NUT,)) == "findings" and status((LOST,)) == "failed"


def test_annotations() -> None:
    assert annotation_lines(ALL).splitlines() == [
        "::warning file=riser.trivet,line=2,col=5,endColumn=8,title=odd-nut::nut is odd",
        "::error file=riser.trivet,line=4,col=9,endColumn=10,title=few-teeth::"
        "3 teeth; at least 7 are required%0Aremedy: 7 teeth or more",
        "::notice file=riser.trivet,line=2,col=5,endColumn=8,title=odd-nut::accepted: nut is odd, because it fits",
        "::error title=unreadable-file::`a` cannot be read: it is a folder",
    ]


def test_annotations_escape() -> None:
    file = SourceFile("a,b:c%.trivet", "x\ny")
    text = annotation_lines((Diagnostic("r", "note", "50 % a, b: c", Span(file, 0, 3)),))
    assert text == "::notice file=a%2Cb%3Ac%25.trivet,line=1,col=1,endLine=2,title=r::50 %25 a, b: c\n"


def test_an_accepted_error_is_never_called_clean() -> None:
    span = Span(SourceFile("a.trivet", "gear hub\n"), 0, 4)
    found = (
        Diagnostic("tip-through-board", "error", "the tip comes through", span).accept("tried it"),
        Diagnostic("few-teeth", "note", "few teeth", span).accept("they turn"),
    )
    assert terminal(found).splitlines()[-1] == "no fault found but those accepted; 2 accepted, 1 of them an error"
