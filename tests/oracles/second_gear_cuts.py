"""Gears as they are cut, worked out anew: teeth from an unwound string grown and shrunk by the cutter, recesses, webs, dowels, marks.

In the gear's own frame at phase 0. Rims, hubs and walls are common practice, no source. Lengths mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache
from typing import Any

import numpy as np
from shapely import Polygon
from shapely.affinity import rotate
from shapely.geometry import Point, box
from tests.oracles.second_cuts import FINE, ROOM, Cut, cutter_of, head_recess, head_width, hexagon, nut_recess, rounded_by, sunk
from tests.oracles.second_facts import Facts, facts
from tests.oracles.second_shop import bore_mm
from tests.oracles.second_stand import length_of
from tests.oracles.second_teeth import Teeth, goes_down, train
from tests.oracles.second_travel import pocket_depth


@cache
def toothed(teeth: Teeth, cutter: float) -> Any:
    """One tooth at +x: flanks by points of the string's end, radial below the base circle, then the cutter all round."""
    ring: list[tuple[float, float]] = []
    half_pitch = math.pi / teeth.z
    flank = [max(teeth.rf, 1e-6), *np.linspace(max(teeth.rb, teeth.rf, 1e-6), teeth.ra, 60)]
    tip = max(teeth.half(teeth.ra), 0.0)
    for k in range(teeth.z):
        turn = 2 * half_pitch * k
        lower = [(r, turn - teeth.half(max(r, teeth.rb))) for r in flank]
        crest = [(teeth.ra, turn + tip * part) for part in np.linspace(-1, 1, 20)[1:-1]]
        upper = [(r, turn + teeth.half(max(r, teeth.rb))) for r in reversed(flank)]
        start = teeth.half(max(teeth.rb, flank[0]))
        floor = [(flank[0], turn + start + (2 * half_pitch - 2 * start) * part) for part in np.linspace(0, 1, 20)[1:-1]]
        ring += [(r * math.cos(a), r * math.sin(a)) for r, a in (*lower, *crest, *upper, *floor)]
    return Polygon(ring).buffer(cutter / 2, quad_segs=16).buffer(-cutter / 2, quad_segs=16)


def reach(shape: Any) -> float:
    """How far a recess round the axis goes out."""
    if isinstance(shape, tuple):
        return float(shape[2] / 2)
    return max(math.hypot(x, y) for x, y in shape.exterior.coords)


def recesses(f: Facts, gear: str) -> list[Cut]:
    """What is let into a gear; of a shaft's gears nuts above in the uppermost, heads and nuts below in the lowest."""
    stack, (kind, block), made = f.stack(gear), f.held(gear), f.gears[gear]
    thickness, cutter = f.width(gear), cutter_of(f, made)
    top, low = gear == stack[0], gear == stack[-1]
    found: list[Cut] = []
    if kind == "drive":
        nuts = [(block.nut, True), (block.jam_nut, block.jam_nut is not None and (block.jam_nut.side != block.nut.side or block.nut.recessed is None))]
        for nut, wanted in nuts:
            if nut is not None and wanted and (top if nut.side == "above" else low):
                washer = block.washer if nut.side in block.washer_places else None
                found += nut_recess(nut, washer, thickness, cutter, 0, 0, "topside" if nut.side == "above" else "underside")
    elif kind == "pivot":
        if low and block.head_recessed is not None:
            washer = block.washer if "below" in block.washer_places else None
            found += head_recess(block.screw, block.head_recessed.mm, washer, thickness, cutter, 0, 0, "underside")
    elif block.kind == "captured_nut":
        if f.root(gear) == gear:
            deep = pocket_depth(f, block, _NOMINAL) or block.nut.height_mm
            found += sunk(block.nut_pocket, deep, thickness, hexagon(block.nut.across_flats_mm, 0.1, cutter), cutter)
    elif (low if block.kind == "riding" else f.root(gear) == gear):
        riding, head = block.kind == "riding", block.screw.head
        deep, room = (pocket_depth(f, block, _NOMINAL), 0.1) if riding else (block.socket_depth.mm, 0.2)
        shape: Any = (0, 0, head_width(head) + room)
        if head.across_flats_mm is not None:
            shape = hexagon(head.across_flats_mm, room, cutter)
        found += sunk("underside", deep, thickness, shape, cutter)
    return found


class _Nominal:
    depth = 0


_NOMINAL: Any = _Nominal()


def gear_cuts(name: str, gear: str) -> Iterator[Cut]:
    """At phase 0."""
    f, made = facts(name), facts(name).gears[gear]
    cutter, bore = cutter_of(f, made), bore_mm(facts(name), gear)
    yield Cut(None, None, (0.0, 0.0, bore), cutter)
    let_in = recesses(f, gear)
    yield from let_in
    far = max((reach(cut.shape) for cut in let_in), default=0.0)
    teeth = train(name).teeth[gear]
    down = goes_down(teeth, cutter / 2)
    assert down is not None
    root = down[0]
    rim = root - max(6.0, 2 * teeth.m)
    hub = max(1.5 * bore, max(bore / 2, far) + 6)
    if made.web is not None:
        yield from _web(made.web, hub, rim, cutter)
    if made.layers > 1:
        yield from _dowels(f, made, hub, rim, cutter)
    yield from _marks(name, gear, root, max(bore / 2, far), teeth.m)


def _web(web: Any, hub: float, rim: float, cutter: float) -> Iterator[Cut]:
    count, size = int(web.count.number), web.size.mm
    step = 2 * math.pi / count
    if web.form == "holes":
        r = (hub + rim) / 2
        if size <= rim - hub and 2 * r * math.sin(step / 2) >= size + 6:
            for k in range(count):
                yield Cut(None, None, (r * math.cos(k * step), r * math.sin(k * step), size), cutter)
        return
    start = hub
    while rim - start >= cutter:
        ring = Point(0, 0).buffer(rim, quad_segs=200).difference(Point(0, 0).buffer(start, quad_segs=200))
        for k in range(count):
            ring = ring.difference(rotate(box(0, -size / 2, 2 * rim, size / 2), math.degrees(k * step), origin=(0, 0)))
        pieces = [rounded_by(piece, cutter) for piece in getattr(ring, "geoms", [ring])]
        # The cutter comes into every corner where its round ends before the opposite one's begins: the inner edge is touched.
        if all(abs(piece.distance(Point(0, 0)) - start) < 1e-3 for piece in pieces) or size / 2 / math.sin(step / 2) > start:
            for piece in pieces:
                yield Cut(None, None, piece, cutter)
            return
        start += 0.5


def _dowels(f: Facts, made: Any, hub: float, rim: float, cutter: float) -> Iterator[Cut]:
    """Two, 2 mm apart in radius, at some two fifths of a turn, on spokes or between holes; the smallest usual one the cutter can bore."""
    usual = (6.35, 7.9375, 9.525, 12.7) if f.design.hardware == "inch" else (6.0, 8.0, 10.0, 12.0)
    size = next((one for one in usual if one >= cutter), None)
    if size is None or rim - hub < size + 2:
        return
    hole, web, count, first = size + 0.05, made.web, made.z, 0.0
    if web is not None:
        count = int(web.count.number)
        if web.form == "holes":
            first = math.pi / count
        elif web.size.mm < hole + 4 or count < 3:
            return
    second = first + 2 * math.pi / count * max(1, round(0.4 * count))
    for r, turn in (((hub + rim) / 2 - 1, first), ((hub + rim) / 2 + 1, second)):
        yield Cut(None, None, (r * math.cos(turn), r * math.sin(turn), hole), cutter)


def _marks(name: str, gear: str, root: float, inside: float, m: float) -> Iterator[Cut]:
    """Towards each mate in a ring, but for gears that ride; 1.2 modules long, 1 mm under the root; none where a recess is in the way."""
    f, places = facts(name), train(name).places
    if root - 1 - 1.2 * m <= inside or f.rides(gear):
        return
    for ring in f.design.rings:
        names = [one.text for one in ring.gears]
        if gear not in names:
            continue
        at = names.index(gear)
        for mate in {names[at - 1], names[(at + 1) % len(names)]}:
            if not f.rides(mate):
                turn = math.atan2(places[mate][1] - places[gear][1], places[mate][0] - places[gear][0])
                ends = tuple((r * math.cos(turn), r * math.sin(turn)) for r in (root - 1 - 1.2 * m, root - 1))
                yield Cut("underside", 0.5, ("world", *ends), 0.0)


def beside_axis(name: str, root: str) -> tuple[float, float]:
    """Of a shaft's gears: how far bores and what is let in go out, and how far the roots come in."""
    f, made = facts(name), train(name)
    stack = f.stack(root)
    inner = max(max(bore_mm(f, gear) / 2, *(reach(cut.shape) for cut in recesses(f, gear)), 0.0) for gear in stack)
    return inner, min(made.teeth[gear].rf for gear in stack)


def layers(cuts: list[Cut], count: int, sheet: float) -> list[list[Cut]]:
    """What each layer gets, from the top: a cut that takes all of it goes through; a drilled one is left for after gluing."""
    found: list[list[Cut]] = []
    for layer in range(count):
        mine = []
        for cut in cuts:
            if cut.depth is None:
                mine.append(cut)
                continue
            before = sheet * (layer if cut.face == "topside" else count - 1 - layer)
            left = cut.depth - before
            if left <= 0.01 or (cut.drilled and before > 0):
                continue
            whole = left >= sheet - 0.01
            mine.append(Cut(None if whole else cut.face, None if whole else left, cut.shape, cut.cutter))
        found.append(mine)
    return found


def uncovered(cuts: list[Cut]) -> list[Cut]:
    """A gear's cuts without round holes that lie wholly in another cut through it."""

    def area(shape: Any) -> Any:
        return Point(shape[0], shape[1]).buffer(shape[2] / 2, quad_segs=FINE) if isinstance(shape, tuple) else shape

    through = [cut for cut in cuts if cut.depth is None]
    return [
        cut
        for cut in cuts
        if not (
            cut.depth is None
            and isinstance(cut.shape, tuple)
            and any(other is not cut and area(other.shape).contains(area(cut.shape)) for other in through)
        )
    ]


def passed(foot: Any) -> float:
    """Bore of a keeper: for a rod, or a head over its corners or a post below it, and 1 mm."""
    if foot.kind == "captured_nut":
        return float(foot.thread.major_mm) + ROOM
    return max(head_width(foot.screw.head), length_of(foot.pad.diameter)) + ROOM

