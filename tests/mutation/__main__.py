"""`python -m tests.mutation`: changes of `solve/` and `checks/`, a seeded sample or all, each against the tests that reach its line.

First `--measure` (once for a state of the tree), then `--count N --seed S`. A mutant that no test kills has survived; one on a line that no
test reaches is counted as survived too. The mutation operators are those of cosmic-ray.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import subprocess
import sys
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue

from tests.mutation.mutants import ROOT, Mutant, mutants, mutated
from tests.mutation.reach import Reach, measure

LONGEST_S = 150
COPIED = ("compiler", "grammar", "library", "examples", "tests", "pyproject.toml", "README.md", "DEVELOPERS.md", "setup.py")


def main(arguments: list[str]) -> int:
    """Run the campaign; returns 1 where more than a tenth survive."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("--measure", action="store_true", help="find out which tests reach which line")
    parser.add_argument("--count", type=int, default=60, help="how many mutants; 0 for all")
    parser.add_argument("--seed", type=int, default=1, help="of the sample")
    parser.add_argument("--only", default="", help="a part of the paths to change")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, help="how many at a time")
    parser.add_argument("--most", type=float, default=60.0, help="seconds of tests for each mutant")
    parser.add_argument(
        "--folder", type=Path, default=Path(tempfile.gettempdir()) / "trivet-mutation", help="where the measure is kept"
    )
    chosen = parser.parse_args(arguments)
    if chosen.measure:
        measure(chosen.folder)
        return 0
    known = mutants(chosen.only)
    sample = known if chosen.count == 0 else random.Random(chosen.seed).sample(known, min(chosen.count, len(known)))
    reach = Reach(chosen.folder)
    plans = [(item, reach.tests(item.path, item.line, chosen.most)) for item in sample]
    with tempfile.TemporaryDirectory(prefix="trivet-mutants-") as folder:
        homes: Queue[Path] = Queue()
        for number in range(chosen.jobs):
            homes.put(_copied(Path(folder) / str(number)))
        with ThreadPoolExecutor(chosen.jobs) as pool:
            results = list(pool.map(lambda plan: _try(plan[0], plan[1], homes), plans))
    survivors = [(item, result) for item, result in zip(sample, results, strict=True) if result in ("survived", "not reached")]
    for item, result in survivors:
        print(f"{result}: {item.name}")
    counted = [result for result in results if result != "same"]
    share = len(survivors) / len(counted) if counted else 0.0
    print(f"{len(counted)} mutants of {len(known)}, seed {chosen.seed}: {len(survivors)} survived ({share:.1%})")
    return 1 if share > 0.1 else 0


def _copied(home: Path) -> Path:
    home.mkdir()
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, home / name, ignore=shutil.ignore_patterns("__pycache__"))
        elif source.exists():
            shutil.copy(source, home / name)
    return home


def _try(item: Mutant, tests: list[str], homes: Queue[Path]) -> str:
    """`killed`, `survived`, `not reached`, or `same` where the change makes no difference to the text."""
    text = (ROOT / item.path).read_text("utf-8")
    changed = mutated(item, text)
    if changed is None or changed == text:
        return "same"
    if not tests:
        return "not reached"
    home = homes.get()
    try:
        (home / item.path).write_text(changed, "utf-8")
        # Times a bound: a mutant may loop for ever, which is being killed too.
        command = [sys.executable, "-m", "pytest", "-x", "-q", "--no-header", "-p", "no:cacheprovider", *tests]
        environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1", "HYPOTHESIS_STORAGE_DIRECTORY": str(home / "hypothesis")}
        done = subprocess.run(command, cwd=home, env=environment, capture_output=True, timeout=LONGEST_S, check=False)
        result = "survived" if done.returncode == 0 else "killed"
    except subprocess.TimeoutExpired:
        result = "killed"
    finally:
        (home / item.path).write_text(text, "utf-8")
        homes.put(home)
    print(f"{result}: {item.name}", file=sys.stderr, flush=True)
    return result


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
