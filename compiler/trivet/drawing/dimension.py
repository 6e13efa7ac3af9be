"""Dimension: how a measured length is laid out, as plain lines and text.

Both extension lines, a continuous dimension line and oblique terminators, text above the line and readable from the
bottom or the right: ISO 129-1, from memory.
"""

from __future__ import annotations

import math

from trivet.drawing.shapes import Dimension, Line, Text
from trivet.drawing.text_width import text_width_mm

# Gap before and overrun of an extension line: eight line widths of 0.18 mm (ISO 129-1, from memory), rounded.
EXTENSION_GAP_MM = 1.5
EXTENSION_OVERRUN_MM = 1.5
TERMINATOR_MM = 3.0  # length of the oblique stroke: common practice, no source
TEXT_GAP_MM = 1.0  # between dimension line and text: common practice, no source


def parts_of(dimension: Dimension) -> tuple[Line | Text, ...]:
    """The lines and the text that draw the dimension, in drawing order; the text comes last."""
    length = dimension.length_mm
    ux, uy = (dimension.x2 - dimension.x1) / length, (dimension.y2 - dimension.y1) / length
    nx, ny = -uy, ux
    offset = dimension.offset_mm
    side = math.copysign(1.0, offset)

    def line(x1: float, y1: float, x2: float, y2: float) -> Line:
        return Line(x1, y1, x2, y2, dimension.title, dimension.because)

    lines: list[Line] = []
    ends = ((dimension.x1, dimension.y1), (dimension.x2, dimension.y2))
    for x, y in ends:
        near, far = side * min(EXTENSION_GAP_MM, abs(offset)), offset + side * EXTENSION_OVERRUN_MM
        lines.append(line(x + near * nx, y + near * ny, x + far * nx, y + far * ny))
    (ax, ay), (bx, by) = ((x + offset * nx, y + offset * ny) for x, y in ends)
    lines.append(line(ax, ay, bx, by))
    half = TERMINATOR_MM / 2 / math.sqrt(2.0)
    for x, y in ((ax, ay), (bx, by)):
        dx, dy = half * (ux + nx), half * (uy + ny)
        lines.append(line(x - dx, y - dy, x + dx, y + dy))
    return (*lines, _text(dimension, (ax, ay), (bx, by)))


def _text(dimension: Dimension, a: tuple[float, float], b: tuple[float, float]) -> Text:
    angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    if not -90.0 < round(angle, 6) <= 90.0:
        a, b = b, a
        angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    ux, uy = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    width = text_width_mm(dimension.text, dimension.height_mm)
    if width <= dimension.length_mm:
        along, x, y, anchor = 0.0, (a[0] + b[0]) / 2, (a[1] + b[1]) / 2, "middle"
    else:
        along, x, y, anchor = TERMINATOR_MM, b[0], b[1], "start"
    return Text(
        x + along * ux - TEXT_GAP_MM * uy,
        y + along * uy + TEXT_GAP_MM * ux,
        dimension.height_mm,
        dimension.text,
        "middle" if anchor == "middle" else "start",
        dimension.title,
        dimension.because,
        angle,
    )
