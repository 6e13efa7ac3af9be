"""A sample of virtual builds turned as polygons: the same teeth, but cut, swollen and turned as shapes are."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from shapely import Polygon
from shapely.affinity import affine_transform, rotate, translate
from tests.benchmarks.virtual_builds import ACROSS, ALONG, GRAINS, SHARES, Builds, Floats, Meshing, _gap, ends_of
from tests.oracles.recompute_facts import Fixture

from trivet.solve.gear_outline import gear_outline
from trivet.solve.gear_size import ToothGeometry

Shapes = tuple[tuple[ToothGeometry, float], tuple[ToothGeometry, float]]
# Overlap taken as touching, mm²: a sliver a chord deep; what it hides is under 0.003 mm.
TOUCH_MM2 = 1e-4


@dataclass(frozen=True)
class Sample:
    """`worst_mm`: largest difference of a flank's room by points and by polygons in `free` places that have play; of `tight` places without
    play, in how many the polygons overlap at the middle too.
    """

    free: int
    worst_mm: float
    tight: int
    overlap: int


def sampled(f: Fixture, mesh: Meshing, shapes: Shapes, builds: Builds, plays_mm: Floats, count: int, seed: int) -> Sample:
    """`count` drawn places; `shapes`: (teeth, cutter's diameter) of both gears.

    A build, an end of the year and of the face, a place of the pitch, the directions of both grains and the side are drawn, every second
    build from those whose play (`plays_mm`, by build) is least, a fiftieth of all. Places with less
    than 0.02 mm of play or of overlap are neither: chords and the tooth's points hide that much.
    """
    dice = np.random.default_rng(seed)
    radius = math.hypot(*mesh.along_mm) * mesh.teeth[0].z / (mesh.teeth[0].z + mesh.teeth[1].z)
    worst, free, tight, overlap = 0.0, 0, 0, 0
    tightest = np.argsort(plays_mm, kind="stable")[: max(1, plays_mm.size // 50)]
    for index in range(count):
        chosen = np.array([dice.choice(tightest) if index % 2 else dice.integers(plays_mm.size)])
        change, ends = ends_of(f, mesh, builds, chosen)[int(dice.integers(2))]
        apart = ends[int(dice.integers(2))]
        share, grain = SHARES[int(dice.integers(len(SHARES)))], GRAINS[int(dice.integers(len(GRAINS)))]
        side, flank = (1, -1)[int(dice.integers(2))], builds.flank_mm[chosen]
        mine, other = (float(_gap(mesh, apart, share, grain, change, flank, way)[0]) for way in (side, -side))
        touches = _turning(mesh, shapes, (float(apart[0, 0]), float(apart[0, 1])), share, grain, float(change[0]), float(flank[0]), side)
        middle, play = (mine - other) / 2.0, (mine + other) * radius
        if play > 0.02:
            assert not touches(middle), (chosen, share, grain, side)
            low, high = middle, middle + 0.6 / radius + mine
            for _ in range(16):
                half = (low + high) / 2.0
                low, high = (low, half) if touches(half) else (half, high)
            worst, free = max(worst, abs((low + high) / 2.0 - mine) * radius), free + 1
        elif play < -0.02:
            tight += 1
            overlap += touches(middle)
    return Sample(free, worst, tight, overlap)


def _turning(
    mesh: Meshing, shapes: Shapes, apart: tuple[float, float], share: float, grain: tuple[float, float], change: float, flank: float, side: int
) -> Callable[[float], bool]:
    """Whether the gears touch when the first is turned by an angle, rad, from even play towards its flank on a side."""
    line = math.atan2(mesh.along_mm[1], mesh.along_mm[0])
    one, two = mesh.teeth
    # A space of the first towards the second, a tooth of the second towards the first.
    first = _wood(shapes[0], math.pi / one.z + 2.0 * math.pi / one.z * share, grain[0], change, flank)
    second = _wood(shapes[1], math.pi - 2.0 * math.pi / two.z * share, grain[1], change, flank)
    second = translate(rotate(second, line, origin=(0.0, 0.0), use_radians=True), *apart)

    def touches(angle: float) -> bool:
        turned = rotate(first, line - side * angle, origin=(0.0, 0.0), use_radians=True)
        return bool(turned.intersection(second).area > TOUCH_MM2)

    return touches


def _wood(shape: tuple[ToothGeometry, float], phase: float, grain_deg: float, change: float, flank: float) -> Polygon:
    """The outline cut `flank` small all round, a tooth at `phase`, swollen along and across its grain."""
    teeth, cutter = shape
    points = gear_outline(teeth, cutter / 2.0, phase).contour.points(0.0005)
    cut = Polygon(points).buffer(-flank, quad_segs=64)
    c, s = math.cos(math.radians(grain_deg)), math.sin(math.radians(grain_deg))
    a, b = 1.0 + ALONG * change, 1.0 + ACROSS * change
    return affine_transform(cut, (a * c * c + b * s * s, (a - b) * c * s, (a - b) * c * s, a * s * s + b * c * c, 0.0, 0.0))
