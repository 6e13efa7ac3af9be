"""What the examples leave off flush, what lies past their travel and what a jam does to their teeth: worked out from `recompute_facts`."""

from __future__ import annotations

import math

import numpy as np
from tests.oracles import recompute_gears as calc
from tests.oracles import recompute_stroke as trial
from tests.oracles.recompute_facts import Fixture

# Y of 20° full-depth teeth: Shigley, Mechanical Engineering Design, table 14-2 (from memory), between its columns along a straight line.
LEWIS_Z = (16, 18, 20, 24, 28, 30, 34, 38, 43, 50)
LEWIS_Y = (0.296, 0.309, 0.322, 0.337, 0.353, 0.359, 0.371, 0.384, 0.397, 0.409)
# A straight line between columns, and other books' third digit.
LEWIS_TOLERANCE = 0.004
# Birch plywood in the weakest direction: bending, shear, N/mm²: characteristic 18.4 and 9.5 by 0.7/1.2, rounded (an assumption).
BENDING, SHEAR = 10.7, 5.5


def off_flush(f: Fixture, dial: int | None) -> dict[str, float]:
    """Parts by key, mm, sag aside: domes stand on a point and no bow is stated in any example."""
    feet = [name for name, held in f.held.items() if held == "foot"]
    top = trial.stroke(f, trial.MEAN).ends[1]
    engaged = min(float(trial.at(f, name, trial.MEAN, np.array([top])).engaged[0]) for name in feet)
    flank = (f.foot.thread - 3 * math.sqrt(3) / 8 * f.foot.lead) / 2
    return {
        "setting": f.per_turn[0] / (16 if dial is None else 2 * dial),
        "zeroing": max(f.foot.lead / f.teeth[name] for name in feet) / 2,
        "thread_rock": flank * 0.15 / engaged,
    }


def turns_past(f: Fixture) -> dict[tuple[str, str], float]:
    """(end, cause) to turns of the drive past the end of the travel."""
    low, high = trial.stroke(f, trial.MEAN).ends
    found: dict[tuple[str, str], float] = {}
    for (end, cause, hard), at in trial.edges(f, trial.MEAN).items():
        if hard:
            key = end, cause.split()[0]
            left = max(0.0, (low - at if end == "least" else at - high) / f.per_turn[0])
            found[key] = min(left, found.get(key, math.inf))
    return found


def jam(f: Fixture, torque_nmm: float) -> dict[tuple[str, str], tuple[float, float, float]]:
    """(gear, mate) to force (N), bending and mean shear over the reference tooth (N/mm²), by power: what the drive turns in, the mesh passes."""
    speed = calc.speeds(f)
    ends = trial.stroke(f, trial.MEAN).ends
    fixed = trial.hung(f, trial.MEAN)
    found = {}
    for a, b in f.meshes:
        rim = math.pi * f.module * f.teeth[a] * float(abs(speed[a]))
        force = 2 * math.pi * torque_nmm / rim
        faces = []
        for e in ends:
            spans = [fixed[g].rest if g in fixed else (-e - trial.width(f, g, 0), -e) for g in (a, b)]
            faces.append(float(trial.overlap(*spans)))
        for gear, mate in ((a, b), (b, a)):
            y = float(np.interp(f.teeth[gear], LEWIS_Z, LEWIS_Y))
            thick = math.pi * f.module / 2 - f.backlash / 2
            found[gear, mate] = (force, force / (min(faces) * f.module * y), 1.5 * force / (min(faces) * thick))
    return found
