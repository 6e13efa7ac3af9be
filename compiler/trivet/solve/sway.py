"""How far a board sways on its screws under a load along x or y, at the greatest height: an estimate. N, mm."""

from __future__ import annotations

import math

from trivet.model.board import Load
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.board_levels import boards_at
from trivet.solve.derived import Derived, FootState
from trivet.solve.library_figures import STEEL_MODULUS
from trivet.solve.power_screw import root_diameter_mm

# Play of a thread across its diameter (assumed, no source: M8 of ISO 965 6g in 6H has 0.03 to 0.31 mm, from memory).
THREAD_PLAY_MM = 0.15


@record
class Sway:
    """Of one set of feet under one load: `free_mm` of screw below its thread, what bends and what is play."""

    load: Load
    foot: FootState
    free_mm: float
    bend_mm: float
    play_mm: float


def bend_mm(force_n: float, free_mm: float, root_mm: float) -> float:
    """F L³ / (3 E I) of a screw held at one end, I = π d⁴/64 on the root diameter."""
    return force_n * free_mm**3 / (3.0 * STEEL_MODULUS * math.pi * root_mm**4 / 64.0)


def rock_mm(free_mm: float, engaged_mm: float) -> float:
    """Play of the thread over the engaged length, times what stands out of it; 0 where nothing is engaged."""
    return THREAD_PLAY_MM * free_mm / engaged_mm if engaged_mm > 0.0 else 0.0


def sways(design: Design, derived: Derived) -> tuple[Sway, ...]:
    """For each load along x or y, the foot that sways most. Each foot takes an even share. A foot with a guide is left out: what it
    adds is not worked out; so is a fixture without a stroke.
    """
    lift = derived.lift
    if lift is None or lift.travel_mm <= 0.0:
        return ()
    boards = boards_at(design, 0)
    found = []
    for load in design.loads:
        if load.direction == "down":
            continue
        share = abs(load.force.value) / len(derived.feet)
        each = []
        for foot in derived.feet:
            free = _free_mm(boards.uppermost_mm(foot.foot.into.text), lift.height_max_mm, foot)
            if free is None:
                continue
            bend = bend_mm(share, free, root_diameter_mm(foot.foot.thread))
            each.append(Sway(load, foot, free, bend, rock_mm(free, foot.engagement_at_most_mm)))
        if each:
            found.append(max(each, key=lambda item: (item.bend_mm + item.play_mm, item.foot.id)))
    return tuple(found)


def _free_mm(work_mm: float, height_mm: float, foot: FootState) -> float | None:
    """From the lower end of the live thread to the bench."""
    if foot.live_z_mm is None or foot.foot.guide is not None:
        return None
    return max(0.0, foot.live_z_mm[0] - (work_mm - height_mm))
