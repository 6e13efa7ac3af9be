"""What the tests of bad input share: a fixture to spoil, one way to check text, and what must hold of every result."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from trivet.diagnostics import Diagnostic
from trivet.files import MemoryFiles
from trivet.inputs import load_library
from trivet.pipeline import Compilation, check
from trivet.report.annotations import annotation_lines
from trivet.report.json import json_report
from trivet.report.terminal import terminal
from trivet.source import SourceFile

ROOT = Path(__file__).resolve().parent.parent
EXAMPLES = sorted((ROOT / "examples").glob("*.trivet"))
SHARED: Mapping[str, bytes] = {
    f"shared/{path.name}": path.read_bytes() for path in sorted((ROOT / "examples" / "shared").glob("*.trivet"))
}


def example(name: str) -> str:
    """The text of an example."""
    return (ROOT / "examples" / f"{name}.trivet").read_text(encoding="utf-8")


def run(text: str, files: Mapping[str, bytes | str] = SHARED, settings: Mapping[str, str] | None = None) -> Compilation:
    """Check text as the file `fixture.trivet`, assert what must hold of every result, and give the result."""
    result = check(SourceFile("fixture.trivet", text), MemoryFiles(files), settings or {})
    sound(result)
    return result


def sound(result: Compilation) -> None:
    """No fault of ours, every span inside its file, each finding once, and every report can be written."""
    for item in result.findings:
        assert not item.fault_of_ours, (item.message, item.remedy)
        spans = [item.span, *(label.span for label in item.related), *(edit.span for edit in item.edits)]
        for span in spans:
            assert span is None or 0 <= span.start <= span.end <= len(span.file.text), item
        assert item.span is not None or "--set" in item.message, item
        assert item.message.strip() and "\n" not in item.message and len(item.message) < 2000, item
    assert len(set(map(_key, result.findings))) == len(result.findings)
    for text in (
        terminal(result.findings),
        json_report(result.findings, fixture="f", version="0"),
        annotation_lines(result.findings),
    ):
        text.encode("utf-8")
    if result.design is not None and result.derived is not None:
        from trivet.tables.summary import summary_lines

        summary_lines(result.design, result.derived)


def rules(result: Compilation) -> list[str]:
    """The rules of the findings that are errors, in order."""
    return [item.rule for item in result.findings if item.severity == "error"]


def library_loads() -> bool:
    """Whether the library is read at all; a guard against a test that passes since nothing ran."""
    return bool(load_library("nuts_iso"))


def _key(item: Diagnostic) -> tuple[str, object, str]:
    return item.rule, item.span, item.message
