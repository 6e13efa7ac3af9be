"""The overlap of two cut gears, their outlines laid over each other at places of a tooth pitch."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from trivet.solve.gear_outline import gear_outline
from trivet.solve.gear_size import ToothGeometry

if TYPE_CHECKING:
    from shapely import Polygon

# Chords of arcs; twice this can hide between two flanks.
CHORD_MM = 0.0005
# Teeth kept each side of the line of centres. Contact ratios are below 2, so contact lies within two pitches.
TEETH_EACH_SIDE = 3
STEPS = 12

_Points = tuple[tuple[float, float], ...]


def outline_overlap_mm2(
    a: ToothGeometry, b: ToothGeometry, centre_distance_mm: float, cutter_radii_mm: tuple[float, float]
) -> float:
    """The largest overlap of the outlines over a tooth pitch, mm², each mesh held at the middle of its play."""
    first = _teeth_near_mesh(a, cutter_radii_mm[0], 0.0)
    second = _teeth_near_mesh(b, cutter_radii_mm[1], math.pi)
    overlap = 0.0
    for step in range(STEPS):
        share = step / STEPS - 0.5
        fixed = _turned(first, 2.0 * math.pi * share / a.teeth, 0.0)
        # A tooth of the first faces +x at share 0; the second then shows a space, and turns the other way.
        turning = _turned(second, -2.0 * math.pi * share / b.teeth, centre_distance_mm)
        overlap = max(overlap, float(fixed.intersection(turning).area))
    return overlap


def _teeth_near_mesh(gear: ToothGeometry, cutter_radius_mm: float, towards_rad: float) -> _Points:
    """Points about the gear's centre: the whole gear, or the teeth near a direction closed through its middle.

    The first gear has a tooth in that direction, the second (towards pi) a space.
    """
    half_pitch = math.pi / gear.teeth
    phase = towards_rad + (half_pitch if towards_rad else 0.0)
    points = gear_outline(gear, cutter_radius_mm, phase).contour.points(CHORD_MM)
    window = (2 * TEETH_EACH_SIDE + 1) * half_pitch
    if window >= math.pi / 2.0:
        return points
    near = [p for p in points if abs(_turn(math.atan2(p[1], p[0]) - towards_rad)) <= window]
    # Points of a radial flank have one direction but for rounding: they stay in the outline's order.
    near.sort(key=lambda p: round(_turn(math.atan2(p[1], p[0]) - towards_rad), 9))
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

