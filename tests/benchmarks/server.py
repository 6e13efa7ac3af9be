"""`python -m tests.benchmarks.server` measures the editor's server on a fixture of 500 lines and runs the law on many edits.

It asserts nothing about time. Targets stand beside the figures; other work on the computer disturbs them.
"""

from __future__ import annotations

import argparse
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from tests.benchmarks.checkout import SOURCE
from tests.benchmarks.keystrokes import fixture, keystrokes
from tests.lsp.stdio_client import Client
from tests.lsp.test_law import plan, run

from trivet.lsp.workspace import Workspace

DEBOUNCE_MS = 150.0
NAME = "many.trivet"
METHOD = """\
Keystroke to findings: a whole process over standard streams; from the change sent to the findings of its version received, less the
debounce. Within one process: processor time of the same keys, without streams and debounce, split by what the text was: broken, the statements of
before, or a fixture that was solved anew (all 75 gears). Memory: resident set of the process, from /proc, after rounds of keys."""


def main(arguments: list[str]) -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.server", description=__doc__)
    parser.add_argument("--edits", type=int, default=10_000, help="edits after which the law is checked (default 10000)")
    chosen = parser.parse_args(arguments)
    begun = time.perf_counter()
    print(f"measured: {SOURCE}")
    print(f"fixture of {len(fixture().splitlines())} lines; load of the computer {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors")
    for row in _rows():
        print("  ".join(cell.ljust(width) for cell, width in zip(row, (46, 44, 22), strict=True)).rstrip())
    if chosen.edits:
        solved, at = 0, time.perf_counter()
        rounds = max(1, chosen.edits // 500)
        for seed in range(rounds):
            name, wishes = (("outfeed_riser", False), ("tripod", False), ("small_riser", True), ("small_riser", False))[seed % 4]
            solved += run(plan(name, wishes), 1000 + seed, min(500, chosen.edits))
        count = rounds * min(500, chosen.edits)
        print(f"law: {count} edits, state equal to a fresh check after each; {solved} of them worked ({time.perf_counter() - at:.0f} s)")
    print(METHOD)
    print(f"The whole run took {time.perf_counter() - begun:.0f} s.")
    return 0


def _rows() -> Iterator[tuple[str, str, str]]:
    yield from _within()
    with tempfile.TemporaryDirectory(prefix="server-") as folder:
        yield from _process(Path(folder))


def _words(times_ms: list[float]) -> str:
    ordered = sorted(times_ms)
    return f"{statistics.median(ordered):.1f} ms (least {ordered[0]:.1f}, 9 of 10 under {ordered[int(len(ordered) * 0.9)]:.1f})"


def _within() -> Iterator[tuple[str, str, str]]:
    workspace = Workspace()
    path = f"/plan/{NAME}"
    workspace.put(path, fixture(), 0)
    workspace.check(path)
    kinds: dict[str, list[float]] = {"broken": [], "statements of before": [], "solved anew": []}
    for number, (_, _, _, text) in enumerate(keystrokes(), start=1):
        before = workspace.view(path).known
        workspace.put(path, text, number)
        begun = time.process_time()
        workspace.accept(path, *workspace.job(path)(lambda: None))
        workspace.findings(path)
        spent = 1000 * (time.process_time() - begun)
        view = workspace.view(path)
        worked = view.compilation is not None and view.compilation.derived is not None
        kinds["broken" if not worked else "solved anew" if view.known is not before else "statements of before"].append(spent)
    for kind, times in kinds.items():
        yield f"check within one process, {kind}", f"{_words(times)}; {len(times)} keys", ""


def _process(folder: Path) -> Iterator[tuple[str, str, str]]:
    begun = time.perf_counter()
    with Client(folder) as client:
        client.begin()
        yield "start-up to the answered handshake", f"{1000 * (time.perf_counter() - begun):.0f} ms", ""
        client.open(NAME, fixture())
        client.findings(NAME, 1)
        yield "start-up to the first findings", f"{1000 * (time.perf_counter() - begun):.0f} ms", ""
        yield "keystroke to findings", _words(list(_typed(client))), "median at most 25 ms"
        line = fixture()[: fixture().index("mesh g2")].count("\n") + 1
        asked: dict[str, Callable[[], object]] = {
            "hover": lambda: client.ask("textDocument/hover", client.at(NAME, line, 8)),
            "completion of a name": lambda: client.ask("textDocument/completion", client.at(NAME, line, 7)),
            "completion of a bolt": lambda: client.ask("textDocument/completion", client.at(NAME, _bolt(), 7)),
            "semantic tokens": lambda: client.ask("textDocument/semanticTokens/full", {"textDocument": {"uri": client.uri(NAME)}}),
        }
        client.replace(NAME, fixture())
        time.sleep(1.0)
        for name, ask in asked.items():
            ask()
            times = []
            for _ in range(30):
                at = time.perf_counter()
                ask()
                times.append(1000 * (time.perf_counter() - at))
            yield name, _words(times), "at most 50 ms"
        sizes = []
        for _ in range(4):
            list(_typed(client))
            sizes.append(_resident_mb(client.process.pid))
        yield "memory after rounds of keys", ", ".join(f"{size:.0f} MB" for size in sizes), "no growth after the second"
        client.end()


def _typed(client: Client) -> Iterator[float]:
    client.replace(NAME, fixture())
    for start, end, new, text in keystrokes():
        old = text[:start] + "?" * (end - start) + text[start + len(new) :]
        begun = time.perf_counter()
        version = client.change(NAME, _place(old, start), _place(old, end), new)
        client.notes.clear()
        client.findings(NAME, version)
        yield 1000 * (time.perf_counter() - begun) - DEBOUNCE_MS


def _place(text: str, offset: int) -> tuple[int, int]:
    return text.count("\n", 0, offset), offset - text.rfind("\n", 0, offset) - 1


def _bolt() -> int:
    return fixture()[: fixture().index("  bolt ")].count("\n")


def _resident_mb(process: int) -> float:
    """0 where the system keeps no such file."""
    try:
        pages = int(Path(f"/proc/{process}/statm").read_text("ascii").split()[1])
    except OSError:
        return 0.0
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
