"""Teeth, places and backlash of the second calculation: curves unwound from a string, distances searched by halving, no inverse involute.

Rack proportions are the model's (ISO 53 unless stated). Lengths mm, angles rad.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

from tests.oracles.recompute_gears import unwound
from tests.oracles.second_facts import Facts, facts


def halved(low: float, high: float, below: Callable[[float], bool]) -> float:
    """Where `below` turns from true to false."""
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if below(middle) else (low, middle)
    return (low + high) / 2


@dataclass(frozen=True)
class Teeth:
    """z, m, pressure angle, shift, thinning, addendum and dedendum in modules, what is taken off the tips."""

    z: int
    m: float
    a: float
    x: float = 0.0
    thin: float = 0.0
    high: float = 1.0
    deep: float = 1.25
    cut: float = 0.0

    @property
    def r(self) -> float:
        return self.z * self.m / 2

    @property
    def rb(self) -> float:
        return self.r * math.cos(self.a)

    @property
    def rf(self) -> float:
        return self.r + self.m * (self.x - self.deep)

    @property
    def tip(self) -> float:
        """As the rack has it."""
        return self.r + self.m * (self.high + self.x) - self.cut

    @property
    def ra(self) -> float:
        """Where the tooth ends: at its tip circle, or where its flanks meet before."""
        return self.tip if self.half(self.tip) > 0 else halved(self.rb, self.tip, lambda r: self.half(r) > 0)

    @property
    def s(self) -> float:
        return self.m * math.pi / 2 + 2 * self.x * self.m * math.tan(self.a) - self.thin

    def half(self, radius: float) -> float:
        """Half the angle that a tooth fills at a radius."""
        return self.s / (2 * self.r) + unwound(self.r, self.rb) - unwound(radius, self.rb)


def backlash(one: Teeth, two: Teeth, distance: float) -> float:
    """On the working circles: the pitch there less both teeth."""
    total = one.z + two.z
    filled = sum(2 * distance * g.z / total * g.half(distance * g.z / total) for g in (one, two))
    return 2 * math.pi * distance / total - filled


def working_angle(one: Teeth, two: Teeth, distance: float) -> float:
    """Between the common tangent of both base circles and the tangent at the pitch point."""
    return math.acos(min(1.0, (one.rb + two.rb) / distance))


def line(g: Teeth) -> float:
    """From where the line of action touches the base circle to the tip."""
    return math.sqrt(max(0.0, g.ra**2 - g.rb**2))


def contact_ratio(one: Teeth, two: Teeth, distance: float) -> float:
    whole = math.sqrt(distance**2 - (one.rb + two.rb) ** 2)
    return (line(one) + line(two) - whole) * one.z / (2 * math.pi * one.rb)


def reach_past(one: Teeth, two: Teeth, distance: float) -> float:
    """How far the tip of `one` reaches past the end of the other's involute, positive where it does."""
    whole = math.sqrt(distance**2 - (one.rb + two.rb) ** 2)
    return one.ra - math.hypot(one.rb, whole)


def goes_down(gear: Teeth, r: float) -> tuple[float, float] | None:
    """(radius to which a cutter of radius r comes down in a tooth space, length of the string where it touches the flanks); None: not at all.

    A cutter that touches a flank where the string is so long has its centre on the string, r further out. It is followed down until it
    touches both flanks or the root circle; under the base circle flanks are radial.
    """
    side = math.pi / gear.z - gear.half(gear.rb)

    def middle(pull: float) -> tuple[float, float]:
        """Radius of its centre, and the angle of that from the middle of the space (0: it touches both flanks)."""
        return math.hypot(gear.rb, pull + r), side + pull / gear.rb - math.atan2(pull + r, gear.rb)

    def free(pull: float) -> bool:
        radius, off = middle(pull)
        return off > 0 and radius - r > max(gear.rf, 0.0)

    top = line(gear)
    if not free(top):
        return None
    if free(0.0):
        return max(gear.rf, 0.0, r / math.sin(side) - r), 0.0
    pull = halved(0.0, top, lambda low: not free(low))
    return (max(gear.rf, 0.0) if middle(pull)[1] > 1e-6 else middle(pull)[0] - r), pull


def shape(f: Facts, gear: str) -> Teeth:
    """Before it is thinned."""
    form, made = f.form(gear), f.gears[gear]
    shift = float(made.profile_shift.number) if made.profile_shift is not None else 0.0
    return Teeth(
        made.z, form.module_mm, math.radians(form.pressure_angle_deg), shift, 0.0, form.addendum, form.dedendum, form.tip_shortening_mm
    )


@cache
def tight(one: Teeth, two: Teeth) -> float:
    """Where unthinned teeth have no backlash."""
    low = one.rb + two.rb
    return halved(low, 2 * low, lambda distance: backlash(one, two, distance) < 0)


@cache
def _thinned(one: Teeth, two: Teeth, distance: float, want: float) -> float:
    """How much both teeth are thinned alike until the backlash is there; never thickened."""
    return halved(0.0, 5.0, lambda t: backlash(replace(one, thin=t), replace(two, thin=t), distance) < want)


@dataclass(frozen=True)
class Train:
    """Places of the gears, the distance of each pair, and the teeth as they are thinned."""

    places: dict[str, tuple[float, float]]
    distances: dict[frozenset[str], float]
    teeth: dict[str, Teeth]


@cache
def train(name: str) -> Train:
    """From the places stated, gear by gear along the angles of meshes; a gear on a shaft stands where its mate does."""
    f = facts(name)
    bare = {gear: shape(f, gear) for gear in f.gears}
    places = {gear: (made.at.x, made.at.y) for gear, made in f.gears.items() if made.at is not None}

    def wanted(pair: frozenset[str]) -> float:
        mesh = f.pairs[pair]
        if mesh is not None and mesh.centre_distance is not None:
            return float(mesh.centre_distance.mm)
        one, two = sorted(pair)
        return tight(bare[one], bare[two])

    for ring in f.design.rings:
        names = [gear.text for gear in ring.gears]
        chord = wanted(frozenset(names[:2]))
        assert all(abs(wanted(frozenset((a, b))) - chord) < 1e-9 for a, b in itertools.pairwise(names)), "unequal ring"
        radius = chord / 2 / math.sin(math.pi / len(names))
        for index, gear in enumerate(names):
            turn = math.radians(ring.first_at.value) + 2 * math.pi * index / len(names)
            places[gear] = ring.around.x + radius * math.cos(turn), ring.around.y + radius * math.sin(turn)
    while len(places) < len(f.gears):
        before = len(places)
        for mesh in f.design.meshes:
            if mesh.angle is None:
                continue
            apart, turn = wanted(frozenset((mesh.a.text, mesh.b.text))), math.radians(mesh.angle.value)
            for start, end, way in ((mesh.a.text, mesh.b.text, 1), (mesh.b.text, mesh.a.text, -1)):
                if start in places:
                    x, y = places[start]
                    places.setdefault(end, (x + way * apart * math.cos(turn), y + way * apart * math.sin(turn)))
        for gear in f.gears:
            for other in f.stack(gear):
                if other in places:
                    places.setdefault(gear, places[other])
        assert len(places) > before, "gears without a place"
    distances = {pair: math.dist(*(places[gear] for gear in pair)) for pair in f.pairs}
    teeth = {}
    for gear, made in bare.items():
        asked = [f.form(gear).backlash.mm / 2] if not f.mates(gear) else [0.0]
        for mate in f.mates(gear):
            want = (f.form(gear).backlash.mm + f.form(mate).backlash.mm) / 2
            # Rounded, since places that are sums of sines hold no more.
            asked.append(_thinned(made, bare[mate], round(distances[frozenset((gear, mate))], 9), want))
        teeth[gear] = replace(made, thin=max(asked))
    return Train(places, distances, teeth)
