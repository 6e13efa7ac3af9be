"""Stroke of the second calculation: for each cause the extension where it stops to allow, found by going there; no closed form of a limit.

The margins (0.5 mm under a topside, a keeper or over a socket's floor, half the thinner gear or 6 mm of face, 1.0 d of thread, 1 mm to
parting) are common practice, no source; the geometry is derived. Lengths mm.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

from tests.oracles.second_facts import Facts, facts
from tests.oracles.second_stand import Corner, Span, hung, length_of, lowest, thread_zone, tilt, tip
from tests.oracles.second_teeth import train

FAR = 400.0
Key = tuple[str, str, str, bool]
Room = Callable[[float], float]


@dataclass(frozen=True)
class Foot:
    """A foot at a corner: room (>= 0 allows) of each (end, cause, other part, hard) at an extension; its plane and its thread at 0."""

    rooms: dict[Key, Room]
    plane: float
    bearing: float
    live: Span
    whole: Span
    edges: dict[Key, float]
    work: float

    @property
    def height_at_zero(self) -> float:
        return self.work - self.plane


def head_height(foot: Any, sign: int) -> float:
    head = foot.screw.head
    most = max(head.height_max_mm, head.height_mm)
    least = head.height_min_mm if head.height_min_mm is not None else 2 * head.height_mm - most
    return float((least, head.height_mm, most)[sign + 1])


def screw_length(foot: Any) -> float:
    return float(foot.length.mm)


def threaded(foot: Any) -> float:
    """A standard's 2 d and an allowance that grows with the length."""
    long = screw_length(foot)
    if foot.screw is None or foot.screw.threaded.full:
        return long
    rule = foot.screw.threaded
    extra = rule.to_125_mm if long <= rule.first_to_mm else rule.to_200_mm if long <= 200 else rule.above_mm
    return float(min(long, rule.factor * foot.thread.major_mm + extra))


def shared(one: Span, other: Span) -> float:
    return min(one[1], other[1]) - max(one[0], other[0])


def moved(span: Span, by: float) -> Span:
    return span[0] - by, span[1] - by


def wanted(f: Facts, a: str, b: str, sign: int) -> float:
    """Face that two gears shall share: as a tooth form states, or half the thinner and 6 mm at least; no more than the thinner has."""
    thinner = min(f.width(a, sign), f.width(b, sign))
    stated = [f.form(gear).face_overlap.mm for gear in (a, b) if f.form(gear).face_overlap is not None]
    return min(max(stated) if stated else max(6.0, thinner / 2), thinner)


def pocket_depth(f: Facts, foot: Any, c: Corner) -> float:
    nominal = foot.pocket.mm if foot.pocket is not None else (foot.screw.head.height_mm if foot.kind == "riding" else 0.0)
    return max(0.0, nominal + c.depth * f.shop.depth_mm) if nominal > 0 else 0.0


def ceiling(f: Facts, gear: str, foot: Any, c: Corner, at: tuple[float, float]) -> tuple[float, str]:
    """How high a tip may come: to the topside, or to a board that lies on it and has no hole there wide enough."""
    boards, chain = f.boards(c.board), f.over(foot.into.text)
    for lower, upper in itertools.pairwise(chain):
        holes = [h for h in f.design.holes if h.into.text == upper and h.depth is None]
        free = any(
            math.dist((p.x_mm, p.y_mm), at) + foot.thread.major_mm / 2 < h.diameter_mm / 2 for h in holes for p in h.places
        )
        if not free:
            return boards[upper][0] if upper != lower else boards[lower][1], "tip_meets_board"
    return boards[chain[-1]][1], "tip_through"


@cache
def foot_at(name: str, gear: str, c: Corner, bolt: float | None, other_way: bool = False, length: float | None = None) -> Foot:
    """One foot; `bolt`: the drive's bolt as fitted, None: nothing touches the bench."""
    f = facts(name)
    foot = f.held(gear)[1]
    boards = f.boards(c.board)
    board = boards[foot.into.text]
    long = length if length is not None else screw_length(foot)
    shank = long - (threaded(foot) if length is None else long)
    stack = f.stack(gear)
    rooms: dict[Key, Room] = {}
    others = hung(name, c.sheets, bolt)
    drop = length_of(foot.pad.drop)
    width = sum(f.width(one, c.gear) for one in stack)
    if foot.insert is not None:
        live, whole = thread_zone(f, foot, board, other_way)
    if foot.kind == "riding":
        pocket = pocket_depth(f, foot, c)
        bearing = board[0] - width + pocket
        plane = min(board[0] - width, bearing - head_height(foot, c.head) - drop)
        above = f.down(f.level(stack[0]), c.gear)
        rooms["least", "gear_meets_board", foot.into.text, True] = lambda e: e - above
        rooms["least", "tilted_rim", foot.into.text, True] = lambda e: e - tip(name, gear) * tilt(f, foot)
        if whole[0] < board[0]:
            rooms["least", "insert_proud", foot.name.text, True] = lambda e: whole[0] - (board[0] - e)
        top = board[0]
        for one in stack:
            thick = f.width(one, c.gear)
            for mate in f.mates(one):
                if f.root(mate) in others:
                    hangs = others[f.root(mate)]
                    body, want = (top - thick, top), wanted(f, one, mate, c.gear)
                    for hard, least in ((False, want), (True, min(1.0, want))):
                        spans = hangs.places[mate] if hard or c.worst else [hangs.rest[mate]]
                        # Far out on either side of where they meet, only one end can be short.
                        middle = (body[0] + body[1] - spans[0][0] - spans[0][1]) / 2
                        for end in ("least", "most"):
                            rooms[end, "teeth_part", mate, hard] = _teeth(body, spans, least, middle, end)
            top -= thick
    elif foot.kind == "captured_nut":
        kept = others[gear]
        bearing = plane_top = next(iter(kept.lows.values()))
        plane = plane_top - drop
        nut = foot.nut.height_mm
        let_in = pocket_depth(f, foot, c) or nut
        low = kept.rest[gear][1] - let_in if foot.nut_pocket == "topside" else kept.rest[gear][0] + let_in - nut
        live = whole = (low, low + nut)
        rooms["least", "keeper", foot.name.text, True] = lambda e: e - 0.5
        for hard, end in ((False, live[1]), (True, live[0])):
            rooms["most", "nut_not_full", foot.name.text, hard] = _down(bearing + long - foot.thread.pitch_mm, end)
        if foot.rod_stop_diameter is not None:
            pin = foot.rod_stop_diameter.mm
            for hard, pins in ((False, 2.0), (True, 1.5)):
                rooms["most", "stop_leaves_slot", foot.into.text, hard] = _down(bearing + long - pins * pin, board[0])
    else:
        kept = others[gear]
        body = kept.rest[gear]
        depth = min(foot.socket_depth.mm + c.depth * f.shop.depth_mm, body[1] - body[0])
        head = head_height(foot, c.head)
        bearing = body[0] + depth
        plane = bearing - head - drop
        need = min(max(0.6 * head, min(4.0, head)), depth)
        rooms["least", "hex_at_socket_floor", gear, True] = lambda e: e
        for hard, held in ((False, need), (True, min(1.0, need))):
            rooms["most", "hex_leaves_socket", gear, hard] = _down(bearing - held, body[0])
        wide = foot.pad.diameter.mm > foot.screw.head.across_flats_mm if foot.pad.diameter is not None else foot.pad.kind == "disc"
        if wide:
            # The post's upper face is the head's lower one.
            rooms["least", "post_meets_gear", gear, True] = lambda e: body[0] - 0.5 - (bearing - head - e)
    if foot.insert is not None:
        need = min(foot.thread.major_mm, live[1] - live[0])
        for hard, turns in ((False, need), (True, min(foot.thread.pitch_mm, need))):
            rooms["most", "thread_leaves_insert", foot.name.text, hard] = _down(bearing + long - turns, live[0])
    cause = "shank_in_nut" if foot.kind == "captured_nut" else "shank_in_insert"
    rooms["least", cause, foot.name.text, True] = lambda e: live[0] - (bearing + shank - e)
    top_at, through = ceiling(f, gear, foot, c, train(name).places[gear])
    rooms["least", through, f.over(foot.into.text)[-1], True] = lambda e: top_at - 0.5 - (bearing + long - e)
    if bolt is not None:
        low_point = lowest(name, c.sheets, bolt)
        rooms["least", "bench", "", True] = lambda e: low_point - (plane - e)
    edges = {key: _edge(key[0], room) for key, room in rooms.items()}
    return Foot(rooms, plane, bearing, live, whole, edges, boards[f.over(foot.into.text)[-1]][1])


def _down(start: float, end: float) -> Room:
    """What goes down from a height stays above another."""
    return lambda e: start - e - end


def _teeth(body: Span, spans: list[Span], least: float, middle: float, end: str) -> Room:
    def room(e: float) -> float:
        beside = middle if (end == "least") == (e > middle) else e
        return min(shared(moved(body, beside), span) for span in spans) - least

    return room


def _edge(end: str, room: Room) -> float:
    """Come from far outside, going each time as far as room is missing, until it just allows."""
    out = -FAR if end == "least" else FAR
    for _ in range(4):
        missing = -room(out)
        out += missing if end == "least" else -missing
    assert abs(room(out)) < 1e-6, "there is no edge"
    return out
