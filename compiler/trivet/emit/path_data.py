"""Path data: a shape as the `d` of an SVG path, y turned to point down."""

from __future__ import annotations

import math

from trivet.drawing.shapes import Circle, Line, Path, Shape
from trivet.emit.numbers import number

# A hundredth of a millimetre is finer than a screen shows; radii keep more, since arcs lean on them.
DECIMALS = 3
RADIUS_DECIMALS = 4


def path_data(shape: Shape) -> str:
    """Lines, circles and paths; empty for what is no outline (texts, dimensions)."""
    if isinstance(shape, Path):
        return _path(shape)
    if isinstance(shape, Circle):
        r, across = _n(shape.r), _n(2 * shape.r)
        return f"M{_n(shape.cx - shape.r)} {_n(-shape.cy)}a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0 -{across} 0z"
    if isinstance(shape, Line):
        return f"M{_n(shape.x1)} {_n(-shape.y1)}L{_n(shape.x2)} {_n(-shape.y2)}"
    return ""


def _path(path: Path) -> str:
    first_x, first_y, _ = path.vertices[0]
    commands = [f"M{_n(first_x)} {_n(-first_y)}"]
    segments = path.segments()
    for index, (x1, y1, x2, y2, bulge) in enumerate(segments):
        if bulge:
            # r = chord (1 + b²) / (4 |b|), from b = tan(included angle / 4); anticlockwise is sweep 0, as y points down.
            r = number(math.hypot(x2 - x1, y2 - y1) * (1 + bulge * bulge) / (4 * abs(bulge)), RADIUS_DECIMALS)
            commands.append(f"A{r} {r} 0 {int(abs(bulge) > 1)} {int(bulge < 0)} {_n(x2)} {_n(-y2)}")
        elif not (path.closed and index == len(segments) - 1):
            commands.append(f"L{_n(x2)} {_n(-y2)}")
    return "".join(commands) + ("z" if path.closed else "")


def _n(value: float) -> str:
    return number(value, DECIMALS)
