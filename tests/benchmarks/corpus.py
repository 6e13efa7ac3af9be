"""`python -m tests.benchmarks.corpus`: many generated fixtures that are sound, and many violations of each rule; what is wrong is printed."""

from __future__ import annotations

import argparse
import sys
import time

from tests.benchmarks import checkout  # noqa: F401  (before the package is imported)
from tests.laws.sound_texts import known_warnings, sound_text
from tests.laws.violations import GENERATORS, misses
from tests.laws.whole import checked


def false_alarms(count: int, first: int = 0) -> list[str]:
    """One line for each error, and for each warning that the generator does not know of."""
    lines = []
    for seed in range(first, first + count):
        text = sound_text(seed)
        known = known_warnings(text)
        for item in checked(text).findings:
            if item.severity == "error" or (item.severity == "warning" and item.rule not in known):
                lines.append(f"{seed}: {item.severity}: {item.message} [{item.rule}]")
    return lines


def main(arguments: list[str]) -> int:
    """1 when a sound fixture was blamed or a violation was missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.corpus", description=__doc__)
    parser.add_argument("--sound", type=int, default=2000, help="how many sound fixtures")
    parser.add_argument("--first", type=int, default=0, help="the first seed")
    parser.add_argument("--violations", type=int, default=20, help="how many violations of each rule")
    chosen = parser.parse_args(arguments)
    begun = time.perf_counter()
    lines = false_alarms(chosen.sound, chosen.first)
    lines += [line for slug in sorted(GENERATORS) for line in misses(slug, chosen.violations, chosen.first)]
    for line in lines:
        print(line)
    print(f"{chosen.sound} sound fixtures, {len(GENERATORS)} rules with {chosen.violations} violations each: {len(lines)} wrong")
    print(f"The whole run took {time.perf_counter() - begun:.0f} s.")
    return 1 if lines else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
