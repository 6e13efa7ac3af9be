"""Each file in examples/failing/ is wrong in one way; what trivet says of it stands in its last lines, as `# expect: …`.

The lines are those of the report without the file's own name. All lines of the one error stand there, remedies apart, so that a
named cause of a requirement that is not met is held to as well.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from trivet.files import MemoryFiles
from trivet.fmt.format import format_text
from trivet.pipeline import check
from trivet.report.terminal import terminal
from trivet.source import SourceFile

FOLDER = Path(__file__).parent.parent / "examples" / "failing"
COMMON = "common.trivet"
FAILING = sorted(path.name for path in FOLDER.glob("*.trivet") if path.name != COMMON)
MARK = "# expect: "


def _texts() -> dict[str, str]:
    return {path.name: path.read_text("utf-8") for path in FOLDER.glob("*.trivet")}


@pytest.mark.parametrize("name", FAILING)
def test_failing_example(name: str) -> None:
    """One error, no warning, and word for word what the file announces; other notes may stand beside it."""
    texts = _texts()
    found = check(SourceFile(name, texts[name]), MemoryFiles(texts)).findings
    errors = tuple(item for item in found if item.severity == "error")
    assert [item.message for item in found if item.severity == "warning"] == []
    assert len(errors) == 1, [item.message for item in errors]
    shown = terminal(errors, colour=False, width=10_000).splitlines()
    said = [line.removeprefix(f"{name}:") for line in shown if f"{line.split(':')[0]}" in texts]
    lines = texts[name].splitlines()
    announced = [line.removeprefix(MARK) for line in lines if line.startswith(MARK)]
    assert announced and lines[-len(announced) :] == [MARK + line for line in announced]
    assert said == announced


@pytest.mark.parametrize("name", [*FAILING, COMMON])
def test_failing_example_is_formatted(name: str) -> None:
    text = _texts()[name]
    assert format_text(SourceFile(name, text)) == text


def test_ways_to_fail() -> None:
    """At least twelve, each with its own rule or cause."""
    assert len(FAILING) >= 12
    first = {next(line for line in text.splitlines() if line.startswith(MARK)) for name, text in _texts().items() if name != COMMON}
    assert len(first) == len(FAILING)
