"""`python -m tests.benchmarks.many_files`: 200 fixtures checked by one process and by one for each processor, in turn."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
FILES, ROUNDS = 200, 3


def main() -> int:
    """Print the median times and their ratio; the target is for two processors."""
    jobs = (1, min(2, os.cpu_count() or 1))
    text = (ROOT / "examples" / "outfeed_riser.trivet").read_text("utf-8")
    with tempfile.TemporaryDirectory(prefix="benchmark-files-") as folder:
        for number in range(FILES):
            moved = text.replace("(190, 70) mm", f"({150 + number / 10:.1f}, 70) mm")
            (Path(folder) / f"riser_{number:03}.trivet").write_text(moved, "utf-8")
        times: dict[int, list[float]] = {count: [] for count in jobs}
        for _ in range(ROUNDS):
            for count in jobs:
                times[count].append(_seconds(folder, count))
    alone, together = (statistics.median(times[count]) for count in jobs)
    print(
        f"{FILES} fixtures: {alone:.2f} s by one process, {together:.2f} s by {jobs[-1]}: {alone / together:.2f} times as fast (target 1.7 on two)"
    )
    return 0


def _seconds(folder: str, jobs: int) -> float:
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "compiler")}
    begun = time.perf_counter()
    command = (sys.executable, "-m", "trivet", "check", folder, "--jobs", str(jobs), "--report", "jsonl")
    subprocess.run(command, env=environment, stdout=subprocess.DEVNULL, check=True)
    return time.perf_counter() - begun


if __name__ == "__main__":
    sys.exit(main())
