"""How deep under their board two gears in mesh reach, before washers and plays are known."""

from __future__ import annotations

from collections.abc import Iterable


def levels_down_mm(gears: Iterable[tuple[str, int, float]]) -> dict[int, float]:
    """Where the top of each level hangs below the board, mm; level 0 at 0. `gears`: (shaft, level, face width) of each.

    A level lies under the thickest gear of the level above that has a mate below it on its shaft.
    """
    known = sorted(gears)
    deepest: dict[str, int] = {}
    for shaft, level, _ in known:
        deepest[shaft] = max(level, deepest.get(shaft, level))
    thickest: dict[int, float] = {}
    for shaft, level, width in known:
        if level < deepest[shaft]:
            thickest[level] = max(width, thickest.get(level, 0.0))
    found = {0: 0.0}
    for level in range(max(deepest.values(), default=0)):
        found[level + 1] = found[level] + thickest.get(level, 0.0)
    return found
