"""What comes too near what, which metal lies under a cut, what a spanner reaches: each pair of bodies tried, distances measured by shapely.

The bodies are those of the solver, which `test_second_solids` puts there anew. Gaps (1 mm beside gears, 0.1 mm of shared height, 3 mm between
levels, 0.5 mm under gears) and sockets (1.35 s + 1.5 mm, 3 mm of height) are common practice, no source. Lengths mm.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any

import pytest
from shapely.affinity import translate
from shapely.geometry import LineString, Point, Polygon
from tests.oracles.second_corpus import NAMES, solved
from tests.oracles.second_cuts import board_cuts, head_width, sharp
from tests.oracles.second_facts import Facts, facts
from tests.oracles.second_stand import MEAN, SHEETS, keeper_room, length_of, thread_zone, tip

from trivet.model.hardware import Nut
from trivet.solve.board_rooms import strikes
from trivet.solve.clearances import near_gears, near_keepers
from trivet.solve.keeper_room import stand_offs
from trivet.solve.leaning_gears import leaning_gears
from trivet.solve.metal import metal_in_zones
from trivet.solve.pressed_gears import pressed_gears
from trivet.solve.solid import Solid, SolidSet
from trivet.solve.spanner import sunk_hexagons


def plan(solid: Solid) -> Any:
    return Polygon(solid.plate.points(0.01)) if solid.plate is not None else Point(solid.x_mm, solid.y_mm)


@lru_cache(maxsize=4096)
def apart(one: Solid, other: Solid) -> float:
    """Seen from above, negative where they overlap; of two plates no more than that they touch is known."""
    reach = sum(item.radius_mm for item in (one, other) if item.plate is None)
    a, b = plan(one), plan(other)
    inside = 0.0
    if a.distance(b) == 0 and (one.plate is None) != (other.plate is None):
        plate, disc = (a, b) if one.plate is not None else (b, a)
        inside = float(plate.exterior.distance(disc))
    return float(a.distance(b)) - inside - reach


def shared(one: Solid, other: Solid, travel: float) -> float:
    """The most height that two share: both ends of the travel, and level with each other where one can pass the other."""
    if one.moves == other.moves:
        return min(one.high_mm, other.high_mm) - max(one.low_mm, other.low_mm)
    still, moving = (one, other) if other.moves else (other, one)
    tops = {0.0, travel, *(d for d in (moving.high_mm - still.high_mm, moving.low_mm - still.low_mm) if 0 <= d <= travel)}
    return max(min(still.high_mm, moving.high_mm - d) - max(still.low_mm, moving.low_mm - d) for d in tops)


def levels_of(f: Facts, shaft: str) -> set[int]:
    return {f.level(gear) for gear in f.stack(shaft)}


def stopped_wider(f: Facts, solids: SolidSet) -> list[Solid]:
    """The nuts of a stop stand somewhere on the end of their bolt."""
    drive = f.held(f.drive_gear)[1]
    if not drive.stop:
        return list(solids.solids)
    wide = drive.stop_nut.across_flats_mm * 1.1547 / 2
    return [_widened(item, wide) if item.kind == "bolt_end" else item for item in solids.solids]


def _widened(item: Solid, radius: float) -> Solid:
    values = {name: getattr(item, name) for name in ("kind", "part", "shaft", "x_mm", "y_mm", "low_mm", "high_mm", "moves", "plate")}
    return Solid(radius_mm=max(item.radius_mm, radius), **values)


def check_gears_and_keepers(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    gears: dict[tuple[str, str, str], float] = {}
    plates: dict[frozenset[tuple[str, str]], float] = {}
    for solids in derived.solids:
        bodies = stopped_wider(f, solids)
        for one in bodies:
            for other in bodies:
                if one.shaft == other.shaft or other.kind == "gear" or one.kind not in ("gear", "keeper"):
                    continue
                tall = shared(one, other, solids.travel_mm)
                allowed = 0.1 if one.kind == "keeper" or f.level(one.part) in levels_of(f, other.shaft) else 3.0
                gap = apart(one, other) if tall > allowed else 9.0
                if one.kind == "gear" and gap < 1 - 1e-6:
                    key = (one.part, other.part, other.kind)
                    gears[key] = max(tall, gears.get(key, tall))
                elif one.kind == "keeper" and gap < -1e-6:
                    pair = frozenset(((one.part, "keeper"), (other.part, other.kind)))
                    plates[pair] = max(tall, plates.get(pair, tall))
    said = {(near.one.part, near.other.part, near.other.kind): near for near in near_gears(derived)}
    assert {key: near.shared_mm for key, near in said.items()} == pytest.approx(gears, abs=1e-6)
    assert all(near.gap_mm == pytest.approx(apart(near.one, near.other), abs=0.02) for near in said.values())
    kept = {frozenset(((n.one.part, "keeper"), (n.other.part, n.other.kind))): n.shared_mm for n in near_keepers(derived)}
    assert kept == pytest.approx(plates, abs=1e-6)


def check_leaning(name: str) -> None:
    """A rim leans by the droop of its shaft or by the tilt of its insert, and warps by a millimetre on 150; what turns with feet leans too."""
    f, derived = facts(name), solved(name)[1]
    slope: dict[str, float] = {}
    for state in (*derived.pivots, *derived.drives):
        tips = [next(g for g in derived.train.gears if g.id == gear).tip_radius_mm for gear in f.stack(state.gear)]
        slope[state.gear] = state.droop_mm / max(tips)
    for foot in (*derived.feet, *derived.climbers):
        if foot.foot.kind == "riding":
            guide = foot.foot.guide
            tan = math.tan(math.radians(f.shop.insert_tilt_deg))
            slope[foot.gear] = tan if guide is None else min(tan, guide.clearance.mm / guide.length.mm)
    worst: dict[tuple[str, str, str], float] = {}
    for solids in derived.solids:
        for gear in (item for item in solids.solids if item.kind == "gear"):
            for other in (item for item in solids.solids if item.metal and item.plate is None and item.shaft != gear.shaft):
                if f.level(gear.part) not in levels_of(f, other.shaft) or apart(gear, other) >= 0:
                    continue
                room = -shared(gear, other, solids.travel_mm)
                away = math.dist((gear.x_mm, gear.y_mm), (other.x_mm, other.y_mm))
                far = min(gear.radius_mm, away + other.radius_mm)
                takes = far * (slope.get(gear.shaft, 0.0) + 1 / 75)
                takes += min(other.radius_mm, away + gear.radius_mm) * slope.get(other.shaft, 0.0) * other.moves
                short = takes - max(0.0, room)
                key = (gear.part, other.part, other.kind)
                if room >= -0.1 and short > 1e-6:
                    worst[key] = max(short, worst.get(key, short))
    got = {(item.gear.part, item.other.part, item.other.kind): item.short_mm for item in leaning_gears(*solved(name))}
    assert got == pytest.approx(worst, abs=1e-6)


def check_metal(name: str) -> None:
    f, (design, derived) = facts(name), solved(name)
    for found in metal_in_zones(design, derived):
        zone = found.zone
        made = f.named["boards"][zone.into.text]
        x0, y0 = made.x_mm, made.y_mm
        x1, y1 = x0 + made.outline.width_mm, y0 + made.outline.height_mm
        cover: dict[tuple[str, bool], float] = {}
        for solids in derived.solids:
            top = f.boards(solids.board)[zone.into.text][1]
            bodies = [(item.part, item.x_mm, item.y_mm, item.radius_mm, item.high_mm) for item in solids.solids if item.metal]
            for magnet in (item for item in design.magnets if item.into == zone.into):
                thick, under = magnet.disc.thickness_mm, top - f.thick(zone.into.text, solids.board)
                floor = top - magnet.hole_depth_mm if magnet.face == "topside" else under + magnet.hole_depth_mm - thick
                high = floor + thick + (f.shop.depth_mm if solids.board else 0.0)
                bodies += [(at.id, at.x_mm, at.y_mm, magnet.disc.diameter_mm / 2, high) for at in magnet.places]
            for part, x, y, r, high in bodies:
                w = zone.width.mm
                edge = {"left": x - r - x0, "right": x1 - x - r, "near": y - r - y0, "far": y1 - y - r}[zone.edge]
                key = (part, edge < w)
                cover[key] = min(top - high, cover.get(key, math.inf))
        for inside, rows in ((True, found.inside), (False, found.outside)):
            assert {row.solid.part: row.cover_mm for row in rows} == pytest.approx({p: v for (p, i), v in cover.items() if i is inside}, abs=1e-6)
            assert [row.cover_mm for row in rows] == sorted(row.cover_mm for row in rows)


def check_spanners(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    wanted = {}
    for state in (*derived.drives, *derived.pivots):
        kind, block = f.held(state.gear)
        screw, where = (block.bolt, "head") if kind == "drive" else (block.screw, "below")
        washer = block.washer.outside_mm if block.washer is not None and where in block.washer_places else 0.0
        if screw.head.form == "hexagon" and length_of(block.head_recessed) > 0:
            wide = head_width(screw.head)
            room = washer + 1 if washer > wide else (screw.counterbore_mm or 0.0) if (screw.counterbore_mm or 0.0) > wide else wide + 1
            wanted[state.id, "hexagon head"] = (screw.head.across_flats_mm, screw.head.height_mm - block.head_recessed.mm, room)
        nut, what = (block.jam_nut, "jam nut") if kind == "drive" else (block.nut, "nut")
        if nut is None or not isinstance(nut.hardware, Nut) or length_of(nut.recessed) <= 0:
            continue
        if kind == "pivot" and nut.round is None:
            continue
        side = block.washer.outside_mm + 1 if kind == "drive" and block.washer is not None and nut.side in block.washer_places else None
        wanted[state.id, what] = (nut.hardware.across_flats_mm, nut.hardware.height_mm - nut.recessed.mm, nut.round.mm if nut.round is not None else side)
    got = {(item.part, item.what): item for item in sunk_hexagons(derived)}
    assert set(got) == set(wanted)
    for key, (flats, out, recess) in wanted.items():
        item = got[key]
        assert item.recess_mm == (None if recess is None else pytest.approx(recess, abs=2e-5))
        assert item.out_mm == pytest.approx(max(out, 0.0)) and item.socket_mm == pytest.approx(1.35 * flats + 1.5)
        assert item.free is (out >= 3 or (recess is not None and recess >= 1.35 * flats + 1.5))


def check_room_of_keepers(name: str) -> None:
    """72 rays over each plate: how far it reaches past the teeth; where a stand-off of 10 mm finds plate, room beside the teeth and board."""
    f, (design, derived) = facts(name), solved(name)
    for found in stand_offs(design, derived):
        foot = next(item for item in derived.feet if item.id == found.foot)
        x, y, outline = foot.x_mm, foot.y_mm, foot.foot.keeper.outline
        made = f.named["boards"][f.gears[foot.gear].under.text]
        board = translate(sharp(made.outline), made.x_mm + made.outline.width_mm / 2, made.y_mm + made.outline.height_mm / 2)
        plate, teeth = translate(sharp(outline), x, y), tip(name, foot.gear)
        far, fitting = [], []
        for k in range(72):
            c, s = math.cos(math.radians(5 * k)), math.sin(math.radians(5 * k))
            reach = LineString([(x, y), (x + 2000 * c, y + 2000 * s)]).intersection(plate).length - teeth
            far.append(reach)
            middles = [teeth + 5 + step * 0.5 for step in range(int(max(0.0, reach - 10) * 2) + 1)] if reach >= 10 else []
            spots = [Point(x + r * c, y + r * s) for r in middles]
            if any(plate.contains(p) and plate.exterior.distance(p) > 2.6 and board.contains(p) and board.exterior.distance(p) > 5.1 for p in spots):
                fitting.append(5 * k)
        assert found.room_mm == pytest.approx(max(0.0, *far), abs=0.06) and found.tip_diameter_mm == pytest.approx(2 * teeth)
        sure = any(math.cos(math.radians(a - b)) < -0.1 for a in fitting for b in fitting)
        assert found.opposite or not sure


def check_pressed(name: str) -> None:
    """An insert that hangs out of its board and takes all that a gear on a keeper has of play, at some extreme of the sheets."""
    f, (design, derived) = facts(name), solved(name)
    worst: dict[str, float] = {}
    for state in derived.feet:
        if state.foot.kind == "sliding_hex" and state.foot.insert is not None:
            for c in (MEAN, *SHEETS):
                board = f.boards(c.board)[state.foot.into.text]
                hangs = board[0] - thread_zone(f, state.foot, board)[1][0]
                room = keeper_room(f, state.gear) + f.down(f.level(f.stack(state.gear)[0]), c.gear) - sum(f.width(g, c.gear) for g in f.stack(state.gear))
                if hangs > 0 and hangs >= room:
                    worst[state.id] = max(hangs - room, worst.get(state.id, 0.0))
    assert {item.foot.id: item.hangs_mm - item.room_mm for item in pressed_gears(design, derived)} == pytest.approx(worst, abs=1e-6)


def check_lower_boards(name: str) -> None:
    """A gear or hardware passes wood below with 1 mm beside it (hardware just so), or stays 0.5 mm above it."""
    f, (design, derived) = facts(name), solved(name)
    found = set()
    for lower, made in f.named["boards"].items():
        over = set(f.over(lower)[1:])
        outline = translate(sharp(made.outline), made.x_mm + made.outline.width_mm / 2, made.y_mm + made.outline.height_mm / 2)
        wood = outline
        for cut in board_cuts(name, lower):
            if cut.depth is None:
                hole = cut.shape
                wood = wood.difference(Point(hole[0], hole[1]).buffer(hole[2] / 2, quad_segs=64) if isinstance(hole, tuple) else hole)
        for solids in derived.solids:
            under, top = f.boards(solids.board)[lower]
            for item in solids.solids:
                hung = f.gears[f.stack(item.shaft)[0]].under.text
                if hung not in over or item.kind not in ("gear", "head", "pad", "nut", "bolt_end", "keeper"):
                    continue
                low, high = item.reach(solids.travel_mm)
                beside, above = (1.0, 0.5) if item.kind == "gear" else (0.01, 0.01)
                near = Point(item.x_mm, item.y_mm).distance(wood) - item.radius_mm
                if low - top < above - 1e-6 and high > under + 1e-6 and near < beside - 1e-3:
                    found.add((item.part, item.kind, lower))
    assert {(item.solid.part, item.solid.kind, item.board) for item in strikes(design, derived)} == found


@pytest.mark.parametrize("name", NAMES)
def test_near(name: str) -> None:
    check_gears_and_keepers(name)
    check_leaning(name)
    check_metal(name)
    check_spanners(name)
    check_lower_boards(name)
    check_room_of_keepers(name)
    check_pressed(name)
