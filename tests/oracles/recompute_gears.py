"""Gears, meshes, backlash, speeds and phases from the plain geometry of the involute: a second calculation.

Radii from the basic rack (addendum 1.00 m, dedendum 1.25 m: SDP/SI, Elements of Metric Gear Technology, p. T-9, on the ISO rack).
All else is derived from a string unwound from the base circle (involute: same handbook, p. T-33).
"""

from __future__ import annotations

import math
from collections import deque
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from tests.oracles.recompute_facts import Fixture


@dataclass(frozen=True)
class Tooth:
    """One gear by its teeth: z, m, pressure angle (rad), x, thinning (mm off the arc tooth thickness)."""

    z: int
    m: float
    a: float
    x: float
    thinning: float

    @staticmethod
    def of(row: dict[str, Any]) -> Tooth:
        return Tooth(
            row["teeth"], row["module_mm"], math.radians(row["pressure_angle_deg"]), row["profile_shift"], row["thinning_mm"]
        )

    @property
    def r(self) -> float:
        return self.z * self.m / 2

    @property
    def rb(self) -> float:
        return self.r * math.cos(self.a)

    @property
    def ra(self) -> float:
        return self.r + self.m * (1 + self.x)

    @property
    def rf(self) -> float:
        return self.r - self.m * (1.25 - self.x)

    @property
    def s(self) -> float:
        return self.m * (math.pi / 2 + 2 * self.x * math.tan(self.a)) - self.thinning

    def flank_angle(self, radius: float) -> float:
        """Half the angle that the tooth fills at a radius, from the polar curve of the involute: no inv function is used."""
        return self.s / (2 * self.r) + unwound(self.r, self.rb) - unwound(radius, self.rb)

    def span(self, k: int) -> float:
        """Over k teeth: k − 1 base pitches and one tooth thickness on the base circle."""
        return (k - 1) * 2 * math.pi * self.rb / self.z + 2 * self.rb * self.flank_angle(self.rb)

    def touches(self, k: int) -> float:
        """Radius at which the jaws of a caliper over k teeth touch."""
        return math.hypot(self.rb, self.span(k) / 2)


def unwound(radius: float, base: float) -> float:
    """Polar angle of the involute at a radius: a string unwound from the base circle."""
    length = math.sqrt(max(0.0, radius**2 - base**2))
    return length / base - math.atan2(length, base)


def working_angle(one: Tooth, two: Tooth, distance: float) -> float:
    """The common tangent of both base circles, seen from the line of centres."""
    return math.acos((one.rb + two.rb) / distance)


def backlash(one: Tooth, two: Tooth, distance: float) -> float:
    """Along the working circles: what pitch is left beside both teeth, thickness taken at each working radius."""
    share = distance / (one.z + two.z)
    filled = sum(2 * gear.z * share * gear.flank_angle(gear.z * share) for gear in (one, two))
    return 2 * math.pi * share - filled


def contact_ratio(one: Tooth, two: Tooth, distance: float) -> float:
    """Length of the line of action between both tip circles, in base pitches."""
    line = math.sqrt(distance**2 - (one.rb + two.rb) ** 2)
    reach = sum(math.sqrt(gear.ra**2 - gear.rb**2) for gear in (one, two))
    return (reach - line) / (2 * math.pi * one.rb / one.z)


@dataclass(frozen=True)
class Errors:
    """What may be wrong at one mesh: radial shifts of the axes, the error of each flank, the lean of an insert and where it acts."""

    shifts: tuple[float, ...]
    flank: float
    tilt: float = 0.0
    reach: float = 0.0
    overlap: float = 0.0


def swing(f: Fixture, from_to: tuple[float, float]) -> float:
    """How much nearer two plywood gears come when the wood is as far from what it was made at as the year allows, wetter or drier.

    Every direction of each gear's grain is tried against the board's, along x. Three-ply plywood of 22 species: 0.18 % along and
    0.27 % across the face grain from 7 to 20 percent of moisture (FPRL tests quoted in The Technique of Furniture Making, seen).
    """
    along, across = round(0.18 / 13, 4) / 100, round(0.27 / 13, 4) / 100
    distance = math.hypot(*from_to)
    cos, sin = from_to[0] / distance, from_to[1] / distance
    nearest = 0.0
    for change in (f.moisture[1] - f.moisture[0], f.moisture[0] - f.moisture[1]):
        apart = change * distance * (along * cos * cos + across * sin * sin)
        for turned in range(0, 91, 5):
            c, s = math.cos(math.radians(turned)), math.sin(math.radians(turned))
            grows = change * (along * c * c + across * s * s)
            # Both gears with the same direction on the line of centres: what one of them gains by another, both do.
            nearest = max(nearest, grows * distance - apart)
    return nearest


def errors(f: Fixture, a: str, b: str, depth: float, overlap: float, swung: float = 0.0) -> Errors:
    """Every error of the shop at one mesh. `depth`: from the underside to the far end of the teeth in mesh; `swung`: by moisture.

    A diametral clearance lets an axis wander by half of itself. A bolt's hole does so for the drive; the pivot's or rod's bore and a
    hex in its socket for the others; a screw glued into its gear has none. An insert leans about its mid-length.
    """
    shifts: list[float] = [swung]
    tilted = False
    for name in (a, b):
        held = f.held[f.root(name)]
        shifts.append(f.hole_position)
        if held == "drive":
            shifts.append((f.drive.hole - f.drive.thread) / 2)
        elif held == "pivot" or f.foot.kind != "riding":
            shifts.append(f.bore / 2)
        tilted |= held == "foot" and f.foot.kind != "captured_nut"
    if not tilted:
        return Errors(tuple(shifts), f.profile)
    return Errors(tuple(shifts), f.profile, math.radians(f.tilt_deg), depth + f.foot.insert[0] / 2, overlap)


def worst(one: Tooth, two: Tooth, distance: float, e: Errors) -> tuple[float, float, float]:
    """(least, most, root-sum-square share) of backlash on the working circle; derived.

    Centres at both ends of all shifts; four flanks, cut by one cutter, each move the normal backlash by their error; a lean takes
    the hypotenuse of bringing the far teeth nearer and of crossing them over the width in mesh.
    """
    found = []
    for sign in (-1, 1):
        at = distance + sign * sum(e.shifts)
        found.append(backlash(one, two, at) + sign * (4 * e.flank / math.cos(working_angle(one, two, at)) + lean(one, two, at, e)))
    step = 1e-4
    slope = (backlash(one, two, distance + step) - backlash(one, two, distance - step)) / (2 * step)
    shares = [slope * shift for shift in e.shifts]
    shares += [4 * e.flank / math.cos(working_angle(one, two, distance)), lean(one, two, distance, e)]
    return found[0], found[1], math.sqrt(sum(share**2 for share in shares))


def lean(one: Tooth, two: Tooth, distance: float, e: Errors) -> float:
    return math.tan(e.tilt) * math.hypot(2 * e.reach * math.tan(working_angle(one, two, distance)), e.overlap)


def speeds(f: Fixture) -> dict[str, Fraction]:
    """Signed turns of each gear per turn of the drive: each mesh reverses, a shaft does not."""
    start = next(name for name, held in f.held.items() if held == "drive")
    found = {start: Fraction(1)}
    waiting = deque([start])
    while waiting:
        name = waiting.popleft()
        steps = [
            (b if a == name else a, Fraction(-f.teeth[name], f.teeth[b if a == name else a])) for a, b in f.meshes if name in (a, b)
        ]
        steps += [(b if a == name else a, Fraction(1)) for a, b in f.fixed_on.items() if name in (a, b)]
        for other, ratio in steps:
            if other not in found:
                found[other] = found[name] * ratio
                waiting.append(other)
            assert found[other] == found[name] * ratio, "two paths disagree"
    return found


def tooth_to_space(row: dict[str, Any], mate: dict[str, Any]) -> float:
    """How far, in pitches, a tooth of one gear stands from the middle of the other's space on the line of centres."""

    def offset(of: dict[str, Any], towards: dict[str, Any]) -> float:
        teeth, phase = int(of["teeth"]), float(of["phase_deg"])
        line = math.degrees(math.atan2(towards["y_mm"] - of["y_mm"], towards["x_mm"] - of["x_mm"]))
        return (line - phase) * teeth / 360

    # Arcs past the line of centres run opposite ways round the two gears.
    apart = offset(row, mate) + offset(mate, row) - 0.5
    return apart - round(apart)
