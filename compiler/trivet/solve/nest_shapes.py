"""Shapes that keep their distance: outlines grown by half the spacing, and where one may lie beside another.

Two grown outlines that do not overlap leave the spacing between the outlines themselves. Where the second's (0, 0) must not lie is the
Minkowski sum of the first and the second turned through half a turn (the no-fit region; Bennell & Oliveira, The geometry of nesting
problems, European Journal of Operational Research 184, 2008, from memory).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from trivet.record import record
from trivet.solve.contour import Contour

if TYPE_CHECKING:
    from shapely import Polygon

# Arcs become chords this close to them; corners are dropped that stand out less; both are made up for by growing, mm.
CHORD_MM, PLAIN_MM = 0.02, 0.15
# Notches that hold less than this share of a shape are filled: once grown, the spaces between teeth are too narrow for another tooth.
NOTCH_SHARE = 0.08
_QUARTER = 8
_HAIR_MM = 0.03


@record
class Grown:
    """A grown outline at one turn. `box`: bounds of the outline itself, not grown (x0, y0, x1, y1)."""

    points: tuple[tuple[float, float], ...]
    convex: bool
    box: tuple[float, float, float, float]

    def polygon(self) -> Polygon:
        """As a polygon."""
        from shapely import Polygon

        return Polygon(self.points)


def grown(outline: Contour, half_mm: float, turn_deg: float, notch_share: float = NOTCH_SHARE) -> Grown:
    """The outline turned anticlockwise about (0, 0) and grown by `half_mm`, never by less; one that crosses itself (in a draft) by its hull."""
    from shapely import Polygon

    turned = outline.rotated(math.radians(turn_deg)) if turn_deg else outline
    # The chords of a quarter turn in eight cut the round by (1 - cos(pi/32)) of its radius.
    short = half_mm * (1.0 - math.cos(math.pi / (4.0 * _QUARTER)))
    drawn = Polygon(turned.points(CHORD_MM))
    shape = (drawn if drawn.is_valid else drawn.convex_hull).buffer(half_mm + short + CHORD_MM + PLAIN_MM, quad_segs=_QUARTER)
    full = Polygon(shape.exterior)
    hull = full.convex_hull
    convex = hull.area <= full.area * (1.0 + notch_share)
    plain = (hull if convex else full).simplify(PLAIN_MM, preserve_topology=True)
    points = tuple((round(x, 4), round(y, 4)) for x, y in list(plain.exterior.coords)[:-1])
    return Grown(points, convex, turned.bounds)


def forbidden(first: Grown, second: Grown) -> Any:
    """Where the second's (0, 0) must not lie when the first's lies at (0, 0): a shapely geometry."""
    import numpy
    import shapely

    a = numpy.array(first.points)
    b = -numpy.array(second.points)
    if first.convex and second.convex:
        sums = (a[:, None, :] + b[None, :, :]).reshape(-1, 2)
        return shapely.MultiPoint(sums).convex_hull
    # The sum of two filled outlines: the outlines at one another's first point, and every edge moved along every edge.
    a1, b1 = numpy.roll(a, -1, axis=0), numpy.roll(b, -1, axis=0)
    corners = numpy.stack(
        [
            a[:, None] + b[None, :],
            a1[:, None] + b[None, :],
            a1[:, None] + b1[None, :],
            a[:, None] + b1[None, :],
        ],
        axis=2,
    ).reshape(-1, 4, 2)
    edges = shapely.polygons(corners)
    edges = edges[shapely.area(edges) > 0.0]
    filled = [shapely.Polygon(a + b[0]), shapely.Polygon(b + a[0])]
    # Rounding leaves hairlines between the pieces of the sum, which would pass for places.
    return shapely.union_all([*filled, *edges]).buffer(_HAIR_MM, quad_segs=2)
