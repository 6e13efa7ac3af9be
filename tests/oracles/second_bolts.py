"""Bolts of the second calculation: what every extreme of sheets, recesses and washers asks for, and what the shop's lengths do about it.

A bolt passes its last nut (a wood screw 1.5 d into the wood) and ends inside its gear (1 mm under the topside): common practice, no source.
Lengths mm under the head, of a countersunk one with the head.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from functools import cache
from typing import Any

from tests.oracles.second_facts import Facts, facts
from tests.oracles.second_stand import CORNERS, MEAN, SHEETS, Corner, hangs, turned
from tests.oracles.second_travel import Foot, foot_at

EPS = 1e-6
# Past each end of a stop, turns; a stop's bolt may be so much longer; threads that stand out (common practice, no source).
SPARE, ROOM, OUT = 0.25, 5.0, 1.0


@dataclass(frozen=True)
class Bolt:
    """Least and most length, where its thread must begin, and what is bought and cut (None: as it is)."""

    least: float
    most: float
    thread_from: float
    buy: float | None
    cut: float | None
    fits: bool

    @property
    def fitted(self) -> float:
        return self.cut or self.buy or self.least


def shank(screw: Any, length: float) -> float:
    rule = screw.threaded
    if rule.full:
        return 0.0
    extra = rule.to_125_mm if length <= rule.first_to_mm else rule.to_200_mm if length <= 200 else rule.above_mm
    return float(max(0.0, length - rule.factor * screw.thread.major_mm - extra))


def fits(screw: Any, length: float, least: float, most: float, thread_from: float) -> bool:
    return least - EPS <= length <= most + EPS and shank(screw, length) <= thread_from + EPS


def step_of(f: Facts) -> float:
    return 25.4 / 64 if f.design.units in ("in", "thou") else 0.5


def from_shop(f: Facts, screw: Any, least: float, most: float, thread_from: float, wood: bool = False) -> tuple[float | None, float | None]:
    """(buy, cut): the longest of the drawer, of the shop, or one to be cut at the middle of the room; points of wood screws stay on."""
    drawer = [h.length_mm for h in f.design.have if h.standard == screw.standard and h.thread == screw.thread.designation]
    for lengths in (drawer, screw.stock_mm):
        good = [length for length in lengths if length is not None and fits(screw, length, least, most, thread_from)]
        if good:
            return max(good), None
    step = step_of(f)
    marks = [k * step for k in range(math.floor(least / step), math.ceil(most / step) + 1)]
    marks = [mark for mark in marks if least - EPS <= mark <= most + EPS]
    if not marks or wood:
        return None, None
    cut = min(marks, key=lambda mark: abs(mark - round((least + most) / 2 / step) * step))
    longer = [length for length in screw.stock_mm if length >= cut - EPS and shank(screw, length) <= thread_from + EPS]
    return (min(longer), cut) if longer else (None, None)


def _all(f: Facts, root: str, put: Any) -> list[Any]:
    return [put(f, root, Corner(c.board, c.gear, depth), thick) for c, depth, thick in itertools.product(SHEETS, (-1, 1), (-1, 1))]


def feet_at(name: str, c: Corner, bolt: float | None) -> dict[str, Foot]:
    return {gear: foot_at(name, gear, c, bolt) for gear in facts(name).feet}


def ends(feet: dict[str, Foot]) -> dict[tuple[str, bool], float]:
    """Heights that all feet reach: (end, whether to parting)."""
    found: dict[tuple[str, bool], float] = {}
    for foot in feet.values():
        for (end, _, _, hard), e in foot.edges.items():
            for only_hard in (False, True):
                if hard or not only_hard:
                    best = max if end == "least" else min
                    height = foot.height_at_zero + e
                    found[end, only_hard] = best(found.get((end, only_hard), height), height)
    return found


def bench_room(name: str, root: str) -> float:
    """The longest bolt that stays off the bench at the lowest height of each extreme, bolts not counted in that height."""
    f = facts(name)
    found = []
    for c in CORNERS:
        feet = feet_at(name, c, None)
        bench = next(iter(feet.values())).work - ends(feet)["least", False]
        # A bolt reaches lowest from the deepest recess.
        found.append(turned(f, root, Corner(c.board, c.gear, 1), -1).head - bench)
    return min(found)


def stop_length(name: str, root: str, holds: float) -> float:
    """What a stop takes: as many turns as the travel leaves with a bolt so long, two spares, two nuts, a washer, and a thread out."""
    f = facts(name)
    drive = f.held(root)[1]
    nut = drive.stop_nut.height_mm
    washer = drive.stop_washer.thickness_max_mm if drive.stop_washer is not None else 0.0
    parts = (3 if drive.stop_locked_by == "jam_nut" else 2) * nut + washer + OUT * drive.thread.pitch_mm
    per_turn = abs(f.rise(f.feet[0]))

    def length(turns: float) -> float:
        return float((turns + 2 * SPARE) * drive.thread.lead_mm + parts)

    turns, step = 0.0, 8.0
    while step > 1e-6:
        reached = ends(feet_at(name, MEAN, holds + length(turns + step)))
        if (reached["most", False] - reached["least", False]) / per_turn >= turns + step:
            turns += step
        else:
            step /= 2
    return length(turns)


@cache
def drive_bolt(name: str) -> Bolt:
    f = facts(name)
    root = f.drive_gear
    drive = f.held(root)[1]
    tried = _all(f, root, turned)
    least, most, begins = max(t.holds for t in tried), min(t.flush for t in tried), min(t.thread_from for t in tried)
    if drive.stop:
        least += stop_length(name, root, least)
        most = least + ROOM
    buy, cut = from_shop(f, drive.bolt, least, most, begins)
    stated = drive.length.mm if drive.length is not None else None
    if not drive.stop and (buy is None or cut is not None or stated is not None):
        room = bench_room(name, root)
        sold = [length for length in drive.bolt.stock_mm if fits(drive.bolt, length, least, room, begins)]
        needed = bool(sold) if stated is None else not fits(drive.bolt, stated, least, most, begins)
        if room > most and needed:
            most = room
            buy, cut = (min(sold), None) if sold else (buy, cut)
    return stated_or(drive.bolt, stated, Bolt(least, most, begins, buy, cut, buy is not None))


def stated_or(screw: Any, stated: float | None, chosen: Bolt) -> Bolt:
    """A stated length is what is fitted, bought as the next longer one sold."""
    if stated is None:
        return chosen
    longer = min((length for length in screw.stock_mm if length >= stated - EPS), default=None)
    good = fits(screw, stated, chosen.least, chosen.most, chosen.thread_from)
    cut = stated if longer is not None and abs(longer - stated) > EPS else None
    return Bolt(chosen.least, chosen.most, chosen.thread_from, longer, cut, good)


def fitted(name: str) -> float:
    """The drive's bolt as it is fitted."""
    drive = facts(name).held(facts(name).drive_gear)[1]
    return drive.length.mm if drive.length is not None else drive_bolt(name).fitted


def pivot_screw(name: str, root: str) -> Bolt:
    f = facts(name)
    pivot = f.held(root)[1]
    tried = _all(f, root, hangs)
    least, most, begins = max(t.holds for t in tried), min(t.room for t in tried), min(t.thread_from for t in tried)
    buy, cut = from_shop(f, pivot.screw, least, most, begins, wood=pivot.nut is None)
    return stated_or(pivot.screw, pivot.length.mm if pivot.length is not None else None, Bolt(least, most, begins, buy, cut, buy is not None))
