"""Whole runs on hostile files: each answered within 5 s of processor time and 300 MB, with an exit code that says what happened and no trace."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from tests.hard_use import ROOT, example

MOST_SECONDS = 5.0
MOST_MEGABYTES = 300
MEGABYTE = 1_000_000

# The command, and then the most memory that its process had resident, which the system counts from the start of the program.
PROGRAM = """
import resource, sys, time
# Far above what is allowed, so that a run which asks for everything fails by itself.
resource.setrlimit(resource.RLIMIT_AS, (2_000_000_000, 2_000_000_000))
from trivet.cli import main
try:
    code = main()
finally:
    sys.stdout.flush()
    try:
        peak = next(int(line.split()[1]) for line in open("/proc/self/status") if line.startswith("VmHWM"))
    except OSError:
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(f"peak {peak} {time.process_time()}", file=sys.stderr)
sys.exit(code)
"""


def _rows(text: str, number: int) -> bytes:
    return ("fixture f\n" + "".join(text.replace("#", str(index)) for index in range(number))).encode()


CHARACTERS = {
    "letters": b"a", "digits": b"1", "line ends": b"\n", "opening": b"(", "closing": b")", "quotes": b'"', "minus": b"-", "commas": b",",
    "hashes": b"#", "spaces": b" ", "points": b".", "returns": b"\r", "nulls": b"\0", "slashes": b"/", "accents": "\u00e9".encode(),
}  # fmt: skip
FILES: dict[str, bytes] = {
    **{f"a megabyte of {name}": character * (MEGABYTE // len(character)) for name, character in CHARACTERS.items()},
    **{f"a fact of {name}": b"fixture f\n  title " + character * 900_000 for name, character in CHARACTERS.items() if len(character) == 1},
    **{f"spaced {name}": b"fixture f\n  title " + (character + b" ") * 400_000 for name, character in CHARACTERS.items() if len(character) == 1},
    "too large": b"a" * 3 * MEGABYTE,
    "utf-16": example("outfeed_riser").encode("utf-16"),
    "latin-1": 'fixture f\n  title "\u00e9"\n'.encode("latin-1"),
    "brackets in brackets": b"fixture f\nparameter a " + b"(" * 10_000 + b"1" + b")" * 10_000 + b"\n",
    "minus before minus": b"fixture f\nparameter a " + b"- " * 10_000 + b"1 mm\n",
    "unknown headings": _rows("paramter# p# 1 mm\n", 18_000),
    "unknown names": _rows("parameter p# q#\n", 18_000),
    "unknown facts": _rows("gear g#\n  tooth# 5\n", 9_000),
    "unused names": _rows("parameter p# 1 mm\n", 18_000) + b"gear g\n",
    "likenesses": _rows("gear g#\n  like g1#\n", 9_000),
    "names in a row": _rows("parameter p# p1# + 1 mm\n", 10_000),
    "facts for many names": _rows("gear " + ", ".join(f"g{index}" for index in range(2000)) + "\n" + "  teeth 5\n" * 3000, 1),
    "defaults for many names": _rows(
        "default gear\n" + "".join(f"  x{index} 5\n" for index in range(9000)) + "gear " + ", ".join(f"g{index}" for index in range(2000)), 1
    ),
    "squares of squares": _rows("parameter a 1/3\n", 1) + b"".join(b"parameter p%d p%d * p%d\n" % (at + 1, at, at) for at in range(80)).replace(b" p0", b" a"),
    "tables": _rows("table t# is insert\n", 9_000),
    "fixtures": _rows("fixture f#\n", 9_000),
    "a hole of a hundred metres": example("outfeed_riser").replace("15, 13.5", "15, 100000").encode(),
    "a board of a hundred metres": example("outfeed_riser").replace("rectangle 480 by 350", "rectangle 100000 by 100000").encode(),
}  # fmt: skip

# Absurd, and no rule forbids it.


@pytest.mark.parametrize("name", FILES)
def test_each_is_answered_in_time_and_space(name: str, tmp_path: Path) -> None:
    path = tmp_path / "hard.trivet"
    path.write_bytes(FILES[name])
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, "check", str(path)],
        capture_output=True, env={**os.environ, "PYTHONPATH": str(ROOT / "compiler")}, timeout=60, check=False,
    )  # fmt: skip
    unreadable = name in ("too large", "utf-16", "latin-1") or (name.endswith("nulls") and name != "a megabyte of nulls")
    assert done.returncode == (2 if unreadable else 1), done.stdout[:500]
    assert b"Traceback" not in done.stderr and b"fault of trivet" not in done.stdout + done.stderr, done.stderr[-500:]
    assert b"error: " in done.stdout
    peak, seconds = done.stderr.rpartition(b"peak ")[2].split()
    megabytes = int(peak) / 1000
    assert megabytes < MOST_MEGABYTES, megabytes
    assert float(seconds) < MOST_SECONDS, seconds
