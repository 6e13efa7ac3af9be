"""The chance that a train binds: from seeded draws of all its errors at once."""

from __future__ import annotations

import math
from functools import lru_cache

from trivet.model.design import Design
from trivet.record import record, replace
from trivet.solve.binding_draws import Changed, blocks, shortages_mm
from trivet.solve.binding_errors import BORE, SOCKET, TILT, TrainErrors, train_errors
from trivet.solve.derived import Derived
from trivet.units import length_text

SEED = 20
DRAWS = 100_000
# A hundred thousand draws give the chance to about ±0.0014 at one in twenty (two standard errors); more digits would say nothing.
DECIMALS = 4
# Assumed, no source: a block of wood with a hole that guides the driver or the insert keeps it this straight.
GUIDE_BLOCK_DEG = 0.5
# A second bore that holds a screw upright, as wide of the screw and as long as this: assumed, no source.
GUIDE_CLEARANCE_MM, GUIDE_LENGTH_MM = 0.1, 20.0
MORE_BACKLASH_MM = 0.1
STEP_MM = 0.01


@record
class Binding:
    """Chances in 0..1. `chance`: that some mesh of the train has no backlash somewhere in a turn, or some closed ring finds tooth on tooth;
    None in a train without meshes.

    `meshes`: (mesh id, its own chance), the likeliest first; `rings`: (gears in order, its own chance beside that of its meshes).
    `contributors`: (kind of error, the train's chance without it), the one whose absence helps most first. `remedies`: (what, the train's
    chance with it, the kinds of error it is against). `with_more`: the chance with 0, 1, 2 … steps of 0.01 mm more backlash in all meshes,
    down to 0.
    """

    chance: float | None
    draws: int
    seed: int
    meshes: tuple[tuple[str, float], ...]
    contributors: tuple[tuple[str, float], ...] = ()
    remedies: tuple[tuple[str, float, tuple[str, ...]], ...] = ()
    with_more: tuple[float, ...] = (0.0,)
    rings: tuple[tuple[tuple[str, ...], float], ...] = ()

    def share(self, without: float) -> float:
        """The part of the risk, 0..1, that is gone without an error; parts of several need not add to one."""
        return max(0.0, 1.0 - without / self.chance) if self.chance else 0.0

    def more_backlash_mm(self, limit: float) -> float:
        """By how much (in steps of 0.01 mm) every backlash must grow for a chance of at most `limit`."""
        return next(
            (step * STEP_MM for step, chance in enumerate(self.with_more) if chance <= limit), len(self.with_more) * STEP_MM
        )


def binding(design: Design, derived: Derived, draws: int = DRAWS, seed: int = SEED) -> Binding:
    """The chances, each error uniform within its band; what each error carries and each remedy gives is judged on the same draws.

    Same design, same figures on every platform: the generator is fixed and results are rounded.
    """
    meshes = derived.train.meshes
    if not meshes:
        return Binding(None, draws, seed, ())
    errors = train_errors(design, derived)
    found = _run(errors, draws, seed, design.units) if errors.meshes else Binding(0.0, draws, seed, ())
    known = dict(found.meshes)
    chances = sorted(((mesh.id, known.get(mesh.id, 0.0)) for mesh in meshes), key=lambda item: (-item[1], item[0]))
    return replace(found, meshes=tuple(chances))


@lru_cache(maxsize=4)
def _run(errors: TrainErrors, draws: int, seed: int, unit: str) -> Binding:
    """Remembered because the rule, the requirement, the summary and the report all ask."""
    import numpy

    kinds, remedies = errors.kinds(), _remedies(errors, unit)
    changes = (*(Changed(factors=((kind, 0.0),)) for kind in kinds), *(changed for _, changed, _ in remedies))
    counts = [0] * len(changes)
    alone = [0] * (len(errors.meshes) + len(errors.rings))
    lacking = []
    for drawn in blocks(errors, draws, seed):
        short = shortages_mm(errors, drawn, Changed())
        alone = [count + int(numpy.count_nonzero(item >= 0.0)) for count, item in zip(alone, short, strict=True)]
        most = numpy.maximum.reduce(short)
        lacking.append(most[most >= 0.0])
    rings = tuple(ring.gears for ring in errors.rings)
    if not any(item.size for item in lacking):
        # Where nothing binds there is nothing to ease, and most trains are so.
        none = tuple((mesh.id, 0.0) for mesh in errors.meshes)
        return Binding(0.0, draws, seed, none, rings=tuple((gears, 0.0) for gears in rings))
    for drawn in blocks(errors, draws, seed):
        for index, changed in enumerate(changes):
            worst = numpy.maximum.reduce(shortages_mm(errors, drawn, changed))
            counts[index] += int(numpy.count_nonzero(worst >= 0.0))

    def chance(count: int) -> float:
        return round(count / draws, DECIMALS)

    lack = numpy.sort(numpy.concatenate(lacking))
    steps = math.ceil(float(lack[-1]) / STEP_MM) + 1
    more = (*(chance(lack.size - int(numpy.searchsorted(lack, step * STEP_MM))) for step in range(steps)), 0.0)
    after = [chance(count) for count in counts]
    added = round(MORE_BACKLASH_MM / STEP_MM)
    thinned = f"both gears of every mesh {MORE_BACKLASH_MM / 2.0:g} mm thinner in the tooth ({MORE_BACKLASH_MM:g} mm more backlash)"
    return Binding(
        chance(lack.size),
        draws,
        seed,
        tuple((mesh.id, chance(count)) for mesh, count in zip(errors.meshes, alone, strict=False)),
        tuple(sorted(zip(kinds, after, strict=False), key=lambda item: item[1])),
        (
            *((what, left, against) for (what, _, against), left in zip(remedies, after[len(kinds) :], strict=True)),
            (thinned, next(iter(more[added:]), 0.0), ()),
        ),
        more,
        tuple((gears, chance(count)) for gears, count in zip(rings, alone[len(errors.meshes) :], strict=True)),
    )


def _remedies(errors: TrainErrors, unit: str) -> tuple[tuple[str, Changed, tuple[str, ...]], ...]:
    """(what, what it changes, the kinds of error it is against): those that change something here."""
    found: list[tuple[str, Changed, tuple[str, ...]]] = []
    kinds = errors.kinds()

    def leans(most_rad: float) -> bool:
        return TILT in kinds and any(axis.tilt_rad > most_rad + 1e-9 for axis in errors.axes)

    bore = math.atan(GUIDE_CLEARANCE_MM / GUIDE_LENGTH_MM)
    if leans(bore):
        room, long = length_text(GUIDE_CLEARANCE_MM, unit), length_text(GUIDE_LENGTH_MM, unit)
        what = f"a guide bore for each screw ({long} long, {room} wider than it, assumed)"
        found.append((what, Changed(tilt_at_most_rad=bore), (TILT,)))
    block = math.radians(GUIDE_BLOCK_DEG)
    if leans(block):
        what = f"inserts driven with a guide block ({GUIDE_BLOCK_DEG:g}°, assumed)"
        found.append((what, Changed(tilt_at_most_rad=block), (TILT,)))
    plays = tuple(kind for kind in kinds if kind in (BORE, SOCKET))
    if plays:
        found.append(("bores with half the clearance", Changed(factors=tuple((kind, 0.5) for kind in plays)), plays))
    # What a mesh of standard centres gains by its first term, 2 dA tan a, rounded to what can be drawn.
    spread = max(MORE_BACKLASH_MM / (2.0 * math.tan(mesh.first.pressure_angle_rad)) for mesh in errors.meshes)
    spread = round(spread / STEP_MM) * STEP_MM
    found.append((f"all centres {length_text(spread, unit)} further apart", Changed(apart_mm=spread), ()))
    return tuple(found)
