"""Two cut gears turned against each other through a whole tooth pitch: overlap, backlash and contact, measured on the outlines.

No shape is cut with another where there is play: each point of a tooth has its distance from the mate's centre, and how far the mate
must turn before its outline is there follows from its tooth's width at that distance.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

from trivet.record import record
from trivet.solve.as_cut_tooth import CutTooth, cut_tooth
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.outline_overlap import outline_overlap_mm2

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Floats = NDArray[float64]

# Places looked at in a pitch, and pitches either side of the line of centres: contact ratios of external gears are below 2.
STEPS, PITCHES = 32, 2
# A change of contact is looked at again in so many places.
FINER = 32


@record
class AsCutMesh:
    """Both gears at a centre distance, each flank where its cutter left it.

    `overlap_mm2`: the largest over a pitch, each gear held where flanks as designed have even play. `backlash_mm`: the least play over a
    pitch, on the working circle; 0 where none is left, a whole pitch where the teeth do not reach each other. `contact_ratio`: the turn
    through which one pair of flanks touches, in pitches; where a tip or a fillet touches instead, the flanks do not.

    What the last two rest on: `free_rad`, the least turn of the gear with `free_teeth` teeth that both its flanks leave, `free_at` pitches
    from the line of centres; `touch`, where flanks begin and cease to touch, in pitches from there. `laid_over`: whether the outlines were
    laid over each other, because something left no room.
    """

    centre_distance_mm: float
    overlap_mm2: float
    backlash_mm: float
    contact_ratio: float
    free_rad: float = 0.0
    free_teeth: int = 0
    free_at: float = 0.0
    touch: tuple[float, float] = (0.0, 0.0)
    laid_over: bool = False


def as_cut_mesh(
    a: ToothGeometry, b: ToothGeometry, centre_distance_mm: float, cutter_radii_mm: tuple[float, float]
) -> AsCutMesh:
    """Measured; `cutter_radii_mm`: what cuts each gear. Equal pairs at one distance are turned once, whichever comes first."""
    ends = [(_order(a, cutter_radii_mm[0]), a, cutter_radii_mm[0]), (_order(b, cutter_radii_mm[1]), b, cutter_radii_mm[1])]
    (_, one, first), (_, two, second) = sorted(ends, key=lambda end: end[0])
    return _measured(one, two, round(centre_distance_mm, 9), first, second)


def _order(gear: ToothGeometry, radius: float) -> tuple[float, ...]:
    return gear.teeth, gear.profile_shift, gear.thinning_mm, gear.tip_shortening_mm, gear.dedendum_coefficient, radius


@lru_cache(maxsize=256)
def _measured(a: ToothGeometry, b: ToothGeometry, distance_mm: float, first_mm: float, second_mm: float) -> AsCutMesh:
    import numpy

    pair = _Pair(cut_tooth(a, first_mm), cut_tooth(b, second_mm), a.half_pitch_angle_rad, b.half_pitch_angle_rad, distance_mm)
    phases = numpy.arange(-PITCHES * STEPS, PITCHES * STEPS) / STEPS
    seen = pair.at(phases)
    # What the teeth of one share of a pitch have in common: phases a whole pitch apart. The other flank is the mirror image.
    free = seen.gap.reshape(2 * PITCHES, STEPS).min(axis=0)
    mirrored = free[-numpy.arange(STEPS) % STEPS]
    least = int((free + mirrored).argmin())
    turn = min(float(free[least] + mirrored[least]), 2.0 * a.half_pitch_angle_rad)
    play = turn * distance_mm * a.teeth / (a.teeth + b.teeth)
    # Held evenly, each flank needs room of its own.
    clear = float(free.min()) > 0.0
    overlap = 0.0 if clear else outline_overlap_mm2(a, b, distance_mm, (first_mm, second_mm))
    touch = _contact(pair, phases, seen.flanks_touch)
    return AsCutMesh(
        distance_mm, overlap, max(play, 0.0), touch[1] - touch[0], turn, a.teeth, least / STEPS, touch, not clear
    )  # fmt: skip


def _contact(pair: _Pair, phases: Floats, touch: NDArray[float64]) -> tuple[float, float]:
    """Ends of the longest run of phases at which flank touches flank, looked at closely."""
    best = (0, 0)
    start = None
    for index, value in enumerate([*touch.tolist(), False]):
        if value and start is None:
            start = index
        elif not value and start is not None:
            best = max(best, (start, index), key=lambda run: run[1] - run[0])
            start = None
    if best == (0, 0):
        return 0.0, 0.0
    import numpy

    ends = []
    for inside, outside in ((best[0], best[0] - 1), (best[1] - 1, best[1])):
        if not 0 <= outside < phases.size:
            ends.append(float(phases[inside]))
            continue
        finer = numpy.linspace(phases[inside], phases[outside], FINER + 1)
        still = pair.at(finer).flanks_touch
        last = int(numpy.argmin(still)) if not still.all() else FINER
        ends.append(float(finer[max(last - 1, 0)] + finer[last]) / 2.0)
    return ends[0], ends[1]


@record(eq=False)
class _Seen:
    """By phase: the turn of the first gear that is free, rad; whether the nearest places lie on both flanks."""

    gap: Floats
    flanks_touch: NDArray[float64]


@record(eq=False)
class _Pair:
    """A space of the first gear and the tooth of the second that goes through it; `half`, `half_mate`: half their pitches, rad."""

    space: CutTooth
    tooth: CutTooth
    half: float
    half_mate: float
    distance_mm: float

    def at(self, phases: Floats) -> _Seen:
        """The tooth on one side of the space, the anticlockwise one, at phases in pitches from the line of centres, (p,)."""
        import numpy

        radius, angle = self.tooth.around
        turned = math.pi - 2.0 * self.half_mate * phases[:, None] + angle[None, :]
        x, y = self.distance_mm + radius * numpy.cos(turned), radius * numpy.sin(turned)
        out = numpy.hypot(x, y)
        aside = numpy.arctan2(y, x) - 2.0 * self.half * phases[:, None]
        width = self.half - numpy.interp(out, self.space.radii, self.space.half_angles)
        # Below the root there is wood from one tooth to the next.
        width = numpy.where(out < self.space.bottom_radius_mm, 0.0, width)
        gap = width - aside
        gap[out > self.space.tip_radius_mm] = math.inf
        nearest = gap.argmin(axis=1)
        rows = numpy.arange(phases.size)
        least = gap[rows, nearest]
        after = numpy.minimum(nearest + 1, gap.shape[1] - 1)
        before = numpy.maximum(nearest - 1, 0)
        inner = numpy.isfinite(gap[rows, after]) & numpy.isfinite(gap[rows, before]) & (after > nearest) & (before < nearest)
        touch = numpy.isfinite(least) & inner & (self.tooth.at_tip[nearest] == 0.0)
        return _Seen(least, touch)
