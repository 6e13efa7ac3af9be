"""What is cut into each board, worked out anew: places, sizes, faces and depths in the board's frame. Shapes are made with shapely. Lengths mm.

Rooms (1 mm round heads, 0.1 and 0.2 over flats, 0.5 for a pin's slot) are common practice, no source, as the reference and the pages say.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from shapely import Polygon
from shapely.affinity import rotate, scale, translate
from shapely.geometry import LineString, Point, box
from tests.oracles.second_bolts import pivot_screw
from tests.oracles.second_facts import Facts, facts
from tests.oracles.second_stand import SHEETS, Corner, hangs, length_of, thread_zone
from tests.oracles.second_teeth import train

from trivet.model.hardware import TeeNut
from trivet.model.outline import Outline

FITS = {"press": -0.1, "push": 0.05, "slide": 0.2, "clearance": 0.5}
ROOM = 1.0
# Divides 30 deg, so that the corner of a hexagon is met.
FINE = 63


@dataclass(frozen=True)
class Cut:
    """`face` and `depth` of a blind cut, None through. `shape`: (x, y, diameter), a polygon, ((x, y), (x, y)) of a stroke, or a label's text."""

    face: str | None
    depth: float | None
    shape: Any
    cutter: float = 0.0

    @property
    def drilled(self) -> bool:
        return isinstance(self.shape, tuple) and len(self.shape) == 3 and self.shape[2] < self.cutter


def sunk(face: str, depth: float, thickness: float, shape: Any, cutter: float) -> Iterator[Cut]:
    """A recess; a hole where the wood is no thicker; nothing at no depth."""
    if depth > 0:
        through = depth >= thickness - 0.01
        yield Cut(None if through else face, None if through else depth, shape, cutter)


def head_width(head: Any) -> float:
    """Over sharp corners of a hexagon."""
    return max(head.diameter_mm, (head.across_flats_mm or 0.0) * 2 / math.sqrt(3))


def rounded_by(shape: Any, cutter: float) -> Any:
    """As a round cutter inside leaves a pocket."""
    r = cutter / 2
    return shape.buffer(-r, quad_segs=FINE).buffer(r, quad_segs=FINE)


def hexagon(flats: float, room: float, cutter: float) -> Any:
    """A pocket that lets sharp corners in though its own are round: r (2 − √3) wider over flats; a corner towards +x."""
    wide = flats + cutter / 2 * (2 - math.sqrt(3)) + room
    reach = wide / math.sqrt(3)
    corners = [(reach * math.cos(k * math.pi / 3), reach * math.sin(k * math.pi / 3)) for k in range(6)]
    return rounded_by(Polygon(corners), cutter)


def sharp(outline: Outline) -> Any:
    """An outline as stated, the middle of its box at (0, 0)."""
    w, h = outline.width_mm / 2, outline.height_mm / 2
    if outline.shape == "circle":
        return Point(0, 0).buffer(w, quad_segs=FINE)
    if outline.shape == "slot":
        return LineString([(-max(w - h, 0.0) - 1e-9, 0), (max(w - h, 0.0), 0)]).buffer(h, quad_segs=FINE)
    if outline.shape == "rectangle":
        return rounded_by(box(-w, -h, w, h), 2 * outline.corner_radius_mm)
    corners: list[tuple[float, float]] = []
    for v, n in zip(outline.vertices, (*outline.vertices[1:], outline.vertices[0]), strict=True):
        corners.append((v.x, v.y))
        if v.bulge:
            # tan of a quarter of the arc's angle; the centre lies left of the chord for anticlockwise arcs.
            sweep, chord = 4 * math.atan(v.bulge), math.dist((v.x, v.y), (n.x, n.y))
            away = chord / 2 / math.tan(sweep / 2)
            mx, my = (v.x + n.x) / 2, (v.y + n.y) / 2
            cx, cy = mx - away * (n.y - v.y) / chord, my + away * (n.x - v.x) / chord
            start = math.atan2(v.y - cy, v.x - cx)
            radius = math.dist((v.x, v.y), (cx, cy))
            corners += [(cx + radius * math.cos(start + sweep * k / 400), cy + radius * math.sin(start + sweep * k / 400)) for k in range(1, 400)]
    made = translate(Polygon(corners), -w, -h)
    r = outline.corner_radius_mm
    return made.buffer(-r, quad_segs=FINE).buffer(2 * r, quad_segs=FINE).buffer(-r, quad_segs=FINE)


def opened(outline: Outline, cutter: float) -> Any:
    """A pocket as cut; relieved: the cutter passes through each corner, its own radius from it towards the middle."""
    made = sharp(outline)
    if outline.relieved:
        w, h, d = outline.width_mm / 2, outline.height_mm / 2, cutter / 2 / math.sqrt(2)
        for sx in (-1, 1):
            for sy in (-1, 1):
                made = made.union(Point(sx * (w - d), sy * (h - d)).buffer(cutter / 2, quad_segs=FINE))
        return made
    return rounded_by(made, cutter)


def put(shape: Any, place: Any) -> Any:
    if place.mirrored:
        shape = scale(shape, 1, -1, origin=(0, 0))
    return translate(rotate(shape, place.turn_deg, origin=(0, 0)), place.x_mm, place.y_mm)


def head_recess(screw: Any, recess: float, washer: Any, thickness: float, cutter: float, x: float, y: float, face: str) -> Iterator[Cut]:
    wide = head_width(screw.head)
    across = wide + ROOM
    if screw.head.form == "countersunk":
        recess -= screw.head.height_max_mm
    elif washer is not None and washer.outside_mm > wide:
        across = washer.outside_mm + ROOM
    elif screw.counterbore_mm is not None and screw.counterbore_mm > wide:
        across = screw.counterbore_mm
    yield from sunk(face, recess, thickness, (x, y, across), cutter)


def nut_recess(nut: Any, washer: Any, thickness: float, cutter: float, x: float, y: float, face: str) -> Iterator[Cut]:
    if nut.recessed is None:
        return
    if nut.round is not None:
        shape: Any = (x, y, nut.round.mm)
    elif isinstance(nut.hardware, TeeNut):
        shape = (x, y, nut.hardware.flange_diameter_mm + ROOM)
    elif washer is not None:
        shape = (x, y, washer.outside_mm + ROOM)
    else:
        shape = translate(hexagon(nut.hardware.across_flats_mm, 0.1, cutter), x, y)
    yield from sunk(face, nut.recessed.mm, thickness, shape, cutter)


def cutter_of(f: Facts, part: Any) -> float:
    return float(f.named["cutters"][part.cutter.text].diameter.mm)


def board_cuts(name: str, board: str) -> Iterator[Cut]:
    """In the world frame."""
    f, places = facts(name), train(name).places
    made = f.named["boards"][board]
    thickness, cutter = f.thick(board), cutter_of(f, made)
    for root in sorted({f.root(gear) for gear in f.gears}):
        (kind, block), (x, y) = f.held(root), places[root]
        chain = f.over(f.gears[f.stack(root)[0]].under.text)
        if kind == "drive" and board in chain:
            yield Cut(None, None, (x, y, block.hole_mm), cutter)
            if board == chain[-1]:
                washer = block.washer if "head" in block.washer_places else None
                if block.head_recessed is not None:
                    yield from head_recess(block.bolt, block.head_recessed.mm, washer, thickness, cutter, x, y, "topside")
                yield from _dial(block, x, y)
        elif kind == "pivot" and board == chain[0]:
            yield from _pivot(name, root, block, made, thickness, cutter, x, y)
        elif kind in ("foot", "climber"):
            if block.into.text == board:
                yield from _foot(f, block, board, thickness, cutter, x, y)
            elif block.into.text in chain and board in chain[: chain.index(block.into.text)]:
                yield Cut(None, None, (x, y, block.thread.major_mm + ROOM), cutter)
    yield from _stated(f, board, cutter)


def _dial(drive: Any, x: float, y: float) -> Iterator[Cut]:
    """Marks clockwise from the one away from you, 4 mm inwards, that one 8."""
    if drive.dial is None:
        return
    radius = drive.dial.diameter.mm / 2
    for k in range(int(drive.dial.marks.number)):
        turn = math.radians(90 - 360 * k / int(drive.dial.marks.number))
        inner = radius - (8 if k == 0 else 4)
        yield Cut("topside", 0.5, tuple((x + r * math.cos(turn), y + r * math.sin(turn)) for r in (inner, radius)))


def _pivot(name: str, root: str, pivot: Any, board: Any, thickness: float, cutter: float, x: float, y: float) -> Iterator[Cut]:
    f = facts(name)
    bolted = pivot.nut is not None
    if bolted and isinstance(pivot.nut.hardware, TeeNut):
        across = pivot.nut.hardware.hole_mm
    elif pivot.drill is not None:
        across = pivot.drill.mm
    elif bolted:
        across = pivot.thread.major_mm + f.shop.bore_clearance_mm
    else:
        across = pivot.thread.minor_mm or 0.75 * pivot.thread.major_mm
    if bolted or board.datum == "topside":
        yield Cut(None, None, (x, y, across), cutter)
    else:
        # As far as the screw comes with all that hangs at its thinnest, up to the next half millimetre, 0.5 of wood left.
        screw = pivot_screw(name, root)
        length = length_of(pivot.length) or screw.cut or screw.buy
        under = min(hangs(f, root, Corner(c.board, c.gear, 1), -1).thread_from for c in SHEETS)
        deep = thickness - 0.5 if length is None else max(0.5, min(math.ceil(2 * (length - under) - 1e-9) / 2, thickness - 0.5))
        yield Cut("underside", deep, (x, y, across), cutter)
    if bolted:
        yield from nut_recess(pivot.nut, None, thickness, cutter, x, y, "topside")


def _foot(f: Facts, foot: Any, board: str, thickness: float, cutter: float, x: float, y: float) -> Iterator[Cut]:
    if foot.insert is None:
        bore = foot.thread.major_mm + f.shop.bore_clearance_mm
        if foot.rod_stop_diameter is None:
            yield Cut(None, None, (x, y, bore), cutter)
            return
        pin = foot.rod_stop_diameter.mm
        wide = max(pin + 0.5, cutter)
        half = (foot.thread.major_mm + 4 * pin + 0.5) / 2
        slot = LineString([(-half + wide / 2, 0), (half - wide / 2, 0)]).buffer(wide / 2, quad_segs=FINE)
        yield Cut(None, None, translate(slot.union(Point(0, 0).buffer(bore / 2, quad_segs=FINE)), x, y), cutter)
        return
    hardware, above = foot.insert.hardware, foot.insert.driven_from == "topside"
    span = f.boards(0)[board]
    _, (low, high) = thread_zone(f, foot, span)
    far = span[1] - low if above else high - span[0]
    blind = foot.guide is not None and thickness - far > 0
    if blind:
        yield Cut(None, None, (x, y, foot.thread.major_mm + foot.guide.clearance.mm), cutter)
    yield Cut(foot.insert.driven_from if blind else None, far if blind else None, (x, y, hardware.hole_mm), cutter)
    if hardware.flange_diameter_mm:
        deep = (span[1] - high if above else low - span[0]) + (hardware.flange_thickness_mm or 0.0)
        yield from sunk(foot.insert.driven_from, deep, thickness, (x, y, hardware.flange_diameter_mm + ROOM), cutter)


def _stated(f: Facts, board: str, cutter: float) -> Iterator[Cut]:
    design = f.design
    for hole in (item for item in design.holes if item.into.text == board):
        tool = cutter_of(f, hole) if hole.cutter is not None else cutter
        across = hole.drill_mm if hole.drill_mm is not None else hole.diameter_mm
        for at in hole.places:
            blind = hole.depth is not None
            yield Cut(hole.face if blind else None, hole.depth.mm if hole.depth is not None else None, (at.x_mm, at.y_mm, across), tool)
            if hole.counterbore is not None:
                wide = hole.counterbore
                yield Cut(wide.face, wide.depth_mm, (at.x_mm, at.y_mm, wide.diameter_mm), tool)
    for pocket in (item for item in design.pockets if item.into.text == board):
        tool = cutter_of(f, pocket) if pocket.cutter is not None else cutter
        shape = opened(pocket.outline, tool)
        for at in pocket.places:
            blind = pocket.depth is not None
            yield Cut(pocket.face if blind else None, pocket.depth.mm if pocket.depth is not None else None, put(shape, at), tool)
    for magnet in (item for item in design.magnets if item.into.text == board):
        for at in magnet.places:
            across = magnet.disc.diameter_mm + FITS[magnet.fit]
            yield Cut(magnet.face, magnet.disc.thickness_mm + 0.15, (at.x_mm, at.y_mm, across), cutter)
    for dowel in design.dowels:
        for into, fit in dowel.into:
            for at in dowel.places if into == board else ():
                yield Cut(None, None, (at.x_mm, at.y_mm, dowel.diameter_mm + FITS[fit]), cutter)
    for label in (item for item in design.engravings if item.into.text == board):
        for at in label.places:
            yield Cut(label.face, label.depth.mm, (at.x_mm, at.y_mm, label.text, label.height.mm), 0.0)

