"""What holds each keeper, of generated and hand-written fixtures: lengths by trying every extreme, places by measuring what they must clear.

1.5 d of thread in the wood, 1 mm under the topside, heads 0.5 mm deeper than high, 2 mm of wood round holes, 1 mm beside teeth: common
practice, no source. Lengths mm.
"""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest
from shapely.affinity import translate
from shapely.geometry import LineString, Point, Polygon
from tests.oracles.second_bolts import EPS
from tests.oracles.second_corpus import NAMES, design_of, solved
from tests.oracles.second_cuts import cutter_of, head_width, sharp
from tests.oracles.second_facts import Facts, at, facts
from tests.oracles.second_stand import SHEETS, keeper_room, tip
from tests.oracles.second_teeth import train

from trivet.solve.keeper_places import Plate
from trivet.solve.keeper_state import KeeperState
from trivet.solve.solid import Solid

KEPT = [name for name in NAMES if any(foot.keeper is not None for foot in design_of(name).feet)]


def close(value: Any) -> Any:
    return pytest.approx(value, abs=2e-5)


def lengths(f: Facts, held: KeeperState, recess: float) -> tuple[float, float, float, float]:
    """(least, most, where the length begins in the keeper, how deep its tip can come into the board) with heads so deep."""
    head = held.screw.head
    cone = head.form in ("countersunk", "wood")
    high = head.height_max_mm or (head.diameter_mm - held.screw.thread.major_mm) / 2
    seat = recess - high if cone else recess
    sheet, error = f.sheet(held.keeper).thickness, f.shop.depth_mm
    needs, rooms, passes = [], [], []
    for plate, board, depth in itertools.product((-1, 1), repeat=3):
        passed = at(sheet, plate) - max(0.0, seat + depth * error) * (seat > 0) + held.height_mm
        needs.append(passed + 1.5 * held.screw.thread.major_mm)
        rooms.append(passed + f.thick(held.board, board) - 1.0)
        passes.append(passed)
    return max(needs), min(rooms), seat, min(passes)


def chosen(f: Facts, held: KeeperState) -> tuple[float, float | None, tuple[float, float, float, float]]:
    """(recess, length, its bounds): heads from half a millimetre deeper than they are high, down by halves while wood is left under them."""
    head, sheet = held.screw.head, f.sheet(held.keeper).thickness
    high = head.height_max_mm or (head.diameter_mm - held.screw.thread.major_mm) / 2
    stated = held.screws.recessed.mm if held.screws.recessed is not None else None
    shallow = high if head.form in ("countersunk", "wood") else math.ceil((high + 0.5) * 2 - 1e-9) / 2
    first: tuple[float, float | None, tuple[float, float, float, float]] | None = None
    drawer = [h.length_mm for h in f.design.have if h.standard == held.screw.standard and h.thread == held.screw.thread.designation]
    for k in range(60):
        recess = stated if stated is not None else shallow + k / 2
        if k and (stated is not None or at(sheet, -1) - recess - f.shop.depth_mm < min(6.0, at(sheet, -1) / 2) - 1e-9):
            break
        least, most, seat, passed = lengths(f, held, recess)
        length = held.screws.length.mm if held.screws.length is not None else None
        for sold in (drawer, held.screw.stock_mm) if length is None else ():
            fitting = [one for one in sold if one is not None and least - EPS <= one <= most + EPS]
            ample = [one for one in fitting if one >= least + 1.5 * held.screw.thread.major_mm - EPS]
            length = length or (min(ample) if ample else max(fitting) if fitting else None)
        found = recess, length, (least, most, seat, passed)
        if length is not None and least - EPS <= length <= most + EPS:
            return found
        first = first or found
    assert first is not None
    return first


def check_screws(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    held_by = {held.gear: held for held in derived.keepers}
    assert sorted(held_by) == [gear for gear in f.feet if f.held(gear)[1].keeper is not None and f.held(gear)[1].keeper.screws is not None]
    for gear, held in held_by.items():
        assert held.height_mm == close(keeper_room(f, gear) + f.down(f.level(f.stack(gear)[0])))
        recess, length, (least, most, seat, passed) = chosen(f, held)
        assert (held.recess_mm, held.seat_mm) == close((recess, seat))
        assert (held.least_mm, held.most_mm) == close((least, most))
        assert held.length_mm == (None if length is None else close(length))
        assert held.fits is (length is not None and least - EPS <= length <= most + EPS)
        major = held.screw.thread.major_mm
        fitted = length if length is not None else least
        assert held.in_wood_mm == close(max(0.0, fitted - least + 1.5 * major))
        deep = math.ceil(2 * (fitted - passed) - 1e-6) / 2
        assert held.pilot_depth_mm == close(max(0.5, min(deep, f.thick(held.board) - 0.5)))
        step = 25.4 / 64 if f.design.units == "in" else 0.1
        drills = [k * step for k in range(1, 200)]
        want = held.screws.drill.mm if held.screws.drill is not None else min(drills, key=lambda d: abs(d - (held.screw.thread.minor_mm or 0.75 * major)))
        assert held.pilot_mm == pytest.approx(want, abs=1e-4)
        assert held.clearance_mm == close(major + 0.5)
        assert held.recess_diameter_mm == close(max(head_width(held.screw.head) + 1, cutter_of(f, f.gears[gear])))
        assert held.tip_mm == close(tip(name, gear))


def edge_of(solid: Solid) -> Any:
    if solid.plate is not None:
        return Polygon(solid.plate.points(0.01))
    return Point(solid.x_mm, solid.y_mm).buffer(solid.radius_mm, quad_segs=64)


def check_places(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    for held in derived.keepers:
        x, y = train(name).places[held.gear]
        half, hole = held.stand_off.diameter.mm / 2, held.recess_diameter_mm / 2
        plate = translate(sharp(held.keeper.outline), x, y)
        made = f.named["boards"][held.board]
        board = translate(sharp(made.outline), made.x_mm + made.outline.width_mm / 2, made.y_mm + made.outline.height_mm / 2)
        if not held.places and not held.lacking:
            # No place at all: a grid over the plate finds none beside the teeth with wood round its hole.
            reach = math.hypot(held.keeper.outline.width_mm, held.keeper.outline.height_mm) / 2
            grid = [k * 1.5 for k in range(-int(reach / 1.5), int(reach / 1.5) + 1)]
            spots = [(x + dx, y + dy) for dx in grid for dy in grid if math.hypot(dx, dy) >= held.tip_mm + half + 1]
            assert not any(plate.contains(Point(at_)) and plate.exterior.distance(Point(at_)) > hole + 2.5 for at_ in spots)
        for index, place in enumerate(held.places):
            spot = Point(place)
            assert plate.contains(spot) and plate.exterior.distance(spot) >= hole + 2 - 1e-3
            assert math.dist(place, (x, y)) >= held.tip_mm + half + 1 - 1e-6
            assert board.contains(spot) and board.exterior.distance(spot) >= max(half, 5.0) - 1e-3
            apart = max(2 * half + 1, 2 * hole + 2)
            assert all(math.dist(place, other) >= apart - 1e-6 for other in held.places[:index])
            for solids in derived.solids if index < 2 else ():
                for other in solids.solids:
                    low, high = other.reach(solids.travel_mm)
                    foot = next(item for item in solids.solids if item.kind == "keeper" and item.shaft == held.gear)
                    top = f.boards(solids.board)[held.board][0] + held.pilot_depth_mm
                    if other.shaft != held.gear and min(high, top) - max(low, foot.low_mm) > 0.1:
                        assert edge_of(other).distance(spot) >= half + 1 - 2e-3, (held.id, other.part, other.kind)
        turns = sorted(math.atan2(py - y, px - x) for px, py in held.places)
        gaps = [(b - a) % (2 * math.pi) for a, b in zip(turns, [*turns[1:], turns[0]], strict=True)] if len(turns) > 1 else []
        assert all(gap <= 1.5 * math.pi + 1e-6 for gap in gaps)


def check_plates(name: str) -> None:
    """Distances to a plate's edge, and how far it reaches in a direction, against the drawn plate."""
    f = facts(name)
    for set_name in sorted({f.held(gear)[1].name.text for gear in f.feet}):
        outline = f.named["feet"][set_name].keeper.outline
        plate = Plate(7.0, -3.0, outline, (), 20.0, 4.0, 3.0)
        drawn = translate(sharp(outline), 7.0, -3.0)
        reach = math.hypot(outline.width_mm, outline.height_mm)
        for k in range(40):
            r, turn = reach * (k % 8 + 0.5) / 8, 0.7 * k
            spot = Point(7.0 + r * math.cos(turn), -3.0 + r * math.sin(turn))
            away = drawn.exterior.distance(spot) * (1 if drawn.contains(spot) else -1)
            assert plate.to_edge_mm((spot.x, spot.y)) == pytest.approx(away, abs=0.01)
            ray = LineString([(7.0, -3.0), (7.0 + reach * math.cos(turn), -3.0 + reach * math.sin(turn))])
            assert plate.reach_mm((math.cos(turn), math.sin(turn))) == pytest.approx(ray.intersection(drawn).length, abs=0.01)
        assert plate.inset_mm == 5.0 and plate.apart_mm == 9.0


def check_cuts_and_bodies(name: str) -> None:
    f, derived = facts(name), solved(name)[1]
    parts = {part.part: part for part in derived.parts}
    for held in derived.keepers:
        x, y = train(name).places[held.gear]
        made = f.named["boards"][held.board]
        sheet = f.thick(held.board) / made.layers
        lowest = parts[held.board if made.layers == 1 else f"{held.board}.layer{made.layers}"]
        holes = [item for item in lowest.features if item.by_hand and held.id in item.title]
        assert sorted((item.shape.x_mm + made.x_mm, item.shape.y_mm + made.y_mm, item.shape.diameter_mm) for item in holes) == [
            close(one) for one in sorted((px, py, held.pilot_mm) for px, py in held.places)
        ]
        through = held.pilot_depth_mm >= sheet - 0.01
        assert all(item.depth_mm is None if through else item.depth_mm == close(held.pilot_depth_mm) for item in holes)
        plate = parts[held.id]
        passes = [item for item in plate.features if item.through and item.by_hand]
        assert len(passes) == len(held.places) and all(item.shape.diameter_mm == close(held.clearance_mm) for item in passes)
        sinks = [item for item in plate.features if not item.through]
        assert len(sinks) == (len(held.places) if held.seat_mm > 0 else 0)
        assert all((item.face, item.depth_mm) == ("underside", close(held.seat_mm)) for item in sinks)
        where = sorted((item.shape.x_mm + x, item.shape.y_mm + y) for item in passes)
        assert where == [close(one) for one in sorted(held.places)]
    for solids in derived.solids:
        c = next((c for c in SHEETS if (c.board, c.gear) == (solids.board, solids.gear)), None)
        for held in derived.keepers:
            foot = next(item for item in solids.solids if item.kind == "keeper" and item.shaft == held.gear)
            mine = [item for item in solids.solids if item.shaft == held.gear and item.kind in ("stand_off", "keeper_screw")]
            assert len(mine) == 2 * len(held.places)
            under = f.boards(c.board if c is not None else 0)[held.board][0]
            long = held.length_mm if held.length_mm is not None else held.least_mm
            for item in mine:
                stands = item.kind == "stand_off"
                assert item.radius_mm == close(held.stand_off.diameter.mm / 2 if stands else held.screw.thread.major_mm / 2)
                assert (item.low_mm, item.high_mm) == close(
                    (foot.high_mm, under) if stands else (foot.low_mm + held.seat_mm, foot.low_mm + held.seat_mm + long)
                )


@pytest.mark.parametrize("name", KEPT)
def test_keepers(name: str) -> None:
    check_screws(name)
    check_places(name)
    check_plates(name)
    check_cuts_and_bodies(name)
