"""Which tests reach which line, and how long each takes: measured by coverage with a context for each test."""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
from collections import Counter
from functools import cache
from pathlib import Path

from tests.mutation.mutants import FOLDERS, ROOT

# Tests that start other processes, build, or look at the whole house prove nothing about one line and take long.
LEFT_OUT = (
    "tests/test_wheel.py",
    "tests/test_browser.py",
    "tests/test_hard_processes.py",
    "tests/test_architecture.py",
    "tests/test_mutation_sample.py",
    "tests/test_shell.py",
    "tests/test_page_browser.py",
    "tests/test_page_motion.py",
    "tests/test_docs.py",
    "tests/test_publish.py",
    "tests/lsp/test_stdio.py",
)

# Holds every named figure, and reaches their lines by importing alone.
FIGURES = "tests/test_figures.py::test_no_figure_changes_unseen"


def measure(folder: Path, tests: list[str], jobs: int) -> None:
    """Run the tests once, in `jobs` processes, and add what they reach to `folder`: `coverage-N` and `times-N.json`."""
    folder.mkdir(parents=True, exist_ok=True)
    number = len(list(folder.glob("times-*.json")))
    files = [path for path in (tests or _files()) if path not in LEFT_OUT]
    shares = [share for share in (files[start::jobs] for start in range(jobs)) if share]
    running = [_measuring(folder, number + extra, share) for extra, share in enumerate(shares)]
    for extra, process in enumerate(running):
        process.wait()
        report = folder / f"times-{number + extra}.xml"
        (folder / f"times-{number + extra}.json").write_text(json.dumps(passed(report)), "utf-8")


def _files() -> list[str]:
    return sorted(path.relative_to(ROOT).as_posix() for path in (ROOT / "tests").rglob("test_*.py"))


def _measuring(folder: Path, number: int, tests: list[str]) -> subprocess.Popen[bytes]:
    command = [sys.executable, "-m", "pytest", "-q", "--no-header", "-p", "no:cacheprovider"]
    command += [f"--junitxml={folder / f'times-{number}.xml'}", "-o", "junit_family=xunit1", "--cov-context=test", "--cov-report="]
    command += [f"--cov={place}" for place in FOLDERS]
    environment = {**os.environ, "COVERAGE_FILE": str(folder / f"coverage-{number}"), "COVERAGE_CORE": "ctrace"}
    return subprocess.Popen([*command, *tests], cwd=ROOT, env=environment)


def passed(report: Path) -> dict[str, float]:
    """Seconds of each test that passed."""
    from xml.etree import ElementTree

    found: dict[str, float] = {}
    for case in ElementTree.parse(report).iter("testcase"):
        if case.find("failure") is None and case.find("error") is None and case.find("skipped") is None:
            found[f"{case.get('file')}::{case.get('name')}"] = float(case.get("time") or 0.0)
    return found


class Reach:
    """What `measure` kept."""

    def __init__(self, folder: Path) -> None:
        from coverage import CoverageData

        self._times: dict[str, float] = {}
        self._lines: dict[str, dict[int, set[str]]] = {}
        for times in sorted(folder.glob("times-*.json")):
            self._times |= json.loads(times.read_text("utf-8"))
            data = CoverageData(str(times.with_name(times.stem.replace("times", "coverage"))))
            data.read()
            for name in data.measured_files():
                lines = self._lines.setdefault(Path(name).resolve().relative_to(ROOT).as_posix(), {})
                for line, contexts in data.contexts_by_lineno(name).items():
                    lines.setdefault(line, set()).update(sys.intern(item.rpartition("|")[0]) for item in contexts if "::" in item)

        self._lines_of = Counter(name for lines in self._lines.values() for tests in lines.values() for name in tests)

    @property
    def files(self) -> list[str]:
        """The files of all tests measured."""
        return sorted({name.partition("::")[0] for name in self._times})

    def seconds(self, tests: list[str]) -> float:
        """How long these take together, as measured."""
        return sum(self._times[name] for name in tests)

    def tests(self, path: str, line: int, most_s: float, killers: Counter[str], everywhere: Counter[str]) -> list[str]:
        """The tests that reach a line, as many as take `most_s` seconds together, at least one where one does.

        First those that killed most of the file's other mutants for their time, then those with the file's name in theirs, then those that
        killed most of any file's, of which the second calculations are given one each beforehand, then those that reach little else.
        A line that runs at import counts as reached by the tests that reach a line with one of its names.
        """
        names = self._lines.get(path, {}).get(line, set()) & self._times.keys()
        if not _in_function(path, line):
            names = (names | self._by_name(path, line) | {FIGURES}) & self._times.keys()
        here = Counter(name for tests in self._lines.get(path, {}).values() for name in tests)
        stem = Path(path).stem.strip("_")

        def order(name: str) -> tuple[float, bool, float, float, float, str]:
            about = stem in name or stem.replace("_", "-") in name
            cost = 0.05 + self._times[name]
            strong = everywhere[name] + name.startswith("tests/oracles/")
            share = here[name] / max(self._lines_of[name], 1)
            return -killers[name] / cost, not about, -strong / cost, -share, self._times[name], name

        chosen: list[str] = []
        total = 0.0
        for name in sorted(names, key=order):
            if not chosen or total + self._times[name] <= most_s:
                chosen.append(name)
                total += self._times[name]
        return chosen

    def _by_name(self, path: str, line: int) -> set[str]:
        for name in _names_at_import(path, line):
            word = re.compile(rf"\b{re.escape(name)}\b")
            found: set[str] = set()
            for other, lines in self._lines.items():
                for number, text in enumerate(_text(other), 1):
                    if word.search(text):
                        found |= lines.get(number, set())
            if found:
                return found
        return set()


@cache
def _text(path: str) -> tuple[str, ...]:
    return tuple((ROOT / path).read_text("utf-8").splitlines())


def _in_function(path: str, line: int) -> bool:
    tree = ast.walk(ast.parse("\n".join(_text(path))))
    return any(isinstance(node, ast.FunctionDef) and node.body[0].lineno <= line <= (node.end_lineno or 0) for node in tree)


def _names_at_import(path: str, line: int) -> tuple[str, ...]:
    """What a statement outside functions gives a name to, and the classes and functions around it, innermost first."""
    found: list[str] = []
    nodes: list[ast.stmt] = ast.parse("\n".join(_text(path))).body
    while nodes:
        around = [node for node in nodes if node.lineno <= line <= (node.end_lineno or node.lineno)]
        nodes = []
        for node in around:
            if isinstance(node, ast.ClassDef | ast.FunctionDef):
                found.insert(0, node.name)
                nodes = node.body
            elif isinstance(node, ast.Assign | ast.AnnAssign):
                targets = node.targets if isinstance(node, ast.Assign) else [node.target]
                found[:0] = [item.id for target in targets for item in ast.walk(target) if isinstance(item, ast.Name)]
    return tuple(found)
