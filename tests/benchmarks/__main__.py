"""`python -m tests.benchmarks` prints one table of figures measured in one run, targets beside them. It asserts nothing about time."""

from __future__ import annotations

import argparse
import os
import platform
import sys
import tempfile
import time
from pathlib import Path

from tests.benchmarks.figures import EMPTY_GEARS, ROUNDS, Figure, figures, largest_example
from tests.benchmarks.package import program

METHOD = f"""\
Cold runs: whole processes, floor, check and compile in turn, {ROUNDS} rounds after one that is not counted; user and system time of
each from wait4. The floor imports lark and defines one frozen pydantic model. Ratios compare medians with medians, least with least.
Per gear: the least time, or the memory by tracemalloc, of a check within one process that has checked before, less that of the same
fixture with {EMPTY_GEARS} gears, over the gears that were added. Vertices: arcs and chords stay within 0.002 mm of the same outlines.
Other work on the computer disturbs the times; the least of them is disturbed least."""


def _row(figure: Figure) -> tuple[str, str, str, str, str]:
    digits = 3 if figure.unit == "of chords" else 2
    ratio = "" if figure.ratio is None else f"{figure.ratio:.{digits}f} {figure.unit}"
    if figure.most is None or figure.ratio is None:
        return figure.name, figure.value, ratio, "-", "-"
    return figure.name, figure.value, ratio, f"at most {figure.most:g}", "yes" if figure.ratio <= figure.most else "no"


def main(arguments: list[str]) -> int:
    """Measure and print; 1 only when the measuring itself fails."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description="Print one table of figures and their targets.")
    which = parser.add_mutually_exclusive_group()
    which.add_argument("--checkout", action="store_true", help="measure the checkout; no wheel is built")
    which.add_argument("--installed", action="store_true", help="measure the package that this interpreter has installed")
    chosen = parser.parse_args(arguments)
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory(prefix="benchmarks-") as folder:
        try:
            measured = program(Path(folder), chosen.checkout, chosen.installed)
            rows = [_row(figure) for figure in figures(measured, Path(folder))]
        except RuntimeError as error:
            print(error, file=sys.stderr)
            return 1
    print(f"measured: {measured.words}; Python {platform.python_version()}, {os.cpu_count()} processors")
    print(f"largest example: {largest_example().name}")
    print()
    titles = ("figure", "value", "ratio", "target", "reached")
    widths = [max(len(row[column]) for row in (titles, *rows)) for column in range(len(titles))]
    for row in (titles, tuple("-" * width for width in widths), *rows):
        print("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())
    print()
    print(METHOD)
    print(f"The whole run took {time.perf_counter() - begun:.0f} s.")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
