"""Is the worst case reported really the worst? Dense grids of every tolerance inside its band, on solids and exact involutes.

Backlash: two rigid gears whose teeth are cut into sections along the axis, each section an exact involute mesh at its own centres;
the play left is what all sections leave in common. Strokes: boards, gears, recess and head anywhere in their bands. Derived.
"""

from __future__ import annotations

import itertools
import math
import random
from typing import Any

import numpy as np
import pytest
from tests.oracles import recompute_gears as calc
from tests.oracles import recompute_stroke as trial
from tests.oracles.recompute_facts import FIXTURES, Fixture
from tests.oracles.test_report_recomputed import NAMES, gears, pairs, reported, said_worst

SECTIONS = 7
# What the reported bound gives away: it takes the lean at the far end where the teeth feel it half way in.
GIVEN_AWAY_MM = 0.035


def backlash_of(one: calc.Tooth, two: calc.Tooth, flank: Any, at: Any) -> Any:
    """Exact, on the working circles at centres `at`, every flank `flank` too lean; as the thickness left of whole pitches."""
    base = one.rb + two.rb
    angle = np.arccos(base / at)
    filled = one.s + two.s - 4 * flank / math.cos(one.a)
    teeth = one.z + two.z
    inv = np.tan(angle) - angle - (math.tan(one.a) - one.a)
    return 2 * at / teeth * (math.pi - filled / one.m + teeth * inv)


def faces(f: Fixture, gear: str, e: Any) -> tuple[Any, Any]:
    """(lower, upper) face of a gear at extensions e, play taken down: there a lean reaches farthest."""
    if f.held[gear] == "foot" and f.foot.kind == "riding":
        return -e - trial.width(f, gear, 0), -e
    hung = trial.hung(f, trial.MEAN)[gear]
    low = min(hung.places, key=lambda place: place[0])
    return low[0] + 0 * e, low[1] + 0 * e


def mesh_errors(name: str, a: str, b: str) -> calc.Errors:
    """Those of the typed facts, with what moisture moves the two between their places; it counts as a shift of an axis."""
    f, rows = FIXTURES[name], gears(name)
    return calc.errors(f, a, b, 0.0, 0.0, calc.swing(f, (rows[b]["x_mm"] - rows[a]["x_mm"], rows[b]["y_mm"] - rows[a]["y_mm"])))


def played(name: str, a: str, b: str, one: calc.Tooth, two: calc.Tooth, distance: float) -> tuple[float, float]:
    """(least, most) backlash over the grid: shifts of the axes any way in the plan, flanks, lean any way and size, the stroke."""
    f, e = FIXTURES[name], mesh_errors(name, a, b)
    stroke = trial.stroke(f, trial.MEAN).ends
    shift, heading, flank, lean, way, extension = np.meshgrid(
        np.linspace(0, sum(e.shifts), 4),
        np.linspace(0, math.pi, 7),
        np.array([-1.0, 0.0, 1.0]) * e.flank,
        np.linspace(0, math.tan(e.tilt), 3),
        np.linspace(0, 2 * math.pi, 33) if e.tilt else np.zeros(1),
        np.linspace(*stroke, 9),
        indexing="ij",
    )
    (low, high), (other_low, other_high) = faces(f, a, extension), faces(f, b, extension)
    bottom, top = np.maximum(low, other_low), np.minimum(high, other_high)
    ahead, behind = [], []
    for part in np.linspace(0, 1, SECTIONS):
        # Depth of the section below the insert's mid-length, about which the screw leans.
        depth = f.foot.insert[0] / 2 - (bottom + part * (top - bottom))
        along = distance + shift * np.cos(heading) + depth * lean * np.cos(way)
        across = shift * np.sin(heading)
        half = backlash_of(one, two, flank, np.hypot(along, across)) / 2
        skew = depth * lean * np.sin(way)
        ahead.append(half + skew)
        behind.append(half - skew)
    play = np.minimum.reduce(ahead) + np.minimum.reduce(behind)
    return float(play.min()), float(play.max())


@pytest.mark.parametrize("name", NAMES)
def test_no_errors_within_their_bands_make_backlash_worse(name: str) -> None:
    f, tried = FIXTURES[name], set()
    for mesh, one, two in pairs(name):
        a, b = mesh["gears"]
        swung = round(mesh_errors(name, a, b).shifts[0], 9)
        kind = (f.held[a], f.held[b], f.teeth[a], f.teeth[b], f.level.get(a, 0), swung)
        if kind in tried:
            continue
        tried.add(kind)
        least, most = played(name, a, b, one, two, mesh["centre_distance_mm"])
        said = mesh["backlash_mm"]
        assert said["min"] - 1e-6 <= least <= said["min"] + GIVEN_AWAY_MM, (a, b)
        assert most <= said["max"] + 1e-6, (a, b)
        if not mesh_errors(name, a, b).tilt:
            assert (least, most) == pytest.approx((said["min"], said["max"]), abs=1e-6), (a, b)


@pytest.mark.parametrize("name", NAMES)
def test_no_errors_within_their_bands_take_more_contact(name: str) -> None:
    """Where teeth are longest in mesh counts for a pair of whole gears: half way along them is more than enough for a bound."""
    f = FIXTURES[name]
    for mesh, one, two in pairs(name):
        a, b = mesh["gears"]
        e = mesh_errors(name, a, b)
        least = math.inf
        for extension in np.linspace(*trial.stroke(f, trial.MEAN).ends, 9):
            (low, high), (other_low, other_high) = faces(f, a, extension), faces(f, b, extension)
            half_way = f.foot.insert[0] / 2 - (max(low, other_low) + min(high, other_high)) / 2
            for share in np.linspace(-1, 1, 9):
                widest = mesh["centre_distance_mm"] + share * (sum(e.shifts) + half_way * math.tan(e.tilt))
                least = min(least, calc.contact_ratio(one, two, widest))
        assert mesh["contact_ratio_min"] - 1e-6 <= least <= mesh["contact_ratio_min"] + 0.02, (a, b)
        if not e.tilt:
            assert least == pytest.approx(mesh["contact_ratio_min"], abs=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_no_sheet_recess_or_head_within_its_band_shortens_the_stroke(name: str) -> None:
    f = FIXTURES[name]
    travel, lowest, highest = said_worst(name)
    draw = random.Random(16)
    inside = [[draw.uniform(-1, 1) for _ in range(4)] for _ in range(60)]
    marks = list(itertools.product((-1.0, 0.0, 1.0), repeat=4))
    found = [trial.stroke(f, trial.Corner(a, b, c, d, worst=True)) for a, b, c, d in (*inside, *marks)]
    assert min(item.ends[1] - item.ends[0] for item in found) == pytest.approx(travel, abs=0.02)
    assert max(item.heights[0] for item in found) == pytest.approx(lowest, abs=0.02)
    assert min(item.heights[1] for item in found) == pytest.approx(highest, abs=0.02)


def test_the_plan_names_every_gear() -> None:
    assert all(set(gears(name)) == set(FIXTURES[name].held) for name in NAMES)
    assert all(reported(name)["meshes"] for name in NAMES)
