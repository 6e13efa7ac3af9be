"""Fixtures built by dice: every hole, bore, insert, cut and sheet off within its band, every mesh then turned as it was cut.

The errors are those of `tests/oracles/recompute_facts.py`, typed from the fixtures' text; nothing of `solve/binding*` is used. The teeth are
the outlines that the drawings have, as points. An error of a flank turns it by q over the base radius, which is what a distance q along
the normal does to an involute; wood that swells stretches points along and across its grain.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from tests.oracles.recompute_facts import Fixture

from trivet.solve.gear_outline import gear_outline
from trivet.solve.gear_size import ToothGeometry

Floats = NDArray[np.float64]
# Percent for each percent of moisture, along and across the face grain: FPRL tests quoted in The Technique of Furniture Making.
ALONG, ACROSS = 0.000138, 0.000208
POINT_MM = 0.15
# Places in a pitch, and directions of both gears' grain against the line of centres, degrees.
SHARES = (-0.5, -0.333, -0.167, 0.0, 0.167, 0.333)
GRAINS = ((0.0, 0.0), (90.0, 90.0), (45.0, 135.0))
# A build is turned through one place first; where it has more room than this there it is not looked at again.
ROOM_MM = 0.12


@dataclass(frozen=True)
class Teeth:
    """A gear's tooth on +x as cut: half its angle by radius, and the points of its clockwise flank from root to tip, (2, n), mm and rad."""

    z: int
    base_mm: float
    radii: Floats
    half: Floats
    flank: Floats

    @staticmethod
    def of(gear: ToothGeometry, cutter_mm: float) -> Teeth:
        """From the points of the outline's chords."""
        points = np.array(gear_outline(gear, cutter_mm / 2.0).contour.points(0.0003))
        radius, angle = np.hypot(*points.T), np.arctan2(points[:, 1], points[:, 0])
        mine = (angle > 0.0) & (angle <= math.pi / gear.teeth)
        order = np.argsort(radius[mine], kind="stable")
        radius, angle = radius[mine][order], angle[mine][order]
        kept = np.concatenate(([True], np.diff(radius) > 1e-7))
        radius, angle = radius[kept], angle[kept]
        at = np.linspace(radius[0], radius[-1], math.ceil((radius[-1] - radius[0]) / POINT_MM) + 1)
        return Teeth(gear.teeth, gear.base_radius_mm, radius, angle, np.array((at, -np.interp(at, radius, angle))))


@dataclass(frozen=True)
class Meshing:
    """Two gears by name, from the first's axis to the second's, their teeth, and how far an insert's middle is above the far end of the face."""

    names: tuple[str, str]
    along_mm: tuple[float, float]
    teeth: tuple[Teeth, Teeth]
    reaches_mm: tuple[float, float]
    overlap_mm: float


@dataclass(frozen=True)
class Builds:
    """The dice of `count` builds: shifts (count, 2) by axis, leans (count, 2) by axis, the flanks' error and the share of the moisture."""

    shifts: dict[str, Floats]
    leans: dict[str, Floats]
    flank_mm: Floats
    made_at: Floats


def thrown(f: Fixture, count: int, seed: int) -> Builds:
    """Each error evenly over its band."""
    dice = np.random.default_rng(seed)

    def disc(radius: float) -> Floats:
        out, turn = radius * np.sqrt(dice.random(count)), dice.uniform(0.0, 2.0 * math.pi, count)
        return np.array((out * np.cos(turn), out * np.sin(turn))).T

    shifts: dict[str, Floats] = {}
    leans: dict[str, Floats] = {}
    for name in f.held:
        root = f.root(name)
        if root in shifts:
            continue
        shifts[root] = disc(f.hole_position)
        if f.held[root] == "drive":
            shifts[root] = shifts[root] + disc((f.drive.hole - f.drive.thread) / 2.0)
        elif f.held[root] == "pivot":
            shifts[root] = shifts[root] + disc(f.bore / 2.0)
        elif f.foot.kind == "riding":
            tilt, way = np.tan(np.radians(dice.uniform(0.0, f.tilt_deg, count))), dice.uniform(0.0, 2.0 * math.pi, count)
            leans[root] = np.array((tilt * np.cos(way), tilt * np.sin(way))).T
    return Builds(shifts, leans, dice.uniform(-f.profile, f.profile, count), dice.random(count))


def ends_of(f: Fixture, mesh: Meshing, builds: Builds, chosen: Any = slice(None)) -> list[tuple[Floats, list[Floats]]]:
    """For the wettest and the driest of the year: the change of moisture, percent, and from axis to axis at both ends of the face, (n, 2)."""
    made, percent = builds.made_at[chosen], f.moisture[1] - f.moisture[0]
    found = []
    for change in (percent * (1.0 - made), -percent * made):
        ends = []
        for depth in (0.0, mesh.overlap_mm):
            apart = np.tile(np.array(mesh.along_mm), (made.size, 1)) * (1.0 + change[:, None] * np.array((ALONG, ACROSS)))
            for name, reach, sign in zip(mesh.names, mesh.reaches_mm, (-1.0, 1.0), strict=True):
                root = f.root(name)
                apart = apart + sign * builds.shifts[root][chosen]
                if root in builds.leans:
                    apart = apart + sign * (reach - depth) * builds.leans[root][chosen]
            ends.append(apart)
        found.append((change, ends))
    return found


def play_mm(f: Fixture, mesh: Meshing, builds: Builds, chosen: Any = slice(None), every: bool = True) -> Floats:
    """How far the first gear turns between both flanks of the second, mm on its working circle: at each end of the year and each place of
    a turn, both ends of the face at once; the least of them.
    """
    radius = math.hypot(*mesh.along_mm) * mesh.teeth[0].z / (mesh.teeth[0].z + mesh.teeth[1].z)
    flank = builds.flank_mm[chosen]
    least = np.full(flank.size, math.inf)
    for change, ends in ends_of(f, mesh, builds, chosen):
        for share in SHARES if every else (0.0,):
            for grain in GRAINS if every else GRAINS[:2]:
                sides = (np.minimum(*(_gap(mesh, apart, share, grain, change, flank, side) for apart in ends)) for side in (1, -1))
                least = np.minimum(least, sum(sides) * radius)
    return least


def _gap(mesh: Meshing, apart: Floats, share: float, grain: tuple[float, float], change: Floats, flank: Floats, side: int) -> Floats:
    """Least angle over three teeth between a flank of the second gear and the first's, rad. `side` 1: anticlockwise of the space."""
    one, two = mesh.teeth
    line = math.atan2(mesh.along_mm[1], mesh.along_mm[0])
    # Seen along the nominal line of centres; the mirror image stands for the other side.
    c, s = math.cos(line), math.sin(line)
    dx, dy = apart[:, 0] * c + apart[:, 1] * s, side * (apart[:, 1] * c - apart[:, 0] * s)
    place = side * share
    bend = [math.radians(side * angle) for angle in grain]
    found = np.full(change.size, math.inf)
    for tooth in (-1, 0, 1):
        at = place + tooth
        out, angle = two.flank
        turned = math.pi - 2.0 * math.pi / two.z * at + angle[None, :] + (flank / two.base_mm)[:, None]
        x, y = _stretched(out * np.cos(turned), out * np.sin(turned), bend[1], change)
        x, y = _stretched(x + dx[:, None], y + dy[:, None], bend[0], -change)
        radius = np.hypot(x, y)
        width = math.pi / one.z - np.interp(radius, one.radii, one.half) + (flank / one.base_mm)[:, None]
        width = np.where(radius < one.radii[0], 0.0, width)
        gap = width - (np.arctan2(y, x) - 2.0 * math.pi / one.z * at)
        found = np.minimum(found, np.where(radius > one.radii[-1], math.inf, gap).min(axis=1))
    return found


def _stretched(x: Floats, y: Floats, grain: float, change: Floats) -> tuple[Floats, Floats]:
    """Points of wood whose grain lies at an angle, at another moisture, about the origin."""
    c, s = math.cos(grain), math.sin(grain)
    along, across = x * c + y * s, y * c - x * s
    along, across = along * (1.0 + ALONG * change[:, None]), across * (1.0 + ACROSS * change[:, None])
    return along * c - across * s, along * s + across * c


def plays_mm(f: Fixture, meshes: tuple[Meshing, ...], builds: Builds) -> dict[tuple[str, str], Floats]:
    """The least play of each mesh in each build; where there is more than `ROOM_MM` it is that of one place."""
    found = {}
    for mesh in meshes:
        play = play_mm(f, mesh, builds, every=False)
        near = np.flatnonzero(play < ROOM_MM)
        if near.size:
            play[near] = play_mm(f, mesh, builds, near)
        found[mesh.names] = play
    return found
