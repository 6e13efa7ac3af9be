"""The examples and the start files: each checks clean, is formatted, and compiles twice to the same bytes."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from trivet.cli import main
from trivet.diagnostics import Diagnostic
from trivet.files import DiskFiles
from trivet.fmt.format import format_text
from trivet.pipeline import Compilation, check
from trivet.source import SourceFile

ROOT = Path(__file__).parent.parent
FIXTURES = sorted(path.name for path in (ROOT / "examples").glob("*.trivet"))
STARTS = ("start_inch.trivet", "start_metric.trivet")
SCHEMA = ROOT / "grammar" / "report.schema.json"


def _path(name: str) -> Path:
    return ROOT / ("grammar" if name in STARTS else "examples") / name


def _check(name: str) -> Compilation:
    source = DiskFiles().read(str(_path(name)))
    assert isinstance(source, SourceFile), source
    return check(source, DiskFiles())


def _said(found: tuple[Diagnostic, ...]) -> list[str]:
    return [f"{item.message} [{item.rule}]" for item in found]


def test_there_are_examples() -> None:
    assert set(FIXTURES) >= {
        "outfeed_riser.trivet",
        "inch_table.trivet",
        "tripod.trivet",
        "fine_lift.trivet",
        "small_riser.trivet",
        "dog_table.trivet",
    }


@pytest.mark.parametrize("name", [*FIXTURES, *STARTS])
def test_example_is_clean(name: str) -> None:
    """No error and no warning, unless it is accepted; and something is required of each."""
    result = _check(name)
    assert _said(tuple(item for item in result.findings if item.severity != "note" and not item.accepted)) == []
    assert result.design is not None and result.design.requires


@pytest.mark.parametrize("name", STARTS)
def test_start_file_raises_no_question(name: str) -> None:
    """A beginner's first file has no finding left open, not even a note."""
    assert _said(tuple(item for item in _check(name).findings if not item.accepted)) == []


@pytest.mark.parametrize("name", [*FIXTURES, *STARTS, "shared/shop.trivet"])
def test_example_is_formatted(name: str) -> None:
    text = _path(name).read_text("utf-8")
    assert format_text(SourceFile(name, text)) == text


def test_the_small_example_is_small() -> None:
    assert len(_path("small_riser.trivet").read_text("utf-8").splitlines()) < 30


def _bytes(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("name", [*FIXTURES, *STARTS])
def test_example_compiles_to_the_same_bytes(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Two runs into two folders; every file is equal, and the report is of the stated form."""
    first, second = tmp_path / "first", tmp_path / "second"
    for folder in (first, second):
        assert main(["compile", str(_path(name)), "--out", str(folder)]) == 0, capsys.readouterr().out
    files = _bytes(first)
    assert files == _bytes(second)
    assert any(path.endswith(".svg") for path in files) and any(path.endswith(".dxf") for path in files)
    report = json.loads(files["report.json"])
    assert report["fixture"]["name"] == next(
        line.split()[1] for line in _path(name).read_text("utf-8").splitlines() if line.startswith("fixture ")
    )
    jsonschema.validate(report, json.loads(SCHEMA.read_text("utf-8")))
