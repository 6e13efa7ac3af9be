"""Gears that may touch metal over or under them once they lean, droop or warp. Lengths in mm.

A riding gear leans as its insert leans; an idler or a drive gear droops within its play; all warp. What turns with a foot leans with it.
Only what hangs in one level is compared: between levels spacers decide, and those are made to fit.
"""

from __future__ import annotations

import math

from trivet.model.design import Design
from trivet.record import record
from trivet.solve.clearances import SHARED_MM
from trivet.solve.derived import Derived
from trivet.solve.flush import tilt_deg
from trivet.solve.solid import Solid, share_height
from trivet.solve.solid_grid import SolidGrid, gap_mm

# Room for warp: 1 mm over 150 mm of diameter (common practice, no source), from the middle outwards.
WARP_PER_RADIUS = 2.0 / 150.0


@record
class Leaning:
    """`gear` passes `other` with `clear_mm` of height where they are nearest; the `leans_mm` of both and the gear's `warps_mm` take of it."""

    gear: Solid
    other: Solid
    clear_mm: float
    leans_mm: float
    warps_mm: float

    @property
    def takes_mm(self) -> float:
        """Both together, at worst."""
        return self.leans_mm + self.warps_mm

    @property
    def short_mm(self) -> float:
        """By how much the height between them falls short of it."""
        return self.takes_mm - self.clear_mm


def leaning_gears(design: Design, derived: Derived) -> tuple[Leaning, ...]:
    """Every pair that has less room than it may take, at its worst over the travel and the sheets. Cost linear in solids."""
    slopes = _slopes(design, derived)
    level = {state.id: state.level for state in derived.train.gears}
    levels: dict[str, set[int]] = {}
    for state in derived.train.gears:
        levels.setdefault(state.shaft or state.id, set()).add(state.level)
    found: dict[tuple[str, str, str], Leaning] = {}
    for solids in derived.solids:
        gears = [item for item in solids.solids if item.kind == "gear"] if solids.stroke else []
        grid = SolidGrid([item for item in solids.solids if item.metal and item.plate is None], 0.0)
        for gear in gears:
            for other in grid.near(gear):
                if other.shaft == gear.shaft or level[gear.part] not in levels[other.shaft] or gap_mm(gear, other) >= 0.0:
                    continue
                shared = share_height(gear, other, solids.travel_mm)
                near, key = _leaning(gear, other, max(0.0, -shared), slopes), (gear.part, other.part, other.kind)
                least = found[key].short_mm if key in found else 1e-6
                if shared <= SHARED_MM and near.short_mm > least:
                    found[key] = near
    return tuple(found.values())


def _leaning(gear: Solid, other: Solid, clear_mm: float, slopes: dict[str, float]) -> Leaning:
    apart = math.hypot(gear.x_mm - other.x_mm, gear.y_mm - other.y_mm)
    reach = min(gear.radius_mm, apart + other.radius_mm)
    leans = reach * slopes.get(gear.shaft, 0.0)
    if other.moves:
        leans += min(other.radius_mm, apart + gear.radius_mm) * slopes.get(other.shaft, 0.0)
    return Leaning(gear, other, clear_mm, leans, reach * WARP_PER_RADIUS)


def _slopes(design: Design, derived: Derived) -> dict[str, float]:
    """How much of its radius the rim of a shaft's gears may come up or down; gears on keepers lie flat and have none."""
    tips: dict[str, float] = {}
    for state in derived.train.gears:
        shaft = state.shaft or state.id
        tips[shaft] = max(tips.get(shaft, 0.0), state.tip_radius_mm)
    # A tip radius of nothing belongs to a gear that other checks refuse.
    found = {pivot.gear: pivot.droop_mm / tips[pivot.gear] for pivot in derived.pivots if tips[pivot.gear] > 0.0}
    found |= {drive.gear: drive.droop_mm / tips[drive.gear] for drive in derived.drives if tips[drive.gear] > 0.0}
    for foot in (*derived.feet, *derived.climbers):
        if foot.foot.kind == "riding":
            found[foot.gear] = math.tan(math.radians(tilt_deg(design, foot)))
    return found
