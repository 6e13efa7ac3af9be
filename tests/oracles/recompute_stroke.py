"""Stroke, heights and engagement of the examples by trial: solids along z, each extension kept or refused; no closed form of a limit.

z = 0 is the underside of the board the feet act on, up positive. The margins (0.5 mm under a topside, a keeper or over a socket's
floor, half the gear or 6 mm of face, 1.0 d of thread, 1 mm to parting) are common practice, no source; the geometry is derived.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Any

import numpy as np
from tests.oracles.recompute_facts import Fixture

STEP = 0.005
EXTENSIONS = np.arange(-30.0, 70.0, STEP)
# Play of a kept gear between its board and its keeper.
KEEPER_PLAY = 0.3
Span = tuple[Any, Any]


@dataclass(frozen=True)
class Corner:
    """Where in its band each thing is, from −1 to 1: boards, gears, the foot's recess, its head. `worst`: plays count too."""

    board: float = 0
    gear: float = 0
    depth: float = 0
    head: float = 0
    worst: bool = False


MEAN = Corner()
EVERY = tuple(Corner(a, b, c, d, worst=True) for a, b, c, d in itertools.product((-1, 1), repeat=4))


@dataclass(frozen=True)
class Stroke:
    """Least and most extension, with comfort and to parting, and the heights of the work at both comfortable ends."""

    ends: tuple[float, float]
    parting: tuple[float, float]
    heights: tuple[float, float]


@dataclass(frozen=True)
class Hung:
    """An axially fixed gear: where it is at rest, all places that play lets it take, and the lowest point of it and its fasteners."""

    rest: Span
    places: tuple[Span, ...]
    low: float


def ply(f: Fixture, sign: float, layers: int = 1) -> float:
    return layers * (f.sheet[0] + sign * f.sheet[1])


def width(f: Fixture, gear: str, sign: float) -> float:
    return ply(f, sign, f.layers.get(gear, 1))


def drop(f: Fixture, gear: str, sign: float) -> float:
    """What hangs above a gear's level: one gear sheet a level in these examples (the shaft's upper gear)."""
    return ply(f, sign) * f.level.get(gear, 0)


def tip_radius(f: Fixture, gear: str) -> float:
    return f.module * (f.teeth[gear] / 2 + 1)


def recesses(f: Fixture, corner: Corner) -> tuple[float, ...]:
    """Errors that a fixed part's recess may have: at mean sheets none, else either."""
    return (-f.depth, f.depth) if corner.worst else (0.0,)


def hung_drive(f: Fixture, gear: str, corner: Corner) -> Hung:
    d, g, board = f.drive, width(f, gear, corner.gear), ply(f, corner.board, f.boards)
    uppermost = board + ply(f, corner.board, f.upper)
    top = -d.play - d.flange
    low = top - g
    lows = []
    for error in recesses(f, corner):
        slack = (d.hole - d.thread) / (uppermost - d.recess - error)
        lows += [low - min(slack, d.play / d.flange_diameter) * tip_radius(f, gear)]
        lows += [low + d.jam_recess + error - d.jam_height, uppermost - d.recess - error - d.fitted]
    return Hung((low, top), ((low, top), (low + d.play, top + d.play)), min(lows))


def sleeve(f: Fixture, stack: tuple[str, ...]) -> float:
    """As long as the thickest gears above the shallowest recess, and the play; its washers do not fit over it."""
    assert f.pivot is not None
    return sum(width(f, name, 1) for name in stack) - (f.pivot.recess - f.depth) + f.pivot.play


def hung_idler(f: Fixture, root: str, corner: Corner) -> dict[str, Hung]:
    p = f.pivot
    assert p is not None
    stack = (root, *(name for name, on in f.fixed_on.items() if on == root))
    widths = [width(f, name, corner.gear) for name in stack]
    found: dict[str, list[Span]] = {name: [] for name in stack}
    lows = []
    for error in (0.0, *(recesses(f, corner) if corner.worst else ())):
        web = sum(widths) - p.recess - error
        play = sleeve(f, stack) - web if p.sleeve else p.play
        hang = drop(f, root, corner.gear) + p.washer[2] + play
        if error != 0.0 or not corner.worst:
            lean = min(f.bore / web, play / p.washer_outside) * max(tip_radius(f, name) for name in stack)
            lows += [-hang - sum(widths) - lean, -hang - web - p.washer[2] - p.head]
        # At rest it hangs on nominal washers; then pushed up on the thinnest, and hung on the thickest.
        for washer, lowered in ((p.washer[1], play), (p.washer[0], 0.0), (p.washer[2], play)):
            top = -drop(f, root, corner.gear) - washer - lowered
            for name, thick in zip(stack, widths, strict=True):
                found[name].append((top - thick, top))
                top -= thick
    return {name: Hung(places[0], tuple(places), min(lows)) for name, places in found.items()}


def keeper(f: Fixture, foot: str, corner: Corner) -> tuple[float, float]:
    """(lower, upper face) of the keeper under a gear."""
    top = -drop(f, foot, corner.gear) - width(f, foot, 1) - KEEPER_PLAY
    return top - ply(f, corner.gear), top


def hung(f: Fixture, corner: Corner) -> dict[str, Hung]:
    """Every gear that does not ride its foot's screw."""
    found: dict[str, Hung] = {}
    for name, held in f.held.items():
        g = width(f, name, corner.gear)
        if held == "drive":
            found[name] = hung_drive(f, name, corner)
        elif held == "pivot" and name not in f.fixed_on:
            found |= hung_idler(f, name, corner)
        elif held == "foot" and f.foot.kind != "riding":
            low, floor = keeper(f, name, corner)
            high = -drop(f, name, corner.gear)
            up, down = (high - g, high), (floor, floor + g)
            found[name] = Hung(up if f.foot.kind == "captured_nut" else down, (up, down), low)
    return found


def overlap(a: Span, b: Span) -> Any:
    return np.minimum(a[1], b[1]) - np.maximum(a[0], b[0])


def head_height(f: Fixture, corner: Corner) -> float:
    return float(np.interp(corner.head, (-1, 0, 1), f.foot.head))


def live_zone(f: Fixture) -> Span:
    """The insert's live thread; the insert is flush with the underside."""
    length, first, last = f.foot.insert
    return (length - last, length - first) if f.foot.driven_from == "topside" else (first, last)


@dataclass(frozen=True)
class Tried:
    """One foot at extensions e: what each cause allows, by (end, cause, hard), teeth with each mate; foot plane; thread in its mate."""

    allowed: dict[tuple[str, str, bool], Any]
    plane: Any
    engaged: Any

    @property
    def solid(self) -> Any:
        return np.logical_and.reduce([mask for (_, _, hard), mask in self.allowed.items() if hard])

    @property
    def fine(self) -> Any:
        return np.logical_and.reduce(list(self.allowed.values()))


def at(f: Fixture, gear: str, corner: Corner, e: Any) -> Tried:
    """Foot `gear` at extensions e; `eps`: what is exactly as much as wanted counts."""
    foot, fixed, eps = f.foot, hung(f, corner), 1e-9
    error, g, head = corner.depth * f.depth, width(f, gear, corner.gear), head_height(f, corner)
    found: dict[tuple[str, str, bool], Any] = {}
    if foot.kind == "riding":
        body = (-e - g, -e)
        bearing = body[0] + foot.pocket + error
        plane = np.minimum(body[0], bearing - head - foot.drop)
        found["least", "gear_meets_board", True] = body[1] <= eps
        found["least", "tilted_rim", True] = body[1] + tip_radius(f, gear) * np.tan(np.radians(f.tilt_deg)) <= eps
        least = min(max(6.0, g / 2), g)
        mates = [b if a == gear else a for a, b in f.meshes if gear in (a, b)]
        for mate, (hard, wanted) in itertools.product(mates, ((False, least), (True, 1.0))):
            # To parting every play is against us; with comfort only at the extremes of the sheets.
            places = fixed[mate].places if hard or corner.worst else (fixed[mate].rest,)
            shared = np.minimum.reduce([overlap(body, place) for place in places])
            # Concave in the extension: it rises to its summit and falls from it.
            summit = e[np.argmax(shared)]
            found["least", f"teeth_part {mate}", hard] = (shared >= wanted - eps) | (e > summit)
            found["most", f"teeth_part {mate}", hard] = (shared >= wanted - eps) | (e < summit)
    elif foot.kind == "captured_nut":
        below, _ = keeper(f, gear, corner)
        bearing, plane = below - e, below - e - foot.drop
        nut = fixed[gear].rest[0], fixed[gear].rest[0] + foot.nut
        tip = bearing + foot.length
        found["least", "keeper", True] = e >= 0.5 - eps
        # A full nut with a pitch to spare, then the last turn; the cross pin a diameter inside its slot, then half of one.
        found["most", "nut_not_full", False] = tip - foot.lead >= nut[1] - eps
        found["most", "nut_not_full", True] = tip - foot.lead >= nut[0] - eps
        found["most", "stop_leaves_slot", False] = tip - 2 * foot.pin >= -eps
        found["most", "stop_leaves_slot", True] = tip - 1.5 * foot.pin >= -eps
    else:
        floor = fixed[gear].rest[0]
        socket = (floor, floor + min(foot.socket + error, g))
        bearing = socket[1] - e
        plane = bearing - head - foot.drop
        held = np.minimum(bearing, socket[1]) - socket[0]
        found["least", "hex_at_socket_floor", True] = e >= -eps
        found["most", "hex_leaves_socket", False] = held >= min(max(0.6 * head, min(4.0, head)), socket[1] - socket[0]) - eps
        found["most", "hex_leaves_socket", True] = held >= 1.0 - eps
    thread = (bearing + foot.shank, bearing + foot.length)
    live = nut if foot.kind == "captured_nut" else live_zone(f)
    shank = "shank_in_nut" if foot.kind == "captured_nut" else "shank_in_insert"
    found["least", shank, True] = thread[0] <= live[0] + eps
    if foot.kind != "captured_nut":
        found["most", "thread_leaves_insert", False] = thread[1] - live[0] >= min(foot.thread, live[1] - live[0]) - eps
        found["most", "thread_leaves_insert", True] = thread[1] - live[0] >= foot.lead - eps
    found["least", "tip_meets_board" if f.upper else "tip_through", True] = thread[1] <= ply(f, corner.board, f.boards) - 0.5 + eps
    found["least", "bench", True] = plane <= min(item.low for item in fixed.values()) + eps
    return Tried(found, plane, overlap(thread, live))


def edge(end: str, mask: Any) -> float:
    """Where a cause begins to allow, going out (least), or ceases to (most)."""
    return float(EXTENSIONS[mask][0 if end == "least" else -1])


def edges(f: Fixture, corner: Corner) -> dict[tuple[str, str, bool], float]:
    """The tightest edge of each cause over all feet."""
    found: dict[tuple[str, str, bool], float] = {}
    for name, held in f.held.items():
        if held == "foot":
            for key, mask in at(f, name, corner, EXTENSIONS).allowed.items():
                tightest = max if key[0] == "least" else min
                here = edge(key[0], mask)
                found[key] = tightest(found.get(key, here), here)
    return found


def stroke(f: Fixture, corner: Corner) -> Stroke:
    """The board's stroke: what every foot allows."""
    e = EXTENSIONS
    found = [at(f, name, corner, e) for name, held in f.held.items() if held == "foot"]
    fine = np.logical_and.reduce([item.fine for item in found])
    solid = np.logical_and.reduce([item.solid for item in found])
    work, plane = ply(f, corner.board, f.boards + f.upper), found[0].plane[fine]
    ends = (float(e[fine][0]), float(e[fine][-1]))
    return Stroke(ends, (float(e[solid][0]), float(e[solid][-1])), (work - float(plane[0]), work - float(plane[-1])))
