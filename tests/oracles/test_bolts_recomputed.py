"""Lengths of the examples' bolts and pivot screws: every combination of thin and thick sheets, shallow and deep recesses is tried.

A length fits when at each combination its end passes the last nut (or 1.5 d of wood) and stays inside its gear (or 1 mm under the
topside): common practice, no source. The stacks are derived. A plain shank bounds none of these lengths.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from tests.oracles import recompute_stroke as trial
from tests.oracles.recompute_facts import FIXTURES, Fixture
from tests.oracles.test_report_recomputed import NAMES, reported

SIGNS = tuple(itertools.product((-1, 1), repeat=4))
EPS = 1e-6


def drive_range(f: Fixture) -> tuple[float, float]:
    """(least, most) length under the head that passes the jam nut and ends inside the gear, whatever the sheets and recesses."""
    d = f.drive
    gear = next(name for name, held in f.held.items() if held == "drive")
    needs, rooms = [], []
    for board, thick, head, nut in SIGNS:
        above = trial.ply(f, board, f.boards + f.upper) - (d.recess + head * f.depth) + d.play + d.flange
        whole = trial.width(f, gear, thick)
        needs.append(above + whole - (d.jam_recess + nut * f.depth) + d.jam_height)
        rooms.append(max(above + whole, needs[-1]))
    return max(needs), min(rooms)


def bench_room(f: Fixture) -> float:
    """The longest bolt that stays off the bench at the lowest height of every combination, bolts not counted in that height."""
    bare = replace(f, drive=replace(f.drive, fitted=0.0))
    rooms = []
    for corner in trial.EVERY:
        e = trial.stroke(bare, corner).ends[0]
        feet = [name for name, held in f.held.items() if held == "foot"]
        plane = float(trial.at(bare, feet[0], corner, np.array([e])).plane[0])
        rooms.append(trial.ply(f, corner.board, f.boards + f.upper) - f.drive.recess - f.depth - plane)
    return min(rooms)


def bought(f: Fixture) -> tuple[float, float | None]:
    """(length to buy, length to cut it to): a stock length inside the gear; one that the bench leaves room for; one to cut."""
    least, most = drive_range(f)
    inside = [length for length in f.drive.sold if least - EPS <= length <= most + EPS]
    if inside:
        return max(inside), None
    room = bench_room(f)
    outside = [length for length in f.drive.sold if least - EPS <= length <= room + EPS]
    if outside:
        return min(outside), None
    step = f.drive.cut_step
    low, high = math.ceil(least / step - EPS), math.floor(most / step + EPS)
    assert low <= high, "nothing fits"
    cut = min(max(round((least + most) / 2 / step), low), high) * step
    return min(length for length in f.drive.sold if length >= cut), cut


@pytest.mark.parametrize("name", NAMES)
def test_drive_bolt(name: str) -> None:
    f = FIXTURES[name]
    row = next(row for row in reported(name)["hardware"] if row["item"].endswith("-bolt"))
    buy, cut = bought(f)
    assert row["length_mm"] == pytest.approx(buy)
    assert row["cut_to_mm"] == (None if cut is None else pytest.approx(cut))
    assert (cut or buy) == pytest.approx(f.drive.fitted)


def pivot_range(f: Fixture, root: str) -> tuple[float, float]:
    """(least, most) length of an idler's screw: 1.5 d of thread in the wood, and 1 mm below the topside."""
    p = f.pivot
    assert p is not None
    stack = (root, *(name for name, on in f.fixed_on.items() if on == root))
    needs, rooms = [], []
    for board, thick, head, washer in SIGNS:
        web = sum(trial.width(f, name, thick) for name in stack) - (p.recess + head * f.depth)
        inner = trial.sleeve(f, stack) if p.sleeve else web + p.play
        hang = 2 * p.washer[washer + 1] + inner + trial.drop(f, root, thick)
        needs.append(hang + 1.5 * p.thread)
        rooms.append(hang + trial.ply(f, board, f.boards) - 1.0)
    return max(needs), min(rooms)


@pytest.mark.parametrize("name", [name for name in NAMES if FIXTURES[name].pivot is not None])
def test_pivot_screws_and_sleeves(name: str) -> None:
    f = FIXTURES[name]
    assert f.pivot is not None
    rows = [row for row in reported(name)["hardware"] if row["item"].startswith("pin-")]
    lengths = {where: row["length_mm"] for row in rows if "screw" in row["item"] for where in row["where"]}
    sleeves = {where: row["cut_to_mm"] for row in rows if "sleeve" in row["item"] for where in row["where"]}
    idlers = [gear for gear, held in f.held.items() if held == "pivot" and gear not in f.fixed_on]
    assert sorted(lengths) == sorted(f"pin.{gear}" for gear in idlers)
    for gear in idlers:
        least, most = pivot_range(f, gear)
        fitting = [length for length in f.pivot.sold if least - EPS <= length <= most + EPS]
        assert lengths[f"pin.{gear}"] == max(fitting), (gear, least, most)
        if f.pivot.sleeve:
            stack = (gear, *(name for name, on in f.fixed_on.items() if on == gear))
            assert sleeves[f"pin.{gear}"] == pytest.approx(trial.sleeve(f, stack))
    assert bool(sleeves) == f.pivot.sleeve
