"""Many trains at once: each error drawn within its band, and what each mesh then lacks of backlash at the worst place of a turn."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from trivet.record import record
from trivet.solve.binding_errors import OFFSET, RUN_OUT, TILT, ErrorMesh, TrainErrors
from trivet.solve.involute import involute

if TYPE_CHECKING:
    from numpy import float64
    from numpy.random import Generator
    from numpy.typing import NDArray

    Floats = NDArray[float64]

# Trains drawn at a time: arrays of this length stay in a processor's cache, and long trains need little memory.
BLOCK = 10_000


@record
class Changed:
    """What a run takes otherwise: sizes of kinds of error by a factor, and tilts held below a limit."""

    factors: tuple[tuple[str, float], ...] = ()
    tilt_at_most_rad: float = math.inf

    def factor(self, what: str) -> float:
        """How much of a kind of error is left."""
        return dict(self.factors).get(what, 1.0)


@record(eq=False)
class Draws:
    """Errors as shares of their bands, one value a train. Shifts by axis: (x, y) within the unit circle, of those that turn (length,).

    `tilts`: (share of the most, cosine, sine) of the direction; `flanks`: (offset, run-out) by cut, each in -1..1.
    """

    shifts: tuple[tuple[tuple[Floats, ...], ...], ...]
    tilts: tuple[tuple[Floats, ...], ...]
    flanks: tuple[tuple[Floats, Floats], ...]


def blocks(errors: TrainErrors, draws: int, seed: int) -> Iterator[Draws]:
    """Every error, evenly over its band: a shift over its circle, a tilt over its size and its direction, a flank over plus and minus.

    The generator is numpy's PCG64, the same bits on every platform.
    """
    import numpy

    stream = numpy.random.Generator(numpy.random.PCG64(seed))
    for start in range(0, draws, BLOCK):
        yield _block(errors, stream, min(BLOCK, draws - start))


def _block(errors: TrainErrors, stream: Generator, count: int) -> Draws:
    import numpy

    def direction() -> tuple[Floats, Floats]:
        angle = 2.0 * math.pi * stream.random(count)
        return numpy.cos(angle), numpy.sin(angle)

    def shift(turns: bool) -> tuple[Floats, ...]:
        # The square root spreads points evenly over the circle.
        length: Floats = numpy.sqrt(stream.random(count))
        if turns:
            return (length,)
        cosine, sine = direction()
        return length * cosine, length * sine

    shifts, tilts = [], []
    for axis in errors.axes:
        shifts.append(tuple(shift(item.turns) for item in axis.shifts))
        tilts.append((stream.random(count), *direction()) if axis.tilt_rad > 0.0 else ())
    flanks = [(2.0 * stream.random(count) - 1.0, 2.0 * stream.random(count) - 1.0) for _ in errors.cuts]
    return Draws(tuple(shifts), tuple(tilts), tuple(flanks))


@record(eq=False)
class _Axis:
    """An axis in each train: where its hole stands (x, y), how far its gear is off centre, its lean (x, y) in mm per mm of depth."""

    at: tuple[Floats, Floats]
    off_centre: Floats
    lean: tuple[Floats, Floats] | None


def shortages_mm(errors: TrainErrors, drawn: Draws, changed: Changed) -> tuple[Floats, ...]:
    """For each mesh, what it lacks of backlash in each train at the worst place of a turn: 0 or more where it binds, -inf elsewhere.

    In mm of nominal backlash: so much more of it would just do.
    """
    axes = tuple(_axis(errors, drawn, changed, index) for index in range(len(errors.axes)))
    flanks = tuple(
        drawn.flanks[index][0] * (cut.offset_mm * changed.factor(OFFSET))
        + drawn.flanks[index][1] * (cut.run_out_mm * changed.factor(RUN_OUT))
        for index, cut in enumerate(errors.cuts)
    )
    return tuple(_shortage_mm(mesh, axes, flanks) for mesh in errors.meshes)


def _axis(errors: TrainErrors, drawn: Draws, changed: Changed, index: int) -> _Axis:
    import numpy

    axis = errors.axes[index]
    count = drawn.flanks[0][0].size
    x, y, off = numpy.zeros(count), numpy.zeros(count), numpy.zeros(count)
    for item, shares in zip(axis.shifts, drawn.shifts[index], strict=True):
        size = item.size_mm * changed.factor(item.what)
        if item.turns:
            off += size * shares[0]
        else:
            x += size * shares[0]
            y += size * shares[1]
    lean = None
    most = min(axis.tilt_rad * changed.factor(TILT), changed.tilt_at_most_rad)
    if most > 0.0:
        share, cosine, sine = drawn.tilts[index]
        slope = numpy.tan(most * share)
        lean = slope * cosine, slope * sine
    return _Axis((x, y), off, lean)


def _shortage_mm(mesh: ErrorMesh, axes: tuple[_Axis, ...], flanks: tuple[Floats, ...]) -> Floats:
    """Exact, but only where a quick lower bound does not show that backlash is left.

    Gears off centre come nearest to their mates once in a turn, both at once sooner or later: the distance less both. A lean moves
    the gears together and sideways by w between the two ends of the face; each flank has half the backlash of its end less or plus w
    there, so the play is min(j0, j1, (j0 + j1)/2 - |w|), j0 and j1 the backlash at the far and the near end.
    """
    import numpy

    one, two = axes[mesh.axes[0]], axes[mesh.axes[1]]
    nominal = math.hypot(*mesh.along_mm)
    nx, ny = mesh.along_mm[0] / nominal, mesh.along_mm[1] / nominal
    # How far the second gear's axis is off against the first's, at the far end of the face: apart, and sideways.
    x, y = two.at[0] - one.at[0], two.at[1] - one.at[1]
    apart, sideways = nx * x + ny * y, nx * y - ny * x
    closer = one.off_centre + two.off_centre
    sides = flanks[mesh.cuts[0]] + flanks[mesh.cuts[1]]
    # The same from the near end to the far.
    opening, skew = numpy.zeros(apart.size), numpy.zeros(apart.size)
    for axis, reach, sign in ((one, mesh.reaches_mm[0], -1.0), (two, mesh.reaches_mm[1], 1.0)):
        if axis.lean is not None:
            along = sign * (nx * axis.lean[0] + ny * axis.lean[1])
            across = sign * (nx * axis.lean[1] - ny * axis.lean[0])
            apart, sideways = apart + reach * along, sideways + reach * across
            opening, skew = opening + mesh.overlap_mm * along, skew + mesh.overlap_mm * across
    # Backlash over distance is convex in the distance, and this is at least `nominal + apart`: the tangent is below the curve.
    base = mesh.first.base_radius_mm + mesh.second.base_radius_mm
    slope = 2.0 * math.sqrt(max(0.0, 1.0 / base**2 - 1.0 / nominal**2))
    start = float(_backlash(mesh, numpy.array([nominal]), numpy.zeros(1))[0])
    rough = _least(apart - closer, apart - opening - closer, slope, numpy.abs(skew) / nominal)
    maybe = numpy.flatnonzero(rough + (2.0 / base) * sides + start <= 0.0)
    apart, sideways, opening, skew = apart[maybe] + nominal, sideways[maybe], opening[maybe], skew[maybe]
    far = _backlash(mesh, numpy.hypot(apart, sideways) - closer[maybe], sides[maybe])
    near = _backlash(mesh, numpy.hypot(apart - opening, sideways - skew) - closer[maybe], sides[maybe])
    exact = -nominal * _least(far, near, 1.0, numpy.abs(skew) / nominal)
    found = numpy.full(rough.size, -math.inf)
    found[maybe] = numpy.where(exact >= 0.0, exact, -math.inf)
    return found


def _least(far: Floats, near: Floats, factor: float, skew: Floats) -> Floats:
    import numpy

    found: Floats = numpy.minimum(numpy.minimum(far, near) * factor, (far + near) * (factor / 2.0) - skew)
    return found


def _backlash(mesh: ErrorMesh, distance_mm: Floats, sides_mm: Floats) -> Floats:
    """Exact backlash over the centre distance: 2 (pi − (s1 + s2)/m)/(z1 + z2) + 2 (inv aw − inv a), and 2 q/cos aw for each gear's q.

    `backlash_mm` of `mesh_geometry`, with tan aw from the base circles; a distance below these leaves no play.
    """
    import numpy

    a, b = mesh.first, mesh.second
    base = a.base_radius_mm + b.base_radius_mm
    tangent = numpy.sqrt(numpy.maximum((distance_mm / base) ** 2 - 1.0, 0.0))
    thick = (a.thickness_mm + b.thickness_mm) / a.module_mm
    fixed = 2.0 * (math.pi - thick) / (a.teeth + b.teeth) - 2.0 * involute(a.pressure_angle_rad)
    found: Floats = fixed + 2.0 * (tangent - numpy.arctan(tangent)) + sides_mm * (2.0 / base)
    return found
