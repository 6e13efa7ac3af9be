"""The figures, each with its target beside it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.benchmarks import scripts
from tests.benchmarks.children import Program, interleaved, least, middle, peak, script, wall
from tests.benchmarks.many_gears import empty_fixture, many_gears
from tests.benchmarks.package import ROOT

ROUNDS = 7
FEW, SOME, MANY = 10, 100, 1000
EMPTY_GEARS = 2  # the drive and one foot of the empty fixture


@dataclass(frozen=True)
class Figure:
    """A line of the table; `ratio` and `most` are in the same unit, `most` is None where a figure is for information."""

    name: str
    value: str
    ratio: float | None = None
    most: float | None = None
    unit: str = ""


def largest_example() -> Path:
    """The example of the most lines."""
    return max(sorted((ROOT / "examples").glob("*.trivet")), key=lambda path: len(path.read_text("utf-8").splitlines()))


def figures(program: Program, folder: Path) -> Iterator[Figure]:
    """All of them, in one run."""
    yield from _cold(program, folder)
    yield from _again(program, folder)
    yield from _per_gear(program, folder)
    yield from _vertices(program, folder)
    yield from _full(program, folder)
    yield from _lines(program, folder)


def _cold(program: Program, folder: Path) -> Iterator[Figure]:
    example = str(largest_example())
    commands = {
        "floor": (script(folder, "floor", scripts.FLOOR),),
        "check": ("-m", "trivet", "check", example),
        "compile": ("-m", "trivet", "compile", example, "--out", str(folder / "out")),
    }
    used = interleaved(program, commands, ROUNDS)
    floor = used["floor"]
    yield Figure("floor", f"{middle(floor):.3f} s (least {least(floor):.3f}, wall {wall(floor):.3f})")
    for name, most in (("check", 1.25), ("compile", 6.0)):
        mine = used[name]
        value = f"{middle(mine):.3f} s (least {least(mine):.3f}, wall {wall(mine):.3f})"
        yield Figure(f"cold {name}, median", value, middle(mine) / middle(floor), most, "floors")
        yield Figure(f"cold {name}, least", f"{least(mine):.3f} s", least(mine) / least(floor), most, "floors")
    yield Figure("peak memory of check", f"{peak(used['check']):.1f} MB", peak(used["check"]), 80.0, "MB")
    yield Figure("peak memory of compile", f"{peak(used['compile']):.1f} MB", peak(used["compile"]), None, "MB")
    yield Figure("peak memory of the floor", f"{peak(floor):.1f} MB", peak(floor), None, "MB")


def _printed(program: Program, path: str, *arguments: str) -> Any:
    return json.loads(program.run(path, *arguments).printed)


def _again(program: Program, folder: Path) -> Iterator[Figure]:
    path = script(folder, "again", scripts.AGAIN)
    runs = [_printed(program, path, str(largest_example())) for _ in range(5)]
    second = 1000 * sorted(run["second"] for run in runs)[len(runs) // 2]
    value = f"{second:.1f} ms (least of later ones {1000 * min(run['least'] for run in runs):.1f})"
    yield Figure("second check in one process", value, second, 25.0, "ms")


def _per_gear(program: Program, folder: Path) -> Iterator[Figure]:
    paths = []
    for name, text in (
        ("empty", empty_fixture()),
        ("few", many_gears(FEW)),
        ("some", many_gears(SOME)),
        ("many", many_gears(MANY)),
    ):
        paths.append(str(folder / f"{name}.trivet"))
        Path(paths[-1]).write_text(text, encoding="utf-8")
    times = _printed(program, script(folder, "times", scripts.TIMES), *paths)
    kept, most = _printed(program, script(folder, "memory", scripts.MEMORY), *paths)
    yield _flat("time per gear", [1e3 * value for value in times], FEW, "ms")
    yield _flat("memory kept per gear", [1e-3 * value for value in kept], FEW, "kB")
    # With few gears the peak is that of reading the library, so growth shows between more of them.
    yield _flat("peak memory per gear", [1e-3 * value for value in most], SOME, "kB")


def _flat(what: str, values: list[float], fewer: int, unit: str) -> Figure:
    """Per added gear at many gears over that at fewer; `values` are of the empty fixture, few, some and many gears."""
    found = dict(zip((FEW, SOME, MANY), values[1:], strict=True))
    per = {count: (value - values[0]) / (count - EMPTY_GEARS) for count, value in found.items()}
    words = f"{per[fewer]:.2f} {unit} at {fewer}, {per[MANY]:.2f} {unit} at {MANY} gears"
    return Figure(f"check, {what}", words, per[MANY] / per[fewer], 1.2, "times")


def _vertices(program: Program, folder: Path) -> Iterator[Figure]:
    examples = sorted(str(path) for path in (ROOT / "examples").glob("*.trivet"))
    found = _printed(program, script(folder, "vertices", scripts.VERTICES), *examples)
    value = f"{found['arcs']} with arcs, {found['chords']} with chords"
    yield Figure("vertices of gear outlines, all examples", value, found["arcs"] / found["chords"], 0.2, "of chords")


def _full(program: Program, folder: Path) -> Iterator[Figure]:
    """What full runs add for eleven gears, in floors of the same minute."""
    path = folder / "eleven.trivet"
    # Backlash that some builds lack: where none can bind, nothing is drawn.
    path.write_text(many_gears(11).replace("backlash 0.65 mm", "backlash 0.4 mm"), encoding="utf-8")
    used = interleaved(program, {"floor": (script(folder, "floor", scripts.FLOOR),)}, ROUNDS)["floor"]
    runs = [_printed(program, script(folder, "full", scripts.FULL), str(path)) for _ in range(3)]
    for key, what, most in (("as_cut", "outlines of all meshes turned, eleven gears", 5.0), ("draws", "100,000 builds, eleven gears", 10.0)):
        seconds = sorted(run[key] for run in runs)[1]
        yield Figure(what, f"{seconds:.3f} s", seconds / middle(used), most, "floors")


def _lines(program: Program, folder: Path) -> Iterator[Figure]:
    path = folder / "lines.trivet"
    path.write_text(many_gears(300), encoding="utf-8")
    found = _printed(program, script(folder, "lines", scripts.LINES), str(path))
    for name in ("parse", "format"):
        yield Figure(
            f"{name}, 1,000 lines", f"{1000 * found[name]:.1f} ms (file of {found['lines']} lines)", 1000 * found[name], None, "ms"
        )
