"""Which tests reach which line, and how long each takes: measured once by coverage with a context for each test."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

from tests.mutation.mutants import ROOT

# Tests that start other processes, build, or look at the whole house prove nothing about one line and take long.
LEFT_OUT = (
    "tests/test_wheel.py",
    "tests/test_browser.py",
    "tests/test_hard_processes.py",
    "tests/test_architecture.py",
    "tests/test_shell.py",
)


def measure(folder: Path) -> None:
    """Run the tests once and keep `coverage` and `times.json` in `folder`."""
    folder.mkdir(parents=True, exist_ok=True)
    report = folder / "times.xml"
    command = [
        sys.executable,
        "-m",
        "pytest",
        "-q",
        "--no-header",
        "-p",
        "no:cacheprovider",
        f"--junitxml={report}",
        "-o",
        "junit_family=xunit1",
    ]
    command += ["--cov=compiler/trivet/solve", "--cov=compiler/trivet/checks", "--cov-context=test", "--cov-report="]
    command += [f"--ignore={path}" for path in LEFT_OUT]
    environment = {**os.environ, "COVERAGE_FILE": str(folder / "coverage"), "COVERAGE_CORE": "ctrace"}
    subprocess.run([*command, "tests"], cwd=ROOT, env=environment, check=False)
    (folder / "times.json").write_text(json.dumps(_times(report)), "utf-8")


def _times(report: Path) -> dict[str, float]:
    """Seconds by file and test name without parameters: the slowest of a family."""
    from xml.etree import ElementTree

    found: dict[str, float] = {}
    for case in ElementTree.parse(report).iter("testcase"):
        name = f"{case.get('file')}::{str(case.get('name'))}"
        found[name] = float(case.get("time") or 0.0)
    return found


class Reach:
    """What `measure` kept."""

    def __init__(self, folder: Path) -> None:
        from coverage import CoverageData

        self._data = CoverageData(str(folder / "coverage"))
        self._data.read()
        self._files = {Path(name).resolve(): name for name in self._data.measured_files()}
        self._times: dict[str, float] = json.loads((folder / "times.json").read_text("utf-8"))
        self._lines: dict[str, dict[int, list[str]]] = {}

    def tests(self, path: str, line: int, most_s: float) -> list[str]:
        """The tests that reach a line, the fastest first, as many as take `most_s` seconds together; at least one where one does."""
        known = self._files.get((ROOT / path).resolve())
        if known is None:
            return []
        if known not in self._lines:
            self._lines[known] = self._data.contexts_by_lineno(known)
        names = {context.partition("|")[0] for context in self._lines[known].get(line, ()) if "::" in context}
        chosen: list[str] = []
        total = 0.0
        for name in sorted(names, key=lambda item: (self._times.get(item, 1.0), item)):
            total += self._times.get(name, 1.0)
            if chosen and total > most_s:
                break
            chosen.append(name)
        return chosen
