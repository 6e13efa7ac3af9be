"""Folders, several files, baselines, only what changed: the same output however many processes run."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest

from trivet.cli import main

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture
def plans(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(ROOT / "examples" / "failing", tmp_path / "failing")
    shutil.copytree(ROOT / "examples" / "shared", tmp_path / "shared")
    for name in ("outfeed_riser", "dog_table"):
        shutil.copy(ROOT / "examples" / f"{name}.trivet", tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str]:
    code = main(["check", *arguments])
    return code, capsys.readouterr().out


def test_a_folder_is_walked_and_the_order_is_that_of_names(plans: Path, capsys: pytest.CaptureFixture[str]) -> None:
    alone = said(capsys, ".", "--jobs", "1")
    assert alone == said(capsys, ".", "--jobs", "3")
    fixtures = len([path for path in plans.rglob("*.trivet") if path.name not in ("common.trivet", "shop.trivet")])
    assert alone[0] == 1 and f"{fixtures} fixtures checked, {fixtures - 2} with errors" in alone[1]
    firsts = [line.split(":")[0] for line in alone[1].splitlines() if ": error: " in line]
    assert firsts == sorted(firsts)


def test_machine_forms(plans: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, text = said(capsys, ".", "--report", "json")
    data = json.loads(text)
    assert code == 1 and [item["path"] for item in data["fixtures"]] == sorted(item["path"] for item in data["fixtures"])
    assert {item["status"] for item in data["fixtures"]} == {"findings"}
    lines = [json.loads(line) for line in said(capsys, ".", "--report", "jsonl")[1].splitlines()]
    assert len(lines) == sum(len(item["findings"]) for item in data["fixtures"])
    log = json.loads(said(capsys, ".", "--report", "sarif")[1])
    assert len(log["runs"]) == 1 and len(log["runs"][0]["results"]) == len(lines)


def test_outputs_and_hidden_folders_are_passed_over(plans: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shutil.rmtree(plans / "failing")
    assert main(["compile", "dog_table.trivet"]) == 0
    shutil.copy("dog_table.trivet", "out/dog_table/copy.trivet")
    (plans / ".hidden").mkdir()
    shutil.copy("dog_table.trivet", ".hidden")
    capsys.readouterr()
    assert "2 fixtures checked, 0 with errors" in said(capsys, ".")[1]
    assert "2 fixtures checked" in said(capsys, "dog_table.trivet", "outfeed_riser.trivet", "dog_table.trivet")[1]


def test_a_folder_without_fixtures_is_wrong_use(plans: Path) -> None:
    (plans / "empty").mkdir()
    assert main(["check", "empty"]) == 2
    assert main(["check", ".", "-"]) == 2


def test_a_file_that_cannot_be_read_is_found_among_the_others(plans: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (plans / "broken.trivet").write_bytes(b"fixture \xff\xfe")
    code, text = said(capsys, ".")
    assert code == 2 and "`broken.trivet` cannot be read: it is not UTF-8" in text


def test_a_baseline_hides_what_is_known_and_nothing_else(plans: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert said(capsys, ".", "--write-baseline", "known.json")[0] == 1
    code, text = said(capsys, ".", "--baseline", "known.json")
    assert code == 0 and "known findings are not shown" in text and ": error: " not in text
    plan = plans / "dog_table.trivet"
    plan.write_text(plan.read_text("utf-8") + "\nrequire travel >= 99 mm\n", "utf-8")
    code, text = said(capsys, ".", "--baseline", "known.json")
    assert code == 1 and text.count(": error: ") == 1 and "99 mm is required" in text
    (plans / "failing" / "comma_for_a_point.trivet").unlink()
    assert "found no more: write the baseline anew" in said(capsys, ".", "--baseline", "known.json")[1]


def test_a_baseline_lies_anywhere(plans: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    (plans / "ci").mkdir()
    said(capsys, ".", "--write-baseline", "ci/known.json")
    monkeypatch.chdir(plans / "ci")
    assert said(capsys, "..", "--baseline", "known.json")[0] == 0


@pytest.mark.parametrize(
    "text", ["", "[]", "{}", '{"known": [{}]}', '{"known": [{"file": 1, "rule": "x", "parts": [], "count": 1}]}']
)
def test_what_is_no_baseline_says_so(plans: Path, capsys: pytest.CaptureFixture[str], text: str) -> None:
    (plans / "known.json").write_text(text)
    assert main(["check", ".", "--baseline", "known.json"]) == 2
    assert "is no baseline" in capsys.readouterr().err


def git(folder: Path, *words: str) -> None:
    environment = {**os.environ, "GIT_CONFIG_GLOBAL": os.devnull}
    for role in ("AUTHOR", "COMMITTER"):
        environment |= {f"GIT_{role}_NAME": "nobody", f"GIT_{role}_EMAIL": "nobody@example.org"}
    subprocess.run(("git", *words), cwd=folder, env=environment, check=True, capture_output=True)


def test_only_what_changed(plans: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for words in (("init", "-q"), ("add", "."), ("commit", "-qm", "first")):
        git(plans, *words)
    total = len([path for path in plans.rglob("*.trivet") if path.name not in ("common.trivet", "shop.trivet")])
    assert "0 fixtures checked" in said(capsys, ".", "--changed-since", "HEAD")[1]
    shared = plans / "failing" / "common.trivet"
    readers = sum("common.trivet" in path.read_text("utf-8") for path in (plans / "failing").glob("*.trivet"))
    shared.write_text(shared.read_text("utf-8") + "\n# a remark\n", "utf-8")
    assert f"{readers} fixtures checked" in said(capsys, ".", "--changed-since", "HEAD")[1]
    git(plans, "checkout", "-q", ".")
    shutil.copy("dog_table.trivet", "new.trivet")
    assert "1 fixture checked, 0 with errors" in said(capsys, ".", "--changed-since", "HEAD")[1]
    assert main(["check", ".", "--changed-since", "nothing"]) == 2
    assert main(["check", ".", "--changed-since=--exec"]) == 2
    assert "what changed cannot be told" in capsys.readouterr().err
    (plans / "trivet.toml").write_text('units = "mm"\n')
    assert f"{total + 1} fixtures checked" in said(capsys, ".", "--changed-since", "HEAD")[1]


def test_outside_a_repository_it_says_so(plans: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", ".", "--changed-since", "HEAD"]) == 2
    assert "not a git repository" in capsys.readouterr().err
