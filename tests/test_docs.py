"""README and DEVELOPERS say what is so: commands are run and compared, files that they name exist, the picture is the tool's own."""

from __future__ import annotations

import contextlib
import io
import re
from pathlib import Path

import pytest

from trivet.checks._check import all_checks
from trivet.cli import main
from trivet.files import DiskFiles
from trivet.outputs import Wanted, outputs
from trivet.pipeline import check
from trivet.source import SourceFile

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def fenced(text: str, kind: str) -> list[str]:
    return re.findall(rf"^```{kind}\n(.*?)^```$", text, re.DOTALL | re.MULTILINE)


@pytest.mark.parametrize("block", fenced(README, "console"), ids=lambda block: block.splitlines()[0])
def test_commands_print_what_the_readme_shows(block: str, monkeypatch: pytest.MonkeyPatch) -> None:
    first, _, shown = block.partition("\n")
    assert first.startswith("$ trivet ")
    monkeypatch.chdir(ROOT)
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        main(first.removeprefix("$ trivet ").split())
    assert printed.getvalue() == shown


def test_the_readme_begins_with_the_job_a_picture_and_two_commands() -> None:
    commands = fenced(README, "sh")
    assert len(commands) == 2 and all(len(command.splitlines()) == 1 for command in commands)
    assert "trivet compile examples/outfeed_riser.trivet" in commands[0] and "-m pytest" in commands[1]
    picture, first = README.index("!["), README.index("```sh")
    assert README.startswith("# trivet\n\nA compiler for geared") and picture < first < README.index("\n## ")


def test_the_fixture_shown_is_an_example() -> None:
    for block in fenced(README, "trivet"):
        assert block in [path.read_text(encoding="utf-8") for path in (ROOT / "examples").glob("*.trivet")]


def test_the_picture_is_made_by_the_tool(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    files = DiskFiles()
    source = files.read("examples/outfeed_riser.trivet")
    assert isinstance(source, SourceFile)
    result = check(source, files)
    assert result.design is not None and result.derived is not None
    made = outputs(result.design, result.derived, result.findings, {}, {}, Wanted())
    assert made["cut/nw.underside.svg"] == (ROOT / "examples/pictures/nw.underside.svg").read_bytes()


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README", "DEVELOPERS"])
def test_links_and_names_of_files_lead_somewhere(text: str) -> None:
    named = re.findall(r"\]\(([^)#]+)\)", text)
    named += [word for word in re.findall(r"`([a-z_./]+/[a-z_./]*)`", text) if not word.startswith("out/")]
    assert len(named) >= 5
    for name in named:
        places = [ROOT / name, ROOT / "compiler/trivet" / name]
        assert any(place.exists() for place in places), name


def test_developers_is_short() -> None:
    assert DEVELOPERS.count("\n") < 200


def test_the_readme_names_every_command() -> None:
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed), pytest.raises(SystemExit):
        main(["--help"])
    commands = re.findall(r"^    ([a-z]+) ", printed.getvalue(), re.MULTILINE)
    assert len(commands) >= 6
    for command in commands:
        assert f"`trivet {command}" in README, command


def test_checks_that_a_plain_check_leaves_out_are_named() -> None:
    left_out = [item.rule.slug for item in all_checks() if item.full_only]
    assert left_out == ["board-sags", "faulty-contour", "outlines-overlap", "too-few-sheets", "train-binds"]
