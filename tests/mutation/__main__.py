"""`python -m tests.mutation`: changes of `solve/` and `checks/`, a seeded sample or all, each against the tests that reach its line.

First `--measure` (once for a state of the tree; again with `--tests` adds what new tests reach), then `--count N --seed S`. A mutant that no
test kills has survived; one on a line that no test reaches is counted as survived too. With `--list FILE` each result is added to the file,
and those already there are not tried again. The mutation operators are those of cosmic-ray.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import sys
import tempfile
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue

from tests.mutation.collected import Collected
from tests.mutation.mutants import ROOT, Mutant, changed_lines, mutants, mutated
from tests.mutation.reach import Reach, measure
from tests.mutation.warm import Home

ALIVE = ("survived", "not reached")


def main(arguments: list[str]) -> int:
    """Run the campaign; returns 1 where more than a tenth survive."""
    chosen = _parser().parse_args(arguments)
    if chosen.measure:
        measure(chosen.folder, chosen.tests, chosen.jobs)
        return 0
    known = mutants(tuple(chosen.only))
    sample = random.Random(chosen.seed).sample(known, min(chosen.count or len(known), len(known)))
    if chosen.again:
        alive = {name for name, result in _kept(chosen.again).items() if result in ALIVE}
        sample = [item for item in random.Random(chosen.seed).sample(known, len(known)) if item.name in alive]
    results = _kept(chosen.list)
    plans = [item for item in sample if item.name not in results]
    reach = Reach(chosen.folder)
    with tempfile.TemporaryDirectory(prefix="trivet-mutants-") as folder:
        homes: Queue[Bench] = Queue()
        made = [Bench(Home(Path(folder) / str(number)), Collected(reach.files, Path(folder))) for number in range(chosen.jobs)]
        for home in made:
            homes.put(home)

        trial = Trial(homes, results)

        def tried(item: Mutant) -> tuple[str, str]:
            result = trial.result(item, reach.tests(item.path, item.line, chosen.most, trial.killers(item), trial.everywhere), reach)
            _keep(chosen.list, item, result)
            return item.name, result

        with ThreadPoolExecutor(chosen.jobs) as pool:
            results |= dict(pool.map(tried, plans))
        for home in made:
            home.close()
    counted = [item for item in sample if results[item.name] != "same"]
    survivors = [item for item in counted if results[item.name] in ALIVE]
    for item in survivors:
        print(f"{results[item.name]}: {item.name}\n    {_change(item)}")
    share = len(survivors) / len(counted) if counted else 0.0
    print(f"{len(counted)} mutants of {len(known)}, seed {chosen.seed}: {len(survivors)} survived ({share:.1%})")
    return 1 if share > 0.1 else 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("--measure", action="store_true", help="find out which tests reach which line")
    parser.add_argument("--tests", nargs="*", default=[], help="measure only these files or folders of tests")
    parser.add_argument("--count", type=int, default=60, help="how many mutants; 0 for all")
    parser.add_argument("--seed", type=int, default=1, help="of the sample")
    parser.add_argument("--only", nargs="*", default=[], help="parts of the paths to change")
    parser.add_argument("--again", type=Path, help="try those that a list says have survived, instead of a sample")
    parser.add_argument("--list", type=Path, help="a file of results, added to")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1, help="how many at a time")
    parser.add_argument("--most", type=float, default=60.0, help="seconds of tests for each mutant, as measured")
    parser.add_argument(
        "--folder", type=Path, default=Path(tempfile.gettempdir()) / "trivet-mutation", help="where the measure is kept"
    )
    return parser


class Bench:
    """Where one mutant at a time is tried: in the running program where its change lies in a function, else in a copy of the tree."""

    def __init__(self, home: Home, collected: Collected) -> None:
        self._home, self._collected = home, collected

    def run(self, path: str, text: str, changed: str | None, tests: list[str], seconds: float) -> str:
        """See `Home.run`; None for `changed` runs the tests as they are."""
        said = self._collected.run(path, changed, tests, seconds)
        return self._home.run(path, changed or text, tests) if said in ("at import", "no tests") else said

    def close(self) -> None:
        """End both."""
        self._collected.close()
        self._home.close()


class Trial:
    """Tries mutants; a test that fails without any mutant too kills none."""

    def __init__(self, homes: Queue[Bench], before: dict[str, str]) -> None:
        self._homes = homes
        self._sound: dict[str, bool] = {}
        self._killers: dict[str, Counter[str]] = {}
        self.everywhere: Counter[str] = Counter()
        for name, result in before.items():
            if result.startswith("killed by "):
                self._killed(name.partition(":")[0], result.removeprefix("killed by "))

    def _killed(self, path: str, test: str) -> None:
        self._killers.setdefault(path, Counter())[test] += 1
        self.everywhere[test] += 1

    def killers(self, item: Mutant) -> Counter[str]:
        """Tests that killed others of the same file, and how many."""
        return self._killers.setdefault(item.path, Counter())

    def result(self, item: Mutant, tests: list[str], reach: Reach) -> str:
        """`killed` and by what, `survived`, `not reached`, or `same` where the change makes no other program."""
        text = (ROOT / item.path).read_text("utf-8")
        changed = mutated(item, text)
        if changed is None or changed == text or not _compiles(changed):
            return "same"
        home = self._homes.get()
        try:
            said = self._tried(home, item, text, changed, tests, reach)
        finally:
            self._homes.put(home)
        print(f"{said}: {item.name}\n    {_change(item)}", file=sys.stderr, flush=True)
        return said

    def _tried(self, home: Bench, item: Mutant, text: str, changed: str, tests: list[str], reach: Reach) -> str:
        while tests := [name for name in tests if self._sound.get(name, True)]:
            said = home.run(item.path, text, changed, tests, reach.seconds(tests))
            if said == "passed":
                return "survived"
            if said == "too long":
                return f"killed ({said})"
            # pytest finds no test in a file that cannot be imported, which a mutant may bring about.
            suspect = said.removeprefix("failed ") if said.startswith("failed ") else tests[0]
            if suspect not in self._sound:
                self._sound[suspect] = home.run(item.path, text, None, [suspect], 60.0) == "passed"
            if self._sound[suspect]:
                self._killed(item.path, suspect)
                return f"killed by {suspect}"
            print(f"fails without any mutant: {suspect}", file=sys.stderr)
            if suspect not in tests:
                raise RuntimeError(f"{suspect} is none of the tests")
        return "not reached"


def _compiles(text: str) -> bool:
    try:
        compile(text, "mutant", "exec")
    except SyntaxError:
        return False
    return True


def _change(item: Mutant) -> str:
    text = (ROOT / item.path).read_text("utf-8")
    return changed_lines(text, mutated(item, text) or text)


def _kept(path: Path | None) -> dict[str, str]:
    if path is None or not path.exists():
        return {}
    return {found["mutant"]: found["result"] for found in map(json.loads, path.read_text("utf-8").splitlines())}


def _keep(path: Path | None, item: Mutant, result: str) -> None:
    if path is not None:
        with path.open("a", encoding="utf-8") as file:
            file.write(json.dumps({"mutant": item.name, "result": result, "change": _change(item)}) + "\n")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
