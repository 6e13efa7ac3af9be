"""A copy of the tree and a process in it that has the slow packages loaded: a mutant costs a fork, not a start of Python and pytest."""

from __future__ import annotations

import compileall
import json
import os
import resource
import shutil
import signal
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from tests.mutation.mutants import ROOT

if TYPE_CHECKING:
    import pytest

COPIED = ("compiler", "grammar", "library", "examples", "tests", "pyproject.toml", "README.md", "DEVELOPERS.md", "setup.py")
# Seconds of a processor, not of the clock: how busy the machine is must not kill a mutant.
LONGEST_S = 60
# Of memory, for one that grows a list for ever.
MOST_BYTES = 4 * 1024**3


class Home:
    """One copy, in which one mutant at a time is tried."""

    def __init__(self, folder: Path) -> None:
        folder.mkdir(parents=True)
        for name in COPIED:
            source = ROOT / name
            if source.is_dir():
                shutil.copytree(source, folder / name, ignore=shutil.ignore_patterns(".mypy_cache", ".hypothesis"))
            elif source.exists():
                shutil.copy2(source, folder / name)
        for name in ("compiler", "tests"):
            compileall.compile_dir(folder / name, quiet=1)
        self._folder = folder
        environment = {
            **os.environ,
            "PYTHONDONTWRITEBYTECODE": "1",
            "OPENBLAS_NUM_THREADS": "1",
            "HYPOTHESIS_STORAGE_DIRECTORY": str(folder / "hypothesis"),
        }
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.mutation.warm"],
            cwd=folder,
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )

    def run(self, path: str, text: str, tests: list[str]) -> str:
        """With `text` in the place of a file's own: `passed`, `failed` and the test, `too long`, or `no tests` where pytest could run none."""
        assert self._process.stdin is not None and self._process.stdout is not None
        place = self._folder / path
        own, times = place.read_bytes(), place.stat()
        place.write_text(text, "utf-8")
        try:
            self._process.stdin.write(json.dumps(tests) + "\n")
            self._process.stdin.flush()
            return self._process.stdout.readline().strip()
        finally:
            place.write_bytes(own)
            # Python takes the compiled form of a file again only where its time is the old one.
            os.utime(place, ns=(times.st_atime_ns, times.st_mtime_ns))

    def close(self) -> None:
        """End the process."""
        self._process.communicate()


def serve() -> None:
    """Lists of tests on standard input, one a line in JSON; an answer a line on standard output."""
    import hypothesis
    import numpy
    import pytest
    import shapely

    import trivet.lower.vocabulary  # noqa: F401 — below what is changed, and slow

    assert hypothesis and numpy and pytest and shapely
    for line in sys.stdin:
        told, tell = os.pipe()
        child = os.fork()
        if child == 0:
            _run(json.loads(line), tell)
        os.close(tell)
        with os.fdopen(told, encoding="utf-8") as names:
            name = names.readline().strip()
        _, status = os.waitpid(child, 0)
        print(said(status, name), flush=True)


class _Teller:
    """Writes the name of the test that failed."""

    def __init__(self, tell: int) -> None:
        self._tell = tell

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Called by pytest."""
        if report.failed:
            os.write(self._tell, f"{report.nodeid}\n".encode())


def _run(tests: list[str], tell: int) -> None:
    import pytest

    resource.setrlimit(resource.RLIMIT_CPU, (LONGEST_S, LONGEST_S))
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nothing, stream)
    code = 1
    try:
        code = int(pytest.main(["-x", "-q", "--no-header", "-p", "no:cacheprovider", "--assert=plain", *tests], [_Teller(tell)]))
    finally:
        os._exit(code)


def said(status: int, name: str) -> str:
    """How a child ended, in a word, and by which test."""
    if os.WIFSIGNALED(status):
        return "too long" if os.WTERMSIG(status) in (signal.SIGXCPU, signal.SIGKILL) else "failed"
    code = os.WEXITSTATUS(status)
    # 2: collecting failed, as where a mutant breaks an import; 4 and 5: the tests are not there.
    return "passed" if code == 0 else "no tests" if code in (4, 5) else f"failed {name}".strip()


if __name__ == "__main__":
    sys.path.insert(0, str(Path("compiler").resolve()))
    serve()
