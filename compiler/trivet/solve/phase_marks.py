"""Assembly marks: short radial ticks on the line of centres, so that the gears of a closed ring are put together in phase."""

from __future__ import annotations

import math
from itertools import pairwise

from trivet.solve.derived import GearState, Train
from trivet.solve.feature import Feature, Stroke
from trivet.solve.part_context import MARK_DEPTH_MM, PartContext

# Length of a tick in modules, and the wood between it and the root, mm (common practice, no source).
TICK_MODULES = 1.2
ROOT_GAP_MM = 1.0


def marked_mates(train: Train, riding: frozenset[str]) -> dict[str, tuple[str, ...]]:
    """For each gear its mates along closed rings, sorted.

    A mesh with a gear that rides on its foot is left out: zeroing turns that gear by whole teeth, and its mark with it.
    """
    found: dict[str, set[str]] = {}
    for loop in train.loops:
        for a, b in pairwise((*loop.gears, loop.gears[0])):
            if a != b and not {a, b} & riding:
                found.setdefault(a, set()).add(b)
                found.setdefault(b, set()).add(a)
    return {name: tuple(sorted(mates)) for name, mates in found.items()}


def phase_marks(
    context: PartContext, state: GearState, mates: tuple[str, ...], bottom_radius_mm: float, reach_mm: float
) -> tuple[Feature, ...]:
    """One tick for each mate on the underside, the face that is seen as gears are put in, under the root where the line of centres
    crosses it, at phase 0. `reach_mm`: how far recesses round the bore go out.
    """
    outer = bottom_radius_mm - ROOT_GAP_MM
    inner = outer - TICK_MODULES * state.geometry.module_mm
    if inner <= max(state.hole_mm / 2.0, reach_mm):
        return ()
    found = []
    for name in mates:
        mate = context.states[name]
        angle = math.atan2(mate.y_mm - state.y_mm, mate.x_mm - state.x_mm) - state.phase_rad
        c, s = math.cos(angle), math.sin(angle)
        tick = Stroke(inner * c, inner * s, outer * c, outer * s)
        because = f"both gears' marks lie on the line of centres of {state.id} and {name} when the ring is in phase"
        found.append(Feature("engrave", "underside", MARK_DEPTH_MM, tick, f"assembly mark towards {name}", because))
    return tuple(found)
