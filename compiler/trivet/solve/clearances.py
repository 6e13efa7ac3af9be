"""Which solids come too near each other, seen from above, at some height of the travel; at mean sheets and every extreme.

What stands on one axis belongs together and is not compared. A riding foot moves with the travel; all of them move alike.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from trivet.record import record, replace
from trivet.solve.derived import Derived
from trivet.solve.solid import Solid, SolidSet, share_height
from trivet.solve.solid_grid import SolidGrid, gap_mm
from trivet.solve.spanner import SHARP_CORNERS

# Least gap seen from above, mm (common practice, no source).
LEAST_GAP_MM = 1.0
# Shared heights that count as none, mm: in a level, and between levels, where spacers take up washers and play (common practice,
# no source).
SHARED_MM, BETWEEN_LEVELS_MM = 0.1, 3.0


@record
class Near:
    """Two solids, how far apart they are seen from above (negative: they overlap), and the most height that they share, mm."""

    one: Solid
    other: Solid
    gap_mm: float
    shared_mm: float


def near_gears(derived: Derived) -> tuple[Near, ...]:
    """Gears nearer than 1 mm to hardware or keepers of other shafts (not to other gears, which have a rule of their own)."""
    levels = _levels(derived)
    level = {state.id: state.level for state in derived.train.gears}

    def counts(gear: Solid, other: Solid) -> float | None:
        if other.kind == "gear":
            return None
        return SHARED_MM if level[gear.part] in levels[other.shaft] else BETWEEN_LEVELS_MM

    return _near(derived, "gear", counts, LEAST_GAP_MM)


def near_keepers(derived: Derived) -> tuple[Near, ...]:
    """Keepers that overlap hardware or other keepers; each pair once."""
    order = {
        item.part: index for index, item in enumerate(derived.solids[0].solids if derived.solids else ()) if item.kind == "keeper"
    }

    def counts(keeper: Solid, other: Solid) -> float | None:
        if other.kind == "gear" or (other.kind == "keeper" and order[other.part] < order[keeper.part]):
            return None
        return SHARED_MM

    return _near(derived, "keeper", counts, 0.0)


def _levels(derived: Derived) -> dict[str, tuple[int, ...]]:
    """Levels of all gears of a shaft, under the shaft's id."""
    found: dict[str, tuple[int, ...]] = {}
    for state in derived.train.gears:
        found[state.shaft or state.id] = (*found.get(state.shaft or state.id, ()), state.level)
    return found


def _near(derived: Derived, kind: str, counts: Callable[[Solid, Solid], float | None], wanted_mm: float) -> tuple[Near, ...]:
    found: dict[tuple[str, str, str], Near] = {}
    stops = _stops(derived)
    for solids in derived.solids:
        if solids.stroke:
            for near in _in_set(_with_stops(solids, stops), kind, counts, wanted_mm):
                key = (near.one.part, near.other.part, near.other.kind)
                if key not in found or near.shared_mm > found[key].shared_mm:
                    found[key] = near
    return tuple(found.values())


def _stops(derived: Derived) -> dict[str, float]:
    """Radius of the nuts of a stop, over their corners, by the drive's gear."""
    nuts = {state.gear: state.drive.stop_nut for state in derived.drives if state.drive.stop}
    return {gear: nut.across_flats_mm * SHARP_CORNERS / 2.0 for gear, nut in nuts.items() if nut is not None}


def _with_stops(solids: SolidSet, stops: dict[str, float]) -> SolidSet:
    """Where a drive has a stop, its nuts stand somewhere on the end of the bolt: that is taken as wide as they are."""
    if not stops:
        return solids
    wide = (
        replace(item, radius_mm=max(item.radius_mm, stops[item.shaft])) if item.kind == "bolt_end" and item.shaft in stops else item
        for item in solids.solids
    )
    return replace(solids, solids=tuple(wide))


def _in_set(solids: SolidSet, kind: str, counts: Callable[[Solid, Solid], float | None], wanted_mm: float) -> Iterator[Near]:
    looked_for = [item for item in solids.solids if item.kind == kind]
    if not looked_for:
        return
    grid = SolidGrid([item for item in solids.solids if item.kind != "gear"], wanted_mm)
    for one in looked_for:
        for other in grid.near(one):
            if other.shaft == one.shaft:
                continue
            shared = share_height(one, other, solids.travel_mm)
            least = counts(one, other) if shared > SHARED_MM else None
            if least is None or shared <= least:
                continue
            gap = gap_mm(one, other)
            if gap < wanted_mm - 1e-6:
                yield Near(one, other, gap, shared)
