"""Outlines: the forms that boards, pockets, keepers and spacers share."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from trivet.lower.fault import Fault
from trivet.lower.forms import FactForm
from trivet.lower.match import Reading
from trivet.lower.spoken import spoken_length
from trivet.lower.values import PlaceValue
from trivet.model.outline import Outline, OutlineVertex, Shape
from trivet.source import Span
from trivet.units import Quantity

if TYPE_CHECKING:
    from trivet.lower.reader import Reader

SHAPES = (
    "rectangle {width:length} by {height:length}",
    "circle {diameter:length}",
    "slot {length:length} by {width:length}",
    "polygon",
)
OUTLINE = FactForm(
    "outline",
    SHAPES,
    details=("corner_radius {corner_radius:length}", "relieved"),
    example="outline rectangle 480 by 350 mm, corner_radius 12 mm",
)
POINT = FactForm("point", ("{at:place}",), example="point (0, 0) mm", repeats=True)
ARC = FactForm(
    "arc", ("{at:place}",), details=("through {through:place}",), example="arc (60, 40) mm, through (50, 50) mm", repeats=True
)
# An outline inside another fact: `held_by keeper, stock ply18, outline rectangle 120 by 60 mm`.
INLINE = (
    "outline rectangle {width:length} by {height:length}",
    "outline circle {diameter:length}",
    "outline slot {length:length} by {slot_width:length}",
    "corner_radius {corner_radius:length}",
)


def lower_outline(reader: Reader) -> Outline:
    """The outline of a block that has `outline`, with `point` and `arc` lines for a polygon."""
    reading = reader.get("outline")
    assert reading is not None
    corners = sorted([*reader.all("point"), *reader.all("arc")], key=lambda item: item.line.span.start)
    if reading.which != 3 and corners:
        raise Fault(
            "facts-exclude",
            "`point` and `arc` lines belong to `outline polygon`",
            corners[0].line.span,
            remedy="write `outline polygon`",
        )
    radius: Quantity | None = reading.get("corner_radius")
    relieved = bool(reading.get("relieved"))
    shape = _SHAPE_NAMES[reading.which]
    if shape == "polygon":
        return _polygon(corners, radius, relieved, reading)
    return _plain(shape, reading.slots, radius, relieved, reading.line.span)


def inline_outline(reading: Reading) -> Outline:
    """The outline among a fact's details."""
    slots = dict(reading.slots)
    shape: Shape
    if "diameter" in slots:
        shape = "circle"
    elif "slot_width" in slots:
        shape, slots["width"] = "slot", slots["slot_width"]
    elif "width" in slots:
        shape = "rectangle"
    else:
        raise Fault(
            "incomplete-fact",
            f"`{reading.line.word.text}` has no outline",
            reading.line.span,
            remedy="add `outline rectangle 120 by 60 mm`",
        )
    return _plain(shape, slots, slots.get("corner_radius"), False, reading.line.span)


_SHAPE_NAMES: tuple[Shape, ...] = ("rectangle", "circle", "slot", "polygon")


def _plain(shape: Shape, slots: dict[str, Any], radius: Quantity | None, relieved: bool, span: Span) -> Outline:
    if shape == "circle":
        width = height = slots["diameter"].mm
        given = [slots["diameter"]]
    elif shape == "slot":
        width, height = slots["length"].mm, slots["width"].mm
        given = [slots["length"], slots["width"]]
    else:
        width, height = slots["width"].mm, slots["height"].mm
        given = [slots["width"], slots["height"]]
    for quantity in given:
        if quantity.base <= 0:
            raise Fault("value-not-allowed", f"`{quantity}` is not more than 0", quantity.origin)
    if shape == "slot" and width < height:
        raise Fault("value-not-allowed", f"a slot is longer than wide; this one is {slots['length']} long and {slots['width']} wide", slots["width"].origin,
                    remedy=f"write `slot {slots['width'].number} by {slots['length']}` and turn it with `turned 90 deg`")  # fmt: skip
    corner = radius.mm if radius else 0.0
    if radius is not None and (radius.base < 0 or corner > min(width, height) / 2 + 1e-9):
        most, sizes = spoken_length(min(width, height) / 2, span), " by ".join(str(quantity) for quantity in given)
        raise Fault("value-not-allowed", f"the corner radius is {radius}; at most {most} fits into {sizes}", radius.origin)
    return Outline(shape=shape, width_mm=width, height_mm=height, corner_radius_mm=corner, relieved=relieved, origin=span)


def _polygon(corners: list[Reading], radius: Quantity | None, relieved: bool, reading: Reading) -> Outline:
    points = [(_xy(corner.get("at"), corner.span("at")), corner) for corner in corners]
    arcs = sum(1 for corner in corners if corner.line.word.text == "arc")
    if len(points) < (2 if arcs else 3):
        raise Fault(
            "incomplete-fact",
            f"a polygon has at least 3 corners; this one has {len(points)}",
            reading.line.span,
            remedy="add lines such as `point (0, 0) mm`",
        )
    if points[0][1].line.word.text == "arc":
        raise Fault(
            "incomplete-fact", "an outline begins with a `point`; an `arc` leads from the corner before it", points[0][1].line.span
        )
    vertices = []
    for index, ((x, y), _) in enumerate(points):
        (next_x, next_y), follower = points[(index + 1) % len(points)]
        bulge = 0.0
        if follower.line.word.text == "arc" and index + 1 < len(points):
            through = follower.get("through")
            if through is None:
                raise Fault(
                    "incomplete-fact", "an arc needs a place that it passes", follower.line.span, remedy=f"write `{ARC.example}`"
                )
            bulge = _bulge((x, y), _xy(through, follower.span("through")), (next_x, next_y), follower.line.span)
        vertices.append(OutlineVertex(x=x, y=y, bulge=bulge))
    # The box of the corners is the frame; an arc that bows out of it widens it.
    xs, ys = _extent(vertices)
    shifted = tuple(OutlineVertex(x=v.x - xs[0], y=v.y - ys[0], bulge=v.bulge) for v in vertices)
    if _area(shifted) < 0:
        shifted = _reversed(shifted)
    return Outline(
        shape="polygon",
        width_mm=xs[1] - xs[0],
        height_mm=ys[1] - ys[0],
        corner_radius_mm=radius.mm if radius else 0.0,
        relieved=relieved,
        vertices=shifted,
        origin=reading.line.span,
    )


def _xy(value: PlaceValue, span: Span) -> tuple[float, float]:
    if value.absolute:
        raise Fault("unexpected-item", "a corner is a place in the outline's own frame, such as `(0, 0) mm`", span)
    return float(value.x), float(value.y)


def _bulge(start: tuple[float, float], middle: tuple[float, float], end: tuple[float, float], span: Span) -> float:
    """tan(quarter of the included angle) of the arc through three points; positive anticlockwise."""
    ax, ay = start[0] - middle[0], start[1] - middle[1]
    bx, by = end[0] - middle[0], end[1] - middle[1]
    cross, dot = ax * by - ay * bx, ax * bx + ay * by
    if math.hypot(ax, ay) < 1e-6 or math.hypot(bx, by) < 1e-6:
        raise Fault("value-not-allowed", "the arc passes a place that is one of its ends", span)
    inscribed = math.atan2(abs(cross), dot)  # angle at the middle point; the arc's included angle is 2 pi - 2 * inscribed
    included = 2 * math.pi - 2 * inscribed
    return math.tan(included / 4) * (-1 if cross > 0 else 1) if abs(cross) > 1e-9 else 0.0


def _extent(vertices: list[OutlineVertex]) -> tuple[tuple[float, float], tuple[float, float]]:
    xs, ys = [], []
    for index, vertex in enumerate(vertices):
        follower = vertices[(index + 1) % len(vertices)]
        steps = 1 if vertex.bulge == 0 else 64
        for step in range(steps):
            x, y = _on_side(vertex, follower, step / steps)
            xs.append(x)
            ys.append(y)
    return (min(xs), max(xs)), (min(ys), max(ys))


def _on_side(vertex: OutlineVertex, follower: OutlineVertex, part: float) -> tuple[float, float]:
    if vertex.bulge == 0 or part == 0:
        return vertex.x + (follower.x - vertex.x) * part, vertex.y + (follower.y - vertex.y) * part
    angle = 4 * math.atan(vertex.bulge)
    dx, dy = follower.x - vertex.x, follower.y - vertex.y
    # Centre of the arc: half the chord, then to the side by chord / (2 tan(half the angle)).
    offset = 1 / (2 * math.tan(angle / 2))
    cx, cy = vertex.x + dx / 2 - dy * offset, vertex.y + dy / 2 + dx * offset
    turn = angle * part
    px, py = vertex.x - cx, vertex.y - cy
    return cx + px * math.cos(turn) - py * math.sin(turn), cy + px * math.sin(turn) + py * math.cos(turn)


def _area(vertices: tuple[OutlineVertex, ...]) -> float:
    pairs = zip(vertices, vertices[1:] + vertices[:1], strict=True)
    return sum(a.x * b.y - b.x * a.y for a, b in pairs) / 2


def _reversed(vertices: tuple[OutlineVertex, ...]) -> tuple[OutlineVertex, ...]:
    backwards = vertices[::-1]
    return tuple(OutlineVertex(x=v.x, y=v.y, bulge=-backwards[(i + 1) % len(backwards)].bulge) for i, v in enumerate(backwards))
