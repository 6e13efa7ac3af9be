"""Watching, completion, the manual page, hooks and build services: each with the real program where there is one."""

from __future__ import annotations

import os
import re
import select
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
import yaml

from trivet.cli import main, whole_parser

ROOT = Path(__file__).resolve().parents[1]
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT / "compiler"), "GIT_CONFIG_GLOBAL": os.devnull}


def _interruptible() -> None:
    """A shell that runs us in the background has its children ignore Ctrl-C."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


class Watched:
    """A watching process, its output read until a phrase comes."""

    def __init__(self, folder: Path, *arguments: str) -> None:
        command = (sys.executable, "-u", "-m", "trivet", *arguments, "--watch")
        self.process = subprocess.Popen(
            command, cwd=folder, env=ENVIRONMENT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, preexec_fn=_interruptible
        )
        self.text = ""

    def until(self, phrase: str, seconds: float = 60.0) -> str:
        assert self.process.stdout is not None
        end = time.monotonic() + seconds
        while phrase not in self.text and time.monotonic() < end:
            if select.select([self.process.stdout], [], [], 0.2)[0]:
                self.text += os.read(self.process.stdout.fileno(), 65536).decode("utf-8")
        assert phrase in self.text, self.text
        before, _, self.text = self.text.partition(phrase)
        return before

    def stop(self) -> int:
        self.process.send_signal(signal.SIGINT)
        code = self.process.wait(30)
        assert self.process.stdout is not None
        self.process.stdout.close()
        return code


def saved(path: Path, old: str, new: str) -> None:
    """As editors save: another file, renamed into place."""
    beside = path.with_suffix(".tmp")
    beside.write_text(path.read_text("utf-8").replace(old, new), "utf-8")
    beside.replace(path)


def test_check_is_run_again_when_the_file_or_one_that_it_reads_is_saved(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "examples" / "shared", tmp_path / "shared")
    fixture = tmp_path / "riser.trivet"
    shutil.copy(ROOT / "examples" / "small_riser.trivet", fixture)
    watched = Watched(tmp_path, "check", "riser.trivet")
    try:
        assert "travel: " in watched.until("watching; Ctrl-C ends it")
        time.sleep(1.0)
        saved(fixture, "teeth 24", "teeth 24.5")
        assert "error: " in watched.until("watching; Ctrl-C ends it")
        time.sleep(1.0)
        saved(fixture, "teeth 24.5", "teeth 24")
        assert "error: " not in watched.until("watching; Ctrl-C ends it")
        time.sleep(1.0)
        saved(tmp_path / "shared" / "shop.trivet", "thread M8", "thread M9000")
        assert "shop.trivet" in watched.until("watching; Ctrl-C ends it")
    finally:
        code = watched.stop()
    assert code == 0


def test_outputs_stay_while_the_file_is_broken(tmp_path: Path) -> None:
    fixture = tmp_path / "riser.trivet"
    shutil.copy(ROOT / "examples" / "outfeed_riser.trivet", fixture)
    watched = Watched(tmp_path, "compile", "riser.trivet")
    try:
        watched.until("watching; Ctrl-C ends it")
        before = (tmp_path / "out" / "outfeed_riser" / "manifest.json").read_bytes()
        time.sleep(1.0)
        saved(fixture, "teeth 16", "teeth sixteen")
        assert "error: " in watched.until("watching; Ctrl-C ends it")
        assert (tmp_path / "out" / "outfeed_riser" / "manifest.json").read_bytes() == before
    finally:
        code = watched.stop()
    assert code == 0


def test_the_shell_completes_commands_and_options(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", "bash"]) == 0
    script = capsys.readouterr().out
    asked = f'{script}\nCOMP_WORDS=(trivet che); COMP_CWORD=1; _shtab_trivet 2>/dev/null; echo "${{COMPREPLY[@]}}"\n'
    done = subprocess.run(("bash", "-c", asked), capture_output=True, encoding="utf-8", check=True)
    assert done.stdout.split() == ["check"]
    assert main(["completion", "zsh"]) == 0 and "#compdef trivet" in capsys.readouterr().out


def test_the_manual_page_names_every_command_and_option(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["manual"]) == 0
    page = capsys.readouterr().out
    assert page.startswith(".TH TRIVET")
    plain = page.replace("\\-", "-").replace("\\", "")
    (commands,) = (action for action in whole_parser()._actions if action.dest == "command")
    for name, parser in dict(commands.choices or {}).items():
        assert f"trivet {name}" in plain
        for action in parser._actions:
            assert all(option in plain for option in action.option_strings), action


def test_help_fits_eighty_columns(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    parser = whole_parser()
    (commands,) = (action for action in parser._actions if action.dest == "command")
    for each in (parser, *dict(commands.choices or {}).values()):
        assert max(map(len, each.format_help().splitlines())) <= 80


def test_rules_are_found_by_a_word(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "--search", "Few Teeth"]) == 0
    assert capsys.readouterr().out.startswith("few-teeth ")
    assert main(["explain", "--search", "zebra"]) == 2


def test_the_formatter_shows_what_would_change(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "a.trivet"
    file.write_text("fixture  a\n")
    assert main(["format", "--check", str(file)]) == 1
    assert capsys.readouterr().out.endswith("@@ -1 +1 @@\n-fixture  a\n+fixture a\n")
    assert file.read_text() == "fixture  a\n"


def test_the_hooks_run_under_the_real_program(tmp_path: Path) -> None:
    """The entries of the hooks file, run by pre-commit itself on a repository with staged changes."""
    hooks = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))
    local = []
    for hook in hooks:
        entry = hook["entry"].replace("trivet", f"{sys.executable} -m trivet", 1)
        local.append({**hook, "entry": entry, "language": "system"})
    (tmp_path / ".pre-commit-config.yaml").write_text(yaml.safe_dump({"repos": [{"repo": "local", "hooks": local}]}))
    environment = {**ENVIRONMENT, "PRE_COMMIT_HOME": str(tmp_path / "home")}

    def run(*words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(words, cwd=tmp_path, env=environment, capture_output=True, encoding="utf-8", timeout=120, check=False)

    who = ("-c", "user.name=nobody", "-c", "user.email=nobody@example.org")
    run("git", "init", "-q")
    run("git", *who, "commit", "-qm", "empty", "--allow-empty")
    fixture = tmp_path / "riser.trivet"
    shutil.copy(ROOT / "examples" / "outfeed_riser.trivet", fixture)
    run("git", "add", "riser.trivet")
    done = run(sys.executable, "-m", "pre_commit", "run")
    assert done.returncode == 0, done.stdout + done.stderr
    assert len(re.findall(r"Passed", done.stdout)) == 2
    fixture.write_text(fixture.read_text("utf-8").replace("teeth 16", "teeth  2", 1), "utf-8")
    run("git", "add", "riser.trivet")
    done = run(sys.executable, "-m", "pre_commit", "run")
    assert done.returncode != 0 and len(re.findall(r"Failed", done.stdout)) == 2, done.stdout


def test_the_workflow_runs_commands_that_exist() -> None:
    """Its form is YAML, and every line that calls trivet is one that the command line takes."""
    workflow = yaml.safe_load((ROOT / "examples" / "ci" / "workflow.yml").read_text("utf-8"))
    lines = [step["run"] for step in workflow["jobs"]["check"]["steps"] if step.get("run", "").startswith("trivet ")]
    assert len(lines) == 3
    for line in lines:
        assert whole_parser().parse_args(line.split()[1:]).command in line
