"""One tooth of a gear as its cutter leaves it, as points close together."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

from trivet.record import record
from trivet.solve.gear_outline import gear_outline
from trivet.solve.gear_size import ToothGeometry

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Floats = NDArray[float64]

# Points lie so far apart on the arcs: between two of them a chord is 0.0001 mm off the least fillet of 3 mm.
STEP_MM = 0.05


@record(eq=False)
class CutTooth:
    """A tooth centred on +x. Lengths mm, angles radians.

    `radii`, `half_angles`: half the angle that its material fills at a radius, from the deepest place of the root outwards, (n,).
    `around`: (radius, angle) of its boundary from the root on the clockwise side to the end of the tip, (2, n): the other flank is the mirror
    image, and meets the other side of a space.
    `at_tip`: where the tip lies in `around`, both corners included, (n,) of truth values.
    """

    radii: Floats
    half_angles: Floats
    around: Floats
    at_tip: NDArray[float64]

    @property
    def tip_radius_mm(self) -> float:
        """Where the tooth ends."""
        return float(self.radii[-1])

    @property
    def bottom_radius_mm(self) -> float:
        """Where the root is deepest."""
        return float(self.radii[0])


@lru_cache(maxsize=64)
def cut_tooth(gear: ToothGeometry, cutter_radius_mm: float) -> CutTooth:
    """The tooth between the middles of its two spaces."""
    import numpy

    vertices = gear_outline(gear, cutter_radius_mm).contour.vertices
    count = len(vertices) // gear.teeth
    # One tooth's vertices run from one side of its root over the tip to the other; the next tooth's first one ends its root.
    corners = [(vertex.x, vertex.y, vertex.bulge) for vertex in vertices[: count + 1]]
    tip = max(math.hypot(x, y) for x, y, _ in corners)
    start = next(k for k in reversed(range(count)) if math.hypot(*corners[k][:2]) > tip - 1e-9)
    pieces = [_points(*corners[k], *corners[k + 1][:2]) for k in range(start, count)]
    path = numpy.concatenate(pieces, axis=1)
    radii, angles = numpy.hypot(path[0], path[1]), numpy.arctan2(path[1], path[0])
    kept = angles <= gear.half_pitch_angle_rad + 1e-12
    radii, angles = radii[kept][::-1], angles[kept][::-1]
    # A root arc has one radius: its end next to the flank is kept, for what is below it is all material.
    rising = numpy.concatenate((numpy.diff(radii) > 1e-9, [True]))
    radii, angles = radii[rising], angles[rising]
    turns = max(2, math.ceil(2.0 * angles[-1] * tip / (4.0 * STEP_MM)))
    over = numpy.linspace(-angles[-1], angles[-1], turns + 1)
    around = numpy.array(
        (
            numpy.concatenate((radii[:-1], numpy.full(over.size, radii[-1]))),
            numpy.concatenate((-angles[:-1], over)),
        )
    )
    at_tip = numpy.zeros(around.shape[1])
    at_tip[radii.size - 1 :] = 1.0
    return CutTooth(radii, angles, around, at_tip)


def _points(x0: float, y0: float, bulge: float, x1: float, y1: float) -> Floats:
    """Points on a line or an arc, both ends included, (2, n)."""
    import numpy

    chord = math.hypot(x1 - x0, y1 - y0)
    count = max(2, math.ceil(chord / STEP_MM) + 1)
    share = numpy.linspace(0.0, 1.0, count)
    if abs(bulge) < 1e-12:
        line: Floats = numpy.array((x0 + share * (x1 - x0), y0 + share * (y1 - y0)))
        return line
    offset = (1.0 - bulge**2) / (4.0 * bulge)
    cx, cy = (x0 + x1) / 2.0 - (y1 - y0) * offset, (y0 + y1) / 2.0 + (x1 - x0) * offset
    angle = math.atan2(y0 - cy, x0 - cx) + 4.0 * math.atan(bulge) * share
    radius = math.hypot(x0 - cx, y0 - cy)
    found: Floats = numpy.array((cx + radius * numpy.cos(angle), cy + radius * numpy.sin(angle)))
    return found
