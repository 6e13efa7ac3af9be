"""A process that has collected all tests once: a mutant of a function's body costs a fork and the tests, no import and no collecting."""

from __future__ import annotations

import gc
import json
import os
import resource
import subprocess
import sys
import types
from pathlib import Path

import pytest
from tests.mutation.in_place import changed_constants, changed_functions, exchange, forget, replace_constants
from tests.mutation.mutants import ROOT
from tests.mutation.warm import LONGEST_S, MOST_BYTES, said

# Caches below what is changed stay warm; these and the tests' own hold what a mutant may alter.
FORGOTTEN = ("tests.", "trivet.solve", "trivet.rules", "trivet.drawing", "trivet.tables", "trivet.pipeline", "trivet.lsp")


class Collected:
    """One such process; `files` are the files of tests that it can run."""

    def __init__(self, files: list[str], own_folder: Path) -> None:
        ask, self._asked = os.pipe()
        self._answers, answer = os.pipe()
        environment = {
            **os.environ,
            "PYTHONDONTWRITEBYTECODE": "1",
            "OPENBLAS_NUM_THREADS": "1",
            "HYPOTHESIS_STORAGE_DIRECTORY": str(own_folder / "hypothesis-collected"),
        }
        command = [sys.executable, "-m", "tests.mutation.collected", str(ask), str(answer), *files]
        self._process = subprocess.Popen(command, cwd=ROOT, env=environment, pass_fds=(ask, answer), stdout=subprocess.DEVNULL)
        os.close(ask)
        os.close(answer)
        self._reader = os.fdopen(self._answers, encoding="utf-8")
        self._writer = os.fdopen(self._asked, "w", encoding="utf-8")

    def run(self, path: str, changed: str | None, tests: list[str], seconds: float) -> str:
        """As `Home.run`; None for `changed` runs the tests as they are; `at import` where the change is of what runs at import."""
        self._writer.write(json.dumps([path, changed, tests, seconds]) + "\n")
        self._writer.flush()
        return self._reader.readline().strip()

    def close(self) -> None:
        """End the process."""
        self._writer.close()
        self._process.wait()


class _Server:
    """Called by pytest instead of its own loop over the tests."""

    def __init__(self, asked: int, answers: int) -> None:
        self._asked, self._answers = asked, answers
        self._tell: int | None = None

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """A child for each line that is asked."""
        items = {item.nodeid: item for item in session.items}
        _warm()
        forget(FORGOTTEN)
        gc.collect()
        gc.freeze()
        with os.fdopen(self._asked, encoding="utf-8") as lines, os.fdopen(self._answers, "w", encoding="utf-8") as answers:
            for line in lines:
                answers.write(self._answer(items, *json.loads(line)) + "\n")
                answers.flush()
        return True

    def _answer(self, items: dict[str, pytest.Item], path: str, changed: str | None, tests: list[str], seconds: float) -> str:
        module = path.removeprefix("compiler/").removesuffix(".py").replace("/", ".")
        functions = None
        if changed is not None:
            functions = changed_functions((ROOT / path).read_text("utf-8"), changed, str(ROOT / path))
            if module not in sys.modules:
                return "at import"
        known = [items[name] for name in tests if name in items]
        if not known:
            return "no tests"
        told, tell = os.pipe()
        child = os.fork()
        if child == 0:
            self._tell = tell
            _child(known, tell, module, changed, functions, seconds)
        os.close(tell)
        with os.fdopen(told, encoding="utf-8") as names:
            name = names.readline().strip()
        _, status = os.waitpid(child, 0)
        return "at import" if name == "at import" else said(status, name)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """The first failure ends the child."""
        if self._tell is not None and report.failed:
            os.write(self._tell, f"{report.nodeid}\n".encode())
            os._exit(1)


def _warm() -> None:
    """Read the tables and the parts of the compiler that are loaded late, once for all children."""
    from trivet.files import DiskFiles
    from trivet.pipeline import check
    from trivet.source import SourceFile

    for path in sorted((ROOT / "examples").glob("*.trivet")):
        check(SourceFile(str(path), path.read_text("utf-8")), DiskFiles(), full=True)


def _child(
    items: list[pytest.Item],
    tell: int,
    module: str,
    changed: str | None,
    functions: list[tuple[str, types.CodeType]] | None,
    seconds: float,
) -> None:
    code = 1
    try:
        longest = int(min(LONGEST_S, 3 * seconds)) + 10
        resource.setrlimit(resource.RLIMIT_CPU, (longest, longest))
        resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
        # One that only may have taken effect, and kills nothing, is to be tried in a copy.
        sure = changed is None or functions is not None
        if not _put_in(module, changed, functions):
            sure, items = False, []
        for item, following in zip(items, [*items[1:], None], strict=True) if items else ():
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        if not sure:
            os.write(tell, b"at import\n")
        code = 0
    finally:
        os._exit(code)


def _put_in(module: str, changed: str | None, functions: list[tuple[str, types.CodeType]] | None) -> bool:
    if changed is None:
        return True
    if functions is not None:
        return exchange(module, functions)
    values = changed_constants(module, changed, str(sys.modules[module].__file__))
    replace_constants(module, values)
    return bool(values)


def serve(asked: int, answers: int, files: list[str]) -> None:
    """Collect, then answer."""
    options = ["-q", "--no-header", "-p", "no:cacheprovider", "-p", "no:xdist", "--assert=plain", "--capture=no"]
    pytest.main([*options, *files], [_Server(asked, answers)])


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT / "compiler"))
    serve(int(sys.argv[1]), int(sys.argv[2]), sys.argv[3:])
