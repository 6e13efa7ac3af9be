"""SVG: a sheet as a scalable drawing at full size.

The size is in mm, the viewBox in mm from (0, 0); y is turned over, so the drawing is seen from above with y away from
the viewer. Element and attribute meanings: W3C, Scalable Vector Graphics 1.1.
"""

from __future__ import annotations

import math
import re
from typing import Any, assert_never

from trivet.drawing.dimension import parts_of
from trivet.drawing.shapes import Arc, Circle, Dimension, Line, Path, Shape, Text
from trivet.drawing.sheet import Layer, Sheet
from trivet.emit.numbers import number
from trivet.emit.palette import style_of
from trivet.emit.printable import printable

# A radius needs more decimals than a point: near half a turn, 1e-4 mm of radius moves the crown by 0.03 mm.
RADIUS_DECIMALS = 9
LONGEST_PIECE_DEG = 120.0
CAPITALS_PER_FONT_SIZE = 0.72  # height of capitals over font size in plain fonts: common practice, no source


def svg(sheet: Sheet, plain: bool = False) -> bytes:
    """The sheet as UTF-8 SVG; `plain` leaves the reference layers out and keeps size and place of the rest."""
    import svgwrite

    width, height = number(sheet.bounds.width_mm), number(sheet.bounds.height_mm)
    # Validation would refuse data-* attributes.
    document = svgwrite.Drawing(size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", profile="full", debug=False)
    notes = "; ".join(printable(note) for note in sheet.notes)
    document.set_desc(title=printable(sheet.title), desc=notes or None)
    layers = sheet.shown(plain)
    for layer, identifier in zip(layers, _identifiers(layers), strict=True):
        document.add(_group(document, sheet, layer, identifier))
    text: str = document.tostring()
    return ('<?xml version="1.0" encoding="utf-8"?>\n' + text.replace("><", ">\n<") + "\n").encode("utf-8")


def _identifiers(layers: tuple[Layer, ...]) -> list[str]:
    """Ids from the names of the layers, followed by the part where a name comes twice."""
    names = [layer.name for layer in layers]
    taken: set[str] = set()
    found: list[str] = []
    for layer in layers:
        wanted = _slug(layer.name if names.count(layer.name) == 1 else f"{layer.name} {layer.part}")
        identifier, count = wanted, 1
        while identifier in taken:
            count += 1
            identifier = f"{wanted}-{count}"
        taken.add(identifier)
        found.append(identifier)
    return found


def _slug(name: str) -> str:
    slug = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
    return slug if slug[:1].isalpha() else f"layer-{slug}".rstrip("-")


def _group(document: Any, sheet: Sheet, layer: Layer, identifier: str) -> Any:
    style = style_of(layer.operation)
    looks = {
        "id": identifier,
        "fill": "none",
        "stroke": style.hex,
        "stroke_width": number(style.width_mm),
        "data-operation": layer.operation.replace("_", " "),
        "data-face": layer.face,
        "data-part": printable(layer.part),
        "data-depth-mm": "through" if layer.depth_mm is None else number(layer.depth_mm),
    }
    if layer.reference:
        del looks["data-depth-mm"]
    if dashes := style.dash_mm():
        looks["stroke_dasharray"] = " ".join(number(dash) for dash in dashes)
    group = document.g(**looks)
    group.set_desc(title=printable(f"{layer.name}: {layer.title}" if layer.title else layer.name))
    for shape in layer.shapes:
        group.add(_described(_element(document, sheet, shape), shape))
    return group


def _described(element: Any, shape: Shape) -> Any:
    element.set_desc(title=printable(shape.title), desc=printable(shape.because) or None)
    return element


def _element(document: Any, sheet: Sheet, shape: Shape) -> Any:
    x, y = sheet.bounds.x_min, sheet.bounds.y_max
    match shape:
        case Line():
            start, end = (number(shape.x1 - x), number(y - shape.y1)), (number(shape.x2 - x), number(y - shape.y2))
            return document.line(start=start, end=end)
        case Circle():
            return document.circle(center=(number(shape.cx - x), number(y - shape.cy)), r=number(shape.r))
        case Arc():
            return document.path(d=_arc(shape, x, y))
        case Path():
            return document.path(d=_path(shape, x, y))
        case Text():
            return _text(document, shape, x, y)
        case Dimension():
            # Dimension lines are continuous (ISO 128-2 type 01.1) on a layer that is otherwise dashed.
            group = document.g(stroke_dasharray="none")
            for part in parts_of(shape):
                group.add(_element(document, sheet, part))
            return group
    assert_never(shape)


def _text(document: Any, text: Text, x: float, y: float) -> Any:
    left, top = number(text.x - x), number(y - text.y)
    turned = {"transform": f"rotate({number(-text.angle_deg)} {left} {top})"} if text.angle_deg else {}
    return document.text(
        printable(text.text),
        insert=(left, top),
        font_size=number(text.height_mm / CAPITALS_PER_FONT_SIZE),
        font_family="sans-serif",
        text_anchor=text.anchor,
        fill="#000000",
        stroke="none",
        **turned,
    )


def _arc(arc: Arc, x: float, y: float) -> str:
    # Ends near half a turn apart would leave the centre to the last decimal of the ends, so long arcs go in pieces.
    pieces = math.ceil(arc.sweep_deg / LONGEST_PIECE_DEG)
    angles = [math.radians(arc.start_deg + arc.sweep_deg * index / pieces) for index in range(pieces + 1)]
    first, *ends = [(arc.cx + arc.r * math.cos(angle) - x, y - arc.cy - arc.r * math.sin(angle)) for angle in angles]
    return " ".join([f"M {number(first[0])} {number(first[1])}", *(_turn(arc.r, 0, 0, *end) for end in ends)])


def _path(path: Path, x: float, y: float) -> str:
    first_x, first_y, _ = path.vertices[0]
    commands = [f"M {number(first_x - x)} {number(y - first_y)}"]
    segments = path.segments()
    for index, (x1, y1, x2, y2, bulge) in enumerate(segments):
        if bulge:
            # r = chord (1 + b^2) / (4 |b|), from b = tan(included angle / 4).
            radius = math.hypot(x2 - x1, y2 - y1) * (1 + bulge * bulge) / (4 * abs(bulge))
            # Anticlockwise is sweep 0, as y points down here.
            commands.append(_turn(radius, 1 if abs(bulge) > 1 else 0, 0 if bulge > 0 else 1, x2 - x, y - y2))
        elif not (path.closed and index == len(segments) - 1):
            commands.append(f"L {number(x2 - x)} {number(y - y2)}")
    return " ".join(commands + (["Z"] if path.closed else []))


def _turn(radius: float, large: int, sweep: int, x: float, y: float) -> str:
    r = number(radius, RADIUS_DECIMALS)
    return f"A {r} {r} 0 {large} {sweep} {number(x)} {number(y)}"
