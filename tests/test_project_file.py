"""`trivet.toml`: units, output folder, severities, libraries; every fault at its place."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from trivet.cli import main
from trivet.diagnostics import Rule
from trivet.project import Project, project_of
from trivet.source import SourceFile

ROOT = Path(__file__).resolve().parents[1]
RULES = {
    "few-teeth": Rule("few-teeth", "note", "", "", ""),
    "thin-wall": Rule("thin-wall", "warning", "", "", ""),
    "no-drive": Rule("no-drive", "error", "", "", ""),
}


def read(text: str) -> tuple[Project, list[tuple[str, str, str]]]:
    source = SourceFile("trivet.toml", text)
    project, found = project_of(source, RULES)
    assert all(item.span is not None for item in found)
    return project, [(text[item.span.start : item.span.end], item.message, item.remedy) for item in found if item.span]


def test_everything_that_it_may_say() -> None:
    text = 'units = "in"\noutput = "build/plans"\nlibrary = ["hardware", "more"]\n[severity]\nfew-teeth = "error"\nthin-wall = "error"\n'
    project, found = read(text)
    assert found == []
    assert project == Project("in", "build/plans", (("few-teeth", "error"), ("thin-wall", "error")), ("hardware", "more"))


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ('unit = "mm"', "unit", "write `units`"),
        ('units = "cm"', "units", '`units = "mm"`'),
        ("units = 3", "units", "`units` is 3"),
        ("units = true", "units", "True"),
        ('output = "../elsewhere"', "output", "inside the project"),
        ('output = "/tmp/x"', "output", "inside the project"),
        ('output = ""', "output", "inside the project"),
        ('library = "hardware"', "library", "folders inside the project"),
        ("library = [1]", "library", "folders inside the project"),
        ('severity = "high"', "severity", "is not a table"),
        ('[severity]\nfew-tooth = "error"', "few-tooth", "write `few-teeth`"),
        ('[severity]\nfew-teeth = "note"', "few-teeth", "accept"),
        ('[severity]\nno-drive = "warning"', "no-drive", "an error and would be lowered to a warning"),
        ('[severity]\n"few-teeth" = 3', '"few-teeth"', "is 3"),
        ("[sevrity]\n", "sevrity", "write `severity`"),
        ("units = \n", "\n", "see https://toml.io"),
        ('units = "mm"\nunits = "in"\n', "\n", "overwrite"),
    ],
)
def test_each_fault_has_its_place_and_what_would_work(text: str, place: str, words: str) -> None:
    _, found = read(text)
    assert len(found) == 1, found
    assert found[0][0] == place and words in found[0][1] + found[0][2], found


@pytest.fixture
def plans(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / ".git").mkdir()
    (tmp_path / "plans").mkdir()
    shutil.copy(ROOT / "examples" / "outfeed_riser.trivet", tmp_path / "plans" / "riser.trivet")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_unit_of_the_project_is_printed_where_the_fixture_states_none(plans: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """1 mm a turn is 0.0394 in: 25.4 mm to the inch, international yard and pound agreement of 1959."""
    (plans / "trivet.toml").write_text('units = "in"\n')
    assert main(["check", "plans/riser.trivet"]) == 0
    assert "lift: 0.0394 in per turn" in capsys.readouterr().out
    fixture = plans / "plans" / "riser.trivet"
    fixture.write_text(fixture.read_text().replace("  revision", "  units mm\n  revision", 1))
    assert main(["check", "plans/riser.trivet"]) == 0
    assert "lift: 1 mm per turn" in capsys.readouterr().out


def test_a_severity_is_raised_and_fails(plans: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "plans/riser.trivet"]) == 0
    (plans / "trivet.toml").write_text('[severity]\nfew-teeth = "error"\n')
    assert main(["check", "plans/riser.trivet"]) == 1
    assert "error: `hub` has 16 teeth" in capsys.readouterr().out
    assert main(["compile", "plans/riser.trivet"]) == 1
    assert not (plans / "out").exists()


def test_outputs_go_into_the_projects_folder_from_wherever_it_is_run(plans: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (plans / "trivet.toml").write_text('output = "build"\n')
    monkeypatch.chdir(plans / "plans")
    assert main(["compile", "riser.trivet"]) == 0
    assert (plans / "build" / "outfeed_riser" / "report.json").is_file()


def test_tables_of_the_project_beat_the_library(plans: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (plans / "trivet.toml").write_text('library = ["hardware"]\n')
    (plans / "hardware").mkdir()
    fixture = plans / "plans" / "riser.trivet"
    text = fixture.read_text()
    start = text.index("table my_insert")
    end = text.index("\n\n", start)
    (plans / "hardware" / "inserts.trivet").write_text(text[start:end] + "\n")
    fixture.write_text(text[:start] + text[end:])
    assert main(["check", "plans/riser.trivet"]) == 0
    (plans / "hardware" / "more.trivet").write_text("gear stray\n  teeth 20\n")
    assert main(["check", "plans/riser.trivet"]) == 1
    assert "hardware/more.trivet:1:1: error: `gear` stands in a library file" in capsys.readouterr().out
    (plans / "trivet.toml").write_text('library = ["hardwear"]\n')
    assert main(["check", "plans/riser.trivet"]) == 2


def test_it_is_not_looked_for_above_the_repository(plans: Path) -> None:
    (plans / "plans" / ".git").mkdir()
    (plans / "trivet.toml").write_text("nonsense\n")
    assert main(["check", "plans/riser.trivet"]) == 0
