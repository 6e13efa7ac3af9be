"""The largest round cutter that leaves a gear able to mesh."""

from __future__ import annotations

import math
from typing import Literal

from trivet.record import record
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry

# Room kept under the mate's tips where the cutter does not reach the root circle (common practice, no source).
TIP_CLEARANCE_MM = 0.1


@record
class CutterLimit:
    """Largest cutter, mm, and what binds: `flank`, the mate's tips would ride on the fillet; `bottom`, they would touch
    the raised root. 0 when even a sharp inside corner would not do."""

    diameter_mm: float
    binds: Literal["flank", "bottom"]
    flank_diameter_mm: float
    bottom_diameter_mm: float


def cutter_limit(
    gear: ToothGeometry, mate: ToothGeometry, centre_distance_mm: float, tip_clearance_mm: float = TIP_CLEARANCE_MM
) -> CutterLimit | None:
    """Largest cutter for `gear` running with `mate` at an actual centre distance; None without a working angle.

    Where the mate interferes with the base circle the flank limit asks for a flank intact down to that circle.
    """
    mesh = mesh_geometry(gear, mate, centre_distance_mm)
    if mesh is None:
        return None
    flank = 2.0 * _flank_radius(gear, max(mesh.start_pull_mm[0], 0.0))
    deepest = centre_distance_mm - mate.reached_tip_radius_mm - tip_clearance_mm
    bottom = 2.0 * _bottom_radius(gear, deepest)
    return CutterLimit(min(flank, bottom), "flank" if flank <= bottom else "bottom", flank, bottom)


def _flank_radius(gear: ToothGeometry, pull: float) -> float:
    """Radius of the cutter whose fillet ends at a distance `pull` from the base circle.

    Between two flanks inv a_c = p + r/rb − pi/z and rb tan a_c = pull + r, p the base half angle, so r cancels from
    a_c = pull/rb + pi/z − p. On the root circle (rf + r)² = rb² + (pull + r)². The deeper flank asks for the smaller r.
    """
    rb, root = gear.base_radius_mm, max(gear.root_radius_mm, 0.0)
    angle = pull / rb + gear.half_pitch_angle_rad - gear.base_half_angle_rad
    between = rb * math.tan(angle) - pull if angle < math.pi / 2.0 else math.inf
    on_root = (rb**2 + pull**2 - root**2) / (2.0 * (root - pull)) if root > pull else math.inf
    return max(0.0, min(between, on_root))


def _bottom_radius(gear: ToothGeometry, deepest: float) -> float:
    """Radius of the cutter that, resting on two flanks, bottoms at the radius `deepest`; 0 when the root is above."""
    if deepest < gear.root_radius_mm or deepest <= 0.0:
        return 0.0
    rb = gear.base_radius_mm
    space = gear.half_pitch_angle_rad - gear.base_half_angle_rad
    if space > 0.0 and rb * (1.0 - math.sin(space)) / math.cos(space) >= deepest:
        return deepest * math.sin(space) / (1.0 - math.sin(space))
    # rb/cos a − r(a) rises with a, by tan a (sec a − tan a); its root is enclosed, so halving always ends.
    low, high = 0.0, math.pi / 2.0 - 1e-6
    for _ in range(60):
        middle = (low + high) / 2.0
        r = rb * (math.tan(middle) - middle + space)
        low, high = (middle, high) if rb / math.cos(middle) - r < deepest else (low, middle)
    return max(0.0, rb * (math.tan(low) - low + space))
