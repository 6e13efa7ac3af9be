"""Where everything is along z in the second calculation: hung gears, keepers, threads, lowest points. Lengths mm; z = 0 under the feet's board.

A part is put where it hangs at one extreme of sheets, washers and recess depths; which of them is worst is found by trying all. Play where
none is stated, 0.2 of a drive, 0.3 of a pivot and under a kept gear, is common practice, no source.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from tests.oracles.second_facts import Facts, at, facts
from tests.oracles.second_teeth import shape

from trivet.model.hardware import Insert, TeeNut

Span = tuple[float, float]


@dataclass(frozen=True)
class Corner:
    """Signs of boards, gears, depths and heads."""

    board: int = 0
    gear: int = 0
    depth: int = 0
    head: int = 0

    @property
    def worst(self) -> bool:
        return self.board != 0

    @property
    def sheets(self) -> Corner:
        return Corner(self.board, self.gear)


MEAN = Corner()
SHEETS = tuple(Corner(b, g) for b, g in itertools.product((-1, 1), repeat=2))
CORNERS = tuple(Corner(*signs) for signs in itertools.product((-1, 1), repeat=4))


@dataclass
class Hung:
    """A shaft that hangs: places of its gears at rest and wherever play lets them; what its bolt's length is made of; lowest points."""

    rest: dict[str, Span] = field(default_factory=dict)
    places: dict[str, list[Span]] = field(default_factory=dict)
    lows: dict[str, float] = field(default_factory=dict)


def laid(f: Facts, root: str, top: float, sign: int) -> dict[str, Span]:
    """The gears of a shaft one under the other from a height."""
    found = {}
    for gear in f.stack(root):
        width = f.width(gear, sign)
        found[gear] = (top - width, top)
        top -= width
    return found


def nut_height(nut: Any, out: bool = False) -> float:
    """Of a nut, or of what stands out of the wood of a tee nut."""
    hardware = nut.hardware
    return float(hardware.flange_thickness_mm if out and isinstance(hardware, TeeNut) else hardware.height_mm)


def washer(of: Any, where: str, sign: int) -> float:
    if of.washer is None or where not in of.washer_places:
        return 0.0
    return float((of.washer.thickness_min_mm, of.washer.thickness_mm, of.washer.thickness_max_mm)[sign + 1])


def length_of(value: Any, otherwise: float = 0.0) -> float:
    return otherwise if value is None else float(value.mm)


@dataclass(frozen=True)
class Turned:
    """The drive at one extreme. From where its bolt's length counts downwards: `holds`, what it must reach; `flush`, where it may end."""

    head: float
    under: float
    gears_top: float
    gears_bottom: float
    nut_low: float
    thread_from: float
    left: float
    lean: float
    play: float

    @property
    def holds(self) -> float:
        return self.head - self.nut_low

    @property
    def flush(self) -> float:
        return max(self.holds, self.head - self.gears_bottom)


def turned(f: Facts, root: str, c: Corner, thick: int) -> Turned:
    """With washers at `thick`."""
    drive = f.held(root)[1]
    board, error = f.gears[f.stack(root)[0]].under.text, c.depth * f.shop.depth_mm
    boards, upper = f.boards(c.board), f.over(board)[-1]
    under, top = boards[board][0], boards[upper][1]
    seat = top - (length_of(drive.head_recessed) + error if drive.head_recessed is not None else 0.0)
    nuts = [nut for nut in (drive.nut, drive.jam_nut) if nut is not None]
    above, below = [n for n in nuts if n.side == "above"], [n for n in nuts if n.side == "below"]
    first = next((n for n in above if n.recessed is not None), None) if above and above[0].recessed is not None else None
    out = sum(nut_height(n, out=True) for n in above) - (first.recessed.mm + error if first is not None else 0.0)
    play = length_of(drive.play, 0.2)
    faces = under - play - f.down(f.level(f.stack(root)[0]), c.gear) - washer(drive, "above", thick)
    gears_top = faces - max(0.0, out)
    bottom = gears_top - sum(f.width(gear, c.gear) for gear in f.stack(root))
    cone = drive.bolt.head.height_mm if drive.bolt.head.form == "countersunk" else 0.0
    head = seat + washer(drive, "head", thick) + cone
    begins = bottom
    if below:
        begins += below[0].recessed.mm + error if below[0].recessed is not None else 0.0
        begins -= washer(drive, "below", thick)
        nut_low = begins - sum(nut_height(n) for n in below)
    else:
        nut_low = faces - sum(nut_height(n) for n in above)
    across = [n.hardware.flange_diameter_mm if isinstance(n.hardware, TeeNut) else n.hardware.across_flats_mm for n in above]
    leans = [max(drive.hole_mm - drive.thread.major_mm, 0.0) / (seat - under)] + ([play / max(across)] if across else [])
    return Turned(head, under, gears_top, bottom, nut_low, head - (faces if above else begins), seat - boards[upper][0], min(leans), play)


@dataclass(frozen=True)
class Hangs:
    """A pivot at one extreme, z of the face under its head, what its screw's length counts from there, and its play."""

    seat: float
    gears_top: float
    gears_bottom: float
    head_low: float
    holds: float
    room: float
    thread_from: float
    play: float
    sleeve: float | None
    lean: float


def pivot_play(pivot: Any) -> float:
    return length_of(pivot.play, 0.3)


def sleeve_of(f: Facts, root: str) -> float | None:
    """As long as the thickest gears over the shallowest recess, play, and the washers that fit over it."""
    pivot = f.held(root)[1]
    outside = pivot.sleeve_outside or pivot.shoulder
    if outside is None:
        return None
    recess = length_of(pivot.head_recessed)
    shallow = max(recess - f.shop.depth_mm, 0.0) if pivot.head_recessed is not None else 0.0
    passed = {"above", "below"} & set(pivot.washer_places) if pivot.washer is not None and pivot.washer.inside_mm >= outside.mm else ()
    gears = sum(f.width(gear, 1) for gear in f.stack(root))
    return gears - shallow + pivot_play(pivot) + sum(washer(pivot, where, 1) for where in passed)


def hangs(f: Facts, root: str, c: Corner, thick: int) -> Hangs:
    """From the board down: washer, play, gears, washer, head."""
    pivot, error = f.held(root)[1], c.depth * f.shop.depth_mm
    board = f.gears[f.stack(root)[0]].under.text
    under, top = f.boards(c.board)[board]
    recess = max(length_of(pivot.head_recessed) + (error if pivot.head_recessed is not None else 0.0), 0.0)
    web = max(sum(f.width(gear, c.gear) for gear in f.stack(root)) - recess, 0.0)
    over, beneath = washer(pivot, "above", thick), washer(pivot, "below", thick)
    sleeve, outside = sleeve_of(f, root), pivot.sleeve_outside or pivot.shoulder
    if sleeve is None:
        play, gap = pivot_play(pivot), over + web + pivot_play(pivot) + beneath
    elif pivot.washer is not None and pivot.washer.inside_mm >= outside.mm:
        play, gap = sleeve - web - over - beneath, sleeve
    else:
        play, gap = sleeve - web, over + sleeve + beneath
    hung = under - f.down(f.level(f.stack(root)[0]), c.gear)
    head, seat = pivot.screw.head, hung - gap
    low = seat - head.height_mm - max(head.height_max_mm - head.height_mm, 0.0)
    cone = head.height_mm if head.form == "countersunk" else 0.0
    start = seat - cone
    if cone:
        low = start + cone - head.height_mm - max(head.height_max_mm - head.height_mm, 0.0)
    gears_top = hung - over - play
    wood = top - under
    if pivot.nut is None:
        holds, room = under + 1.5 * pivot.thread.major_mm, top - 1.0
    else:
        let_in = max(pivot.nut.recessed.mm + error, 0.0) if pivot.nut.recessed is not None else 0.0
        nut = pivot.nut.hardware
        if isinstance(nut, TeeNut):
            holds = under + max(wood - let_in - nut.barrel_length_mm, 0.0) + min(pivot.thread.major_mm, nut.barrel_length_mm)
            room = under + max(wood, wood - let_in + nut.flange_thickness_mm)
        else:
            holds = top - let_in + nut.height_mm
            room = max(top, holds)
    across = pivot.washer.outside_mm if pivot.washer is not None else head.diameter_mm
    lean = min([f.shop.bore_clearance_mm / web] * (web > 0) + [max(play, 0.0) / across])
    bottom = gears_top - sum(f.width(gear, c.gear) for gear in f.stack(root))
    return Hangs(seat, gears_top, bottom, low, holds - start, room - start, under - start, play, sleeve, lean)


def tip(name: str, root: str) -> float:
    return max(shape(facts(name), gear).tip for gear in facts(name).stack(root))


def keeper_room(f: Facts, root: str) -> float:
    """From the face the gear hangs under to its keeper: the thickest gears and 0.3."""
    return sum(f.width(gear, 1) for gear in f.stack(root)) + 0.3


@cache
def hung(name: str, sheets: Corner, bolt: float | None = None) -> dict[str, Hung]:
    """Every shaft whose gears do not ride, by its root; `bolt`: the fitted length of the drive's bolt."""
    f = facts(name)
    found: dict[str, Hung] = {}
    depths = (-1, 1) if sheets.worst else (0,)
    for root in sorted({f.root(gear) for gear in f.gears}):
        kind, block = f.held(root)
        spread = list(itertools.product(depths, (-1, 1)))
        here = Hung()
        if kind == "drive" or kind == "pivot":
            put: Any = turned if kind == "drive" else hangs
            nominal = put(f, root, sheets, 0)
            here.rest = laid(f, root, nominal.gears_top, sheets.gear)
            tried = [put(f, root, Corner(sheets.board, sheets.gear, depth), thick) for depth, thick in spread]
            for one in (nominal, *tried):
                for top in (one.gears_top, one.gears_top + one.play):
                    for gear, span in laid(f, root, top, sheets.gear).items():
                        here.places.setdefault(gear, []).append(span)
            rim = min(one.gears_bottom - one.lean * tip(name, root) for one in tried)
            if kind == "drive":
                here.lows = {"bench_drive": rim, "bench_nut": min(one.nut_low for one in tried)}
                if bolt is not None:
                    here.lows["bench_bolt"] = min(one.head for one in tried) - bolt
            else:
                here.lows = {"bench_idler": rim, "bench_pivot_head": min(one.head_low for one in tried)}
        elif not f.rides(root):
            top = f.boards(sheets.board)[block.into.text][0] - f.down(f.level(f.stack(root)[0]), sheets.gear)
            floor = top - keeper_room(f, root)
            lowest = floor + sum(f.width(gear, sheets.gear) for gear in f.stack(root))
            up, down = laid(f, root, top, sheets.gear), laid(f, root, lowest, sheets.gear)
            here.rest = up if block.kind == "captured_nut" else down
            here.places = {gear: [up[gear], down[gear]] for gear in up}
            plate = at(f.sheet(block.keeper).thickness, sheets.gear)
            here.lows = {"bench_keeper": floor - plate}
        else:
            continue
        found[root] = here
    return found


def lowest(name: str, sheets: Corner, bolt: float | None) -> float:
    """The lowest of all that does not move with the feet: also boards that no foot acts on."""
    f = facts(name)
    acted = {foot.into.text for foot in f.design.feet}
    boards = [span[0] for board, span in f.boards(sheets.board).items() if board not in acted]
    return min([low for one in hung(name, sheets, bolt).values() for low in one.lows.values()] + boards)


def thread_zone(f: Facts, foot: Any, board: Span, other_way: bool = False) -> tuple[Span, Span]:
    """(live thread, whole insert) of an insert in its board."""
    use = foot.insert
    whole = use.hardware.length_mm if isinstance(use.hardware, Insert) else use.hardware.height_mm
    proud = length_of(use.proud)
    low = board[0] - proud if use.flush == "underside" else board[1] + proud - whole
    if not isinstance(use.hardware, Insert):
        return (low, low + whole), (low, low + whole)
    first, last = use.hardware.live_from_mm, use.hardware.live_to_mm
    if (use.driven_from == "topside") != other_way:
        return (low + whole - last, low + whole - first), (low, low + whole)
    return (low + first, low + last), (low, low + whole)


def tilt(f: Facts, foot: Any) -> float:
    lean = math.tan(math.radians(f.shop.insert_tilt_deg))
    return lean if foot.guide is None else min(lean, foot.guide.clearance.mm / foot.guide.length.mm)
