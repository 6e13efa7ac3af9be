"""Two cut gears turned against each other as polygons: overlap and backlash, measured on the shapes. Shares no code with `as_cut_mesh`."""

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
# Teeth kept each side of the line of centres. Contact ratios are below 2, so contact lies within two pitches.
_TEETH_EACH_SIDE = 3
# Overlap taken as touching: a sliver one chord deep and a few tenths long.
_TOUCH_MM2 = 2e-4


_Points = tuple[tuple[float, float], ...]


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
    first = _teeth_near_mesh(a, cutter_radius_mm, 0.0)
    second = _teeth_near_mesh(b, cutter_radius_mm, math.pi)
    for step in range(steps):
        share = step / steps - 0.5
        fixed = _turned(first, 2.0 * math.pi * share / a.teeth, 0.0)
        # A tooth of the first faces +x at share 0; the second then shows a space, and turns the other way.
        middle = -2.0 * math.pi * share / b.teeth
        area = float(fixed.intersection(_turned(second, middle, centre_distance_mm)).area)
        overlap = max(overlap, area)
        if area > _TOUCH_MM2:
            play_rad = 0.0
        if play_rad > 0.0 and step % 4 == 0:
            play_rad = min(play_rad, sum(_free(fixed, second, middle, sign, centre_distance_mm, b) for sign in (1.0, -1.0)))
    radius = centre_distance_mm * b.teeth / (a.teeth + b.teeth)
    return MeshSweep(overlap, play_rad * radius)


def _teeth_near_mesh(gear: ToothGeometry, cutter_radius_mm: float, towards_rad: float) -> _Points:
    """Points about the gear's centre: the whole gear, or the teeth near a direction closed through its middle.

    The first gear has a tooth in that direction, the second (towards pi) a space.
    """
    half_pitch = math.pi / gear.teeth
    phase = towards_rad + (half_pitch if towards_rad else 0.0)
    points = gear_outline(gear, cutter_radius_mm, phase).contour.points(_CHORD_MM)
    window = (2 * _TEETH_EACH_SIDE + 1) * half_pitch
    if window >= math.pi / 2.0:
        return points
    near = [p for p in points if abs(_turn(math.atan2(p[1], p[0]) - towards_rad)) <= window]
    near.sort(key=lambda p: _turn(math.atan2(p[1], p[0]) - towards_rad))
    deep = 0.8 * gear.root_radius_mm
    ends = [math.atan2(y, x) for x, y in (near[-1], near[0])]
    return (*near, *((deep * math.cos(t), deep * math.sin(t)) for t in ends))


def _turn(angle_rad: float) -> float:
    return (angle_rad + math.pi) % (2.0 * math.pi) - math.pi


def _turned(points: _Points, angle_rad: float, shift_mm: float) -> Polygon:
    from numpy import array
    from shapely import Polygon

    c, s = math.cos(angle_rad), math.sin(angle_rad)
    return Polygon(array(points) @ array(((c, s), (-s, c))) + (shift_mm, 0.0))


def _free(fixed: Polygon, second: _Points, middle: float, sign: float, shift_mm: float, b: ToothGeometry) -> float:
    """Angle, radians, the second gear turns from the middle before it touches, found by halving."""
    low, high = 0.0, math.pi / b.teeth
    while (high - low) * b.pitch_radius_mm > 0.0005:
        trial = (low + high) / 2.0
        area = fixed.intersection(_turned(second, middle + sign * trial, shift_mm)).area
        low, high = (low, trial) if area > _TOUCH_MM2 else (trial, high)
    return (low + high) / 2.0
