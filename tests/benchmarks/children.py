"""Whole processes and what they used, from the system's own account of each."""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Usage:
    """One process: processor time of user and system, wall time, largest resident size; what it printed."""

    cpu_s: float
    wall_s: float
    peak_mb: float
    printed: str


@dataclass(frozen=True)
class Program:
    """The interpreter and where it finds the package; `folder` is searched first and empty for an installed package."""

    folder: str
    words: str

    def run(self, *arguments: str) -> Usage:
        """One process of the interpreter with these arguments. Raises RuntimeError with its output when it fails."""
        environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
        if self.folder:
            environment["PYTHONPATH"] = self.folder
        with tempfile.TemporaryFile() as out:
            begun = time.perf_counter()
            actions = [(os.POSIX_SPAWN_DUP2, out.fileno(), descriptor) for descriptor in (1, 2)]
            command = [sys.executable, *arguments]
            child = os.posix_spawn(sys.executable, command, environment, file_actions=actions)
            # Unlike getrusage, wait4 gives the account of this one child, its peak included.
            _, status, used = os.wait4(child, 0)
            wall = time.perf_counter() - begun
            out.seek(0)
            printed = out.read().decode("utf-8", "replace")
        if status:
            raise RuntimeError(f"{command} ended with {os.waitstatus_to_exitcode(status)}:\n{printed}")
        # ru_maxrss counts KiB here; on macOS bytes.
        unit = 1024 if sys.platform != "darwin" else 1
        return Usage(used.ru_utime + used.ru_stime, wall, used.ru_maxrss * unit / 1e6, printed)


def interleaved(program: Program, commands: dict[str, tuple[str, ...]], rounds: int) -> dict[str, list[Usage]]:
    """Each command in turn, `rounds` times over, after one round that is not counted: a slow spell of the computer meets all alike."""
    found: dict[str, list[Usage]] = {name: [] for name in commands}
    for turn in range(rounds + 1):
        for name, command in commands.items():
            used = program.run(*command)
            if turn:
                found[name].append(used)
    return found


def middle(used: list[Usage]) -> float:
    """Median of the processor times, s."""
    return statistics.median(one.cpu_s for one in used)


def least(used: list[Usage]) -> float:
    """Least of the processor times, s: what the work costs when nothing disturbs it."""
    return min(one.cpu_s for one in used)


def wall(used: list[Usage]) -> float:
    """Median wall time, s."""
    return statistics.median(one.wall_s for one in used)


def peak(used: list[Usage]) -> float:
    """Largest resident size of any of the runs, MB.

    Linux counts what this process held when it started the child, so it must stay smaller than what it measures: it imports nothing of trivet.
    """
    return max(one.peak_mb for one in used)


def script(folder: Path, name: str, text: str) -> str:
    """The text as a file in `folder`; a script's own folder comes first in its search path, so it lies in none of ours."""
    path = folder / f"{name}.py"
    path.write_text(text, encoding="utf-8")
    return str(path)
