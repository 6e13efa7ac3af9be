"""Every body under and in the boards, at mean sheets and at each extreme, of generated and hand-written fixtures, put there anew.

Heads of drives and pivots hang lowest at extremes: recesses shallow, washers thick. Lengths to 2e-5 mm (1.1547 for sharp corners).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from tests.oracles.second_bolts import ends, feet_at, fitted, pivot_screw
from tests.oracles.second_corpus import NAMES, solved
from tests.oracles.second_cuts import head_width
from tests.oracles.second_facts import at, facts
from tests.oracles.second_stand import MEAN, SHEETS, Corner, hangs, hung, length_of, thread_zone, tip, turned, washer
from tests.oracles.second_teeth import shape, train
from tests.oracles.second_travel import Foot, screw_length

from trivet.model.hardware import Insert, TeeNut
from trivet.solve.solid import SolidSet, share_height
from trivet.solve.solids import lifted

# (kind, part, x, y, radius, low, high, moves)
Body = tuple[str, str, float, float, float, float, float, bool]
STILL = [name for name in NAMES if name != "climbing"]


def nut(hardware: Any, seat: float, recess: float) -> tuple[list[tuple[str, float, float, float]], float]:
    """A nut on a seat, let in: (kind, diameter, low, high) of its bodies, and where it ends."""
    low = seat - recess
    if isinstance(hardware, TeeNut):
        top = low + hardware.flange_thickness_mm
        bodies = [("flange", hardware.flange_diameter_mm, low, top), ("barrel", hardware.barrel_diameter_mm, low - hardware.barrel_length_mm, low)]
        return bodies, top
    return [("nut", hardware.across_flats_mm * 1.1547, low, low + hardware.height_mm)], low + hardware.height_mm


def of_drive(name: str, root: str, c: Corner) -> Iterator[tuple[str, float, float, float]]:
    f = facts(name)
    drive, thick = f.held(root)[1], 1 if c.worst else 0
    stand = turned(f, root, Corner(c.board, c.gear, -thick), thick)
    head = drive.bolt.head
    high = head.height_mm + thick * max(head.height_max_mm - head.height_mm, 0)
    low = stand.head - (high if head.form == "countersunk" else 0)
    yield "head", head_width(head), low, low + high
    wide = drive.washer.outside_mm if drive.washer is not None else 0.0
    yield "washer", wide, stand.head - washer(drive, "head", thick), stand.head
    drop = stand.under - f.down(f.level(f.stack(root)[0]), c.gear)
    yield "washer", wide, drop - washer(drive, "above", thick), drop
    nuts = [one for one in (drive.nut, drive.jam_nut) if one is not None]
    level = stand.gears_top
    for index, one in enumerate(one for one in nuts if one.side == "above"):
        bodies, level = nut(one.hardware, level, length_of(one.recessed) if index == 0 else 0.0)
        yield from bodies
    level = stand.nut_low
    below = [one for one in nuts if one.side == "below"]
    for one in reversed(below):
        bodies, level = nut(one.hardware, level, 0.0)
        yield from bodies
    if below:
        yield "washer", wide, level, level + washer(drive, "below", thick)
    lowest = min(stand.nut_low, stand.gears_bottom - stand.lean * tip(name, root))
    yield "shank", drive.thread.major_mm, lowest, stand.head
    yield "bolt_end", drive.thread.major_mm, stand.head - fitted(name), lowest


def of_pivot(name: str, root: str, c: Corner) -> Iterator[tuple[str, float, float, float]]:
    f = facts(name)
    pivot, thick = f.held(root)[1], 1 if c.worst else 0
    stand = hangs(f, root, Corner(c.board, c.gear, -thick), thick)
    board = f.gears[f.stack(root)[0]].under.text
    under, top = f.boards(c.board)[board]
    yield "head", head_width(pivot.screw.head), stand.head_low, stand.seat
    wide = pivot.washer.outside_mm if pivot.washer is not None else 0.0
    yield "washer", wide, stand.seat, stand.seat + washer(pivot, "below", thick)
    hung_from = under - f.down(f.level(f.stack(root)[0]), c.gear)
    yield "washer", wide, hung_from - washer(pivot, "above", thick), hung_from
    outside = pivot.sleeve_outside or pivot.shoulder
    yield "sleeve", length_of(outside), stand.seat, under
    length = length_of(pivot.length) or pivot_screw(name, root).fitted
    yield "shank", pivot.thread.major_mm, stand.seat, max(stand.seat + length, under)
    if pivot.nut is not None:
        yield from nut(pivot.nut.hardware, top, length_of(pivot.nut.recessed))[0]


def of_foot(name: str, gear: str, c: Corner, one: Foot, e: float) -> Iterator[tuple[str, float, float, float, bool]]:
    f = facts(name)
    foot = f.held(gear)[1]
    head = head_width(foot.screw.head) if foot.screw is not None else foot.thread.major_mm
    pad, drop = length_of(foot.pad.diameter) or head, length_of(foot.pad.drop)
    plane, bearing, tip_at = one.plane - e, one.bearing - e, one.bearing - e + screw_length(foot)
    board = f.boards(c.board)[foot.into.text]
    if foot.kind == "riding":
        face = board[0] - e - sum(f.width(part, c.gear) for part in f.stack(gear))
        yield "pad", pad, plane, min(plane + drop, face), True
        yield "head", head, min(plane + drop, face), face, True
        yield "shank", foot.thread.major_mm, board[0] - e, tip_at, True
    elif foot.kind == "sliding_hex":
        yield "pad", pad, plane, plane + drop, True
        yield "head", head, plane + drop, bearing, True
        yield "shank", foot.thread.major_mm, bearing, tip_at, True
    else:
        yield "pad", pad, plane, bearing, True
        yield "rod", foot.thread.major_mm, bearing, tip_at, True
        if foot.rod_stop_diameter is not None:
            pin = foot.rod_stop_diameter.mm
            yield "rod", foot.thread.major_mm + 4 * pin, tip_at - 1.5 * pin, tip_at - pin / 2, True
    if foot.insert is not None:
        hardware = foot.insert.hardware
        _, (low, high) = thread_zone(f, foot, board)
        yield "insert", hardware.outside.most if isinstance(hardware, Insert) else hardware.barrel_diameter_mm, low, high, False
        flange, thick = hardware.flange_diameter_mm or 0.0, hardware.flange_thickness_mm or 0.0
        if foot.insert.driven_from == "underside":
            yield "flange", flange, low, low + thick, False
        else:
            yield "flange", flange, high - thick, high, False


def bodies(name: str, c: Corner) -> Iterator[Body]:
    f, places = facts(name), train(name).places
    feet = feet_at(name, c, fitted(name))
    low = ends(feet)["least", False]
    others = hung(name, c, fitted(name))
    for root in sorted({f.root(gear) for gear in f.gears}):
        (kind, block), (x, y) = f.held(root), places[root]
        owner = f"{block.name.text}.{root}"
        e = low - feet[root].height_at_zero if root in feet else 0.0
        for gear in f.stack(root):
            if root in others:
                spans = others[root].places[gear] if c.worst else [others[root].rest[gear]]
            else:
                top = f.boards(c.board)[block.into.text][0] - e - sum(
                    f.width(one, c.gear) for one in f.stack(root)[: f.stack(root).index(gear)]
                )
                spans = [(top - f.width(gear, c.gear), top)]
            tall = min(span[0] for span in spans), max(span[1] for span in spans)
            yield "gear", gear, x, y, shape(f, gear).tip, *tall, root not in others
        found: list[Any] = []
        if kind == "drive":
            found = [(*item, False) for item in of_drive(name, root, c)]
        elif kind == "pivot":
            found = [(*item, False) for item in of_pivot(name, root, c)]
        else:
            found = list(of_foot(name, root, c, feet[root], e))
        for what, wide, bottom, over, moves in found:
            if over - bottom > 1e-9 and wide > 0:
                yield what, owner, x, y, wide / 2, bottom, over, moves
        if root in others and "bench_keeper" in others[root].lows:
            outline, at_z = block.keeper.outline, others[root].lows["bench_keeper"]
            plate = at(f.sheet(block.keeper).thickness, c.gear)
            round_ = outline.width_mm / 2 if outline.shape == "circle" else -1.0
            yield "keeper", f"{owner}.keeper", x, y, round_, at_z, at_z + plate, False


@pytest.mark.parametrize("name", STILL)
def test_bodies(name: str) -> None:
    sets = {(item.board, item.gear): item for item in solved(name)[1].solids}
    assert next(iter(sets)) == (0, 0) and len(sets) == 5
    for c in (MEAN, *SHEETS):
        said = sets[c.board, c.gear]
        feet = ends(feet_at(name, c, fitted(name)))
        assert said.travel_mm == pytest.approx(max(0.0, feet["most", False] - feet["least", False]), abs=1e-6)
        got = sorted(
            (item.kind, item.part, item.x_mm, item.y_mm, item.radius_mm if item.plate is None else -1.0, item.low_mm, item.high_mm, item.moves)
            for item in said.solids
            if item.kind not in ("stand_off", "keeper_screw")
        )
        wanted = sorted((*body[:4], body[4] if body[0] != "keeper" else -1.0, *body[5:]) for body in bodies(name, c))
        assert [item[:2] for item in got] == [item[:2] for item in wanted]
        for one, two in zip(got, wanted, strict=True):
            assert one[2:7] == pytest.approx(two[2:7], abs=2e-5) and one[7] is two[7], (c, one, two)
        up = lifted(said)
        for before, after in zip(said.solids, up.solids, strict=True):
            down = said.travel_mm if before.moves else 0.0
            assert (after.low_mm, after.high_mm) == pytest.approx((before.low_mm - down, before.high_mm - down))
            assert before.reach(said.travel_mm) == pytest.approx((before.low_mm - down, before.high_mm))
            assert before.metal is (before.kind not in ("gear", "keeper", "stand_off"))
        reaches(said)


def reaches(said: SolidSet) -> None:
    """A keeper's plate reaches no less far than its corners, and no farther than their box; heights shared by trying the travel."""
    for item in said.solids:
        if item.plate is not None:
            x0, y0, x1, y1 = item.plate.bounds
            far = max(((x - item.x_mm) ** 2 + (y - item.y_mm) ** 2) ** 0.5 for x, y in item.plate.points(0.01))
            assert far - 0.02 <= item.radius_mm <= far + 12.5, (far, item.radius_mm, x0, y0, x1, y1)
    some = said.solids[:: max(1, len(said.solids) // 6)]
    for one in some:
        for other in some:
            tried = []
            for step in range(201):
                down = said.travel_mm * step / 200
                a, b = (down if item.moves else 0.0 for item in (one, other))
                tried.append(min(one.high_mm - a, other.high_mm - b) - max(one.low_mm - a, other.low_mm - b))
            assert share_height(one, other, said.travel_mm) == pytest.approx(max(tried), abs=said.travel_mm / 100 + 1e-9)
