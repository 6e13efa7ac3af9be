"""Many trains at once: each error drawn within its band, and what each mesh then lacks of backlash at the worst place of a turn."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from trivet.record import record
from trivet.solve.binding_errors import MOISTURE, OFFSET, RUN_OUT, TILT, TrainErrors
from trivet.solve.binding_rings import ErrorMesh
from trivet.solve.binding_shortage import Stand, ring_shortage_mm, shortage_mm

if TYPE_CHECKING:
    from numpy import float64
    from numpy.random import Generator
    from numpy.typing import NDArray

    Floats = NDArray[float64]

# Trains drawn at a time: arrays of this length stay in a processor's cache, and long trains need little memory.
BLOCK = 10_000


@record
class Changed:
    """What a run takes otherwise: sizes of kinds of error by a factor, tilts held below a limit, centres so much further apart."""

    factors: tuple[tuple[str, float], ...] = ()
    tilt_at_most_rad: float = math.inf
    apart_mm: float = 0.0

    def factor(self, what: str) -> float:
        """How much of a kind of error is left."""
        return dict(self.factors).get(what, 1.0)


@record(eq=False)
class Draws:
    """Errors as shares of their bands, one value a train. Shifts by axis: (x, y) within the unit circle, of those that turn (length,).

    `tilts`: (share of the most, cosine, sine) of the direction; `flanks`: (offset, run-out) by cut, each in -1..1; `made_at`: where in the
    range of moisture all parts are made, 0 the driest.
    """

    shifts: tuple[tuple[tuple[Floats, ...], ...], ...]
    tilts: tuple[tuple[Floats, ...], ...]
    flanks: tuple[tuple[Floats, Floats], ...]
    made_at: Floats


def blocks(errors: TrainErrors, draws: int, seed: int) -> Iterator[Draws]:
    """Every error, evenly over its band: a shift over its circle, a tilt over its size and its direction, a flank over plus and minus, and the
    moisture at which the parts are made over its range.

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
    return Draws(tuple(shifts), tuple(tilts), tuple(flanks), stream.random(count))


@record(eq=False)
class _Axis:
    """An axis in each train: where its hole stands (x, y), how far its gear is off centre, its lean (x, y) in mm per mm of depth."""

    at: tuple[Floats, Floats]
    off_centre: Floats
    lean: tuple[Floats, Floats] | None


def shortages_mm(errors: TrainErrors, drawn: Draws, changed: Changed) -> tuple[Floats, ...]:
    """For each mesh, then each ring, what it lacks of backlash in each train at the worst place of a turn: 0 or more where it binds, -inf
    elsewhere. In mm of nominal backlash: so much more of it, at every mesh of a ring, would just do.
    """
    axes = tuple(_axis(errors, drawn, changed, index) for index in range(len(errors.axes)))
    flanks = tuple(
        drawn.flanks[index][0] * (cut.offset_mm * changed.factor(OFFSET))
        + drawn.flanks[index][1] * (cut.run_out_mm * changed.factor(RUN_OUT))
        for index, cut in enumerate(errors.cuts)
    )
    moist = errors.moisture_percent * changed.factor(MOISTURE)
    stand = tuple(_stand(mesh, axes, flanks, drawn.made_at * moist, changed.apart_mm, moist) for mesh in errors.meshes)
    return (
        *(shortage_mm(mesh, stands) for mesh, stands in zip(errors.meshes, stand, strict=True)),
        *(ring_shortage_mm(ring, errors, stand, [axis.off_centre for axis in axes]) for ring in errors.rings),
    )


def _axis(errors: TrainErrors, drawn: Draws, changed: Changed, index: int) -> _Axis:
    import numpy

    axis = errors.axes[index]
    count = drawn.made_at.size
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


def _stand(
    mesh: ErrorMesh, axes: tuple[_Axis, ...], flanks: tuple[Floats, ...], drier: Floats, apart_mm: float, moist: float
) -> Stand:
    """`drier`: how much drier the wood may be in use than when it was made, percent; it may be wetter by what is left of `moist`."""
    import numpy

    one, two = axes[mesh.axes[0]], axes[mesh.axes[1]]
    nominal = math.hypot(*mesh.along_mm)
    nx, ny = mesh.along_mm[0] / nominal, mesh.along_mm[1] / nominal
    x, y = two.at[0] - one.at[0], two.at[1] - one.at[1]
    apart, sideways = nx * x + ny * y + apart_mm, nx * y - ny * x
    # The worst moisture of the year for this mesh.
    apart = apart - numpy.maximum(mesh.closer_mm[1] * drier, numpy.maximum(mesh.closer_mm[0] * (moist - drier), 0.0))
    opening, skew = numpy.zeros(apart.size), numpy.zeros(apart.size)
    for axis, reach, sign in ((one, mesh.reaches_mm[0], -1.0), (two, mesh.reaches_mm[1], 1.0)):
        if axis.lean is not None:
            along = sign * (nx * axis.lean[0] + ny * axis.lean[1])
            across = sign * (nx * axis.lean[1] - ny * axis.lean[0])
            apart, sideways = apart + reach * along, sideways + reach * across
            opening, skew = opening + mesh.overlap_mm * along, skew + mesh.overlap_mm * across
    return Stand(apart, sideways, opening, skew, one.off_centre + two.off_centre, flanks[mesh.cuts[0]] + flanks[mesh.cuts[1]])
