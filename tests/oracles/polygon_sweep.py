"""Two cut gears turned against each other as polygons: overlap and backlash, measured on the shapes. Shares only the outlines with `as_cut_mesh`."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from trivet.solve.gear_outline import gear_outline
from trivet.solve.gear_size import ToothGeometry

if TYPE_CHECKING:
    from shapely import Polygon

# Chords of arcs; twice this can hide between two flanks.
_CHORD_MM = 0.0005
# Overlap taken as touching: a sliver one chord deep and a few tenths long.
_TOUCH_MM2 = 2e-4


@dataclass(frozen=True)
class MeshSweep:
    """`overlap_mm2`: largest overlap of the outlines, each mesh held at the middle of its play, over a whole pitch.

    `backlash_mm`: least play found over the pitch, on the second gear's working circle; 0 when they overlap at the
    middle. Resolution about 0.002 mm.
    """

    overlap_mm2: float
    backlash_mm: float


@lru_cache(maxsize=256)
def mesh_sweep(
    a: ToothGeometry, b: ToothGeometry, centre_distance_mm: float, cutter_radius_mm: float, steps: int = 24
) -> MeshSweep:
    """Turn both gears, as one cutter leaves them, at a centre distance through a tooth pitch in `steps` steps."""
    overlap = 0.0
    play_rad = math.inf
    first = _whole(a, cutter_radius_mm, 0.0)
    # A tooth of the first faces +x; the second shows a space that way.
    second = _whole(b, cutter_radius_mm, math.pi + math.pi / b.teeth)
    for step in range(steps):
        share = step / steps - 0.5
        fixed = _turned(first, 2.0 * math.pi * share / a.teeth, 0.0)
        middle = -2.0 * math.pi * share / b.teeth
        area = float(fixed.intersection(_turned(second, middle, centre_distance_mm)).area)
        overlap = max(overlap, area)
        if area > _TOUCH_MM2:
            play_rad = 0.0
        if play_rad > 0.0 and step % 4 == 0:
            play_rad = min(play_rad, sum(_free(fixed, second, middle, sign, centre_distance_mm, b) for sign in (1.0, -1.0)))
    radius = centre_distance_mm * b.teeth / (a.teeth + b.teeth)
    return MeshSweep(overlap, play_rad * radius)


def _whole(gear: ToothGeometry, cutter_radius_mm: float, phase_rad: float) -> Polygon:
    """The whole gear about its centre, a tooth in the direction of its phase."""
    from shapely import Polygon

    return Polygon(gear_outline(gear, cutter_radius_mm, phase_rad).contour.points(_CHORD_MM))


def _turned(gear: Polygon, angle_rad: float, shift_mm: float) -> Polygon:
    from shapely.affinity import rotate, translate

    return translate(rotate(gear, angle_rad, origin=(0.0, 0.0), use_radians=True), shift_mm)


def _free(fixed: Polygon, second: Polygon, middle: float, sign: float, shift_mm: float, b: ToothGeometry) -> float:
    """Angle, radians, the second gear turns from the middle before it touches, found by halving."""
    low, high = 0.0, math.pi / b.teeth
    while (high - low) * b.pitch_radius_mm > 0.0005:
        trial = (low + high) / 2.0
        area = fixed.intersection(_turned(second, middle + sign * trial, shift_mm)).area
        low, high = (low, trial) if area > _TOUCH_MM2 else (trial, high)
    return (low + high) / 2.0
