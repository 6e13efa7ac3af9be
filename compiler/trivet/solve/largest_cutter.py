"""The largest cutter that leaves a gear able to run with each of its mates."""

from __future__ import annotations

from collections.abc import Iterable

from trivet.solve.cutter_limit import CutterLimit, cutter_limit
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import tight_centre_distance_mm

_BINDS = {
    "flank": "a larger one leaves a fillet on which the tips of {} ride",
    "bottom": "a larger one leaves the root so high that the tips of {} touch it",
}

Memo = dict[tuple[ToothGeometry, ToothGeometry, float], CutterLimit | None]


def largest_cutter(gear: ToothGeometry, mates: Iterable[tuple[str, ToothGeometry, float]], memo: Memo) -> tuple[float, str]:
    """(diameter in mm, what binds with which mate). `mates`: (name, teeth, centre distance in mm).

    A gear without a mate is judged against an equal one. `memo` saves equal pairs from being worked out again; it is
    filled here.
    """
    found: tuple[float, str] | None = None
    for name, mate, distance in mates:
        limit = _limit(gear, mate, distance, memo)
        if limit is not None and (found is None or limit.diameter_mm < found[0]):
            found = limit.diameter_mm, _BINDS[limit.binds].format(f"`{name}`")
    if found is not None:
        return found
    limit = _limit(gear, gear, tight_centre_distance_mm(gear, gear), memo)
    return (limit.diameter_mm, _BINDS[limit.binds].format("an equal gear")) if limit is not None else (0.0, "no mesh is possible")


def _limit(gear: ToothGeometry, mate: ToothGeometry, distance: float, memo: Memo) -> CutterLimit | None:
    key = (gear, mate, distance)
    if key not in memo:
        memo[key] = cutter_limit(gear, mate, distance)
    return memo[key]
