"""SVG of a figure: filled shapes with black edges and words beside them, on white, so that it reads in dark pages too.

Fills: the palette of Okabe and Ito, Color Universal Design, 2008, lightened; every tone is named by a word as well.
"""

from __future__ import annotations

from html import escape
from types import MappingProxyType
from typing import Final

from trivet.drawing.figure import Figure, Tone
from trivet.drawing.shapes import Arc, Circle, Dimension, Line, Path, Shape, Text
from trivet.emit.numbers import number
from trivet.emit.printable import printable

CAPITALS_PER_FONT_SIZE = 0.72  # height of capitals over font size in plain fonts: common practice, no source
_LOOKS: Final = MappingProxyType(
    {
        "wood": 'fill="#F6E3BF" stroke="#000000" stroke-width="0.35"',
        "metal": 'fill="#C3CBD6" stroke="#000000" stroke-width="0.35"',
        "dead": 'fill="#FFFFFF" stroke="#000000" stroke-width="0.25" stroke-dasharray="1.2 0.8"',
        "glue": 'fill="none" stroke="#D55E00" stroke-width="0.9"',
        "paper": 'fill="#0072B2" stroke="#0072B2" stroke-width="0.5"',
        "bench": 'fill="#E4E4E4" stroke="#000000" stroke-width="0.35"',
        "line": 'fill="none" stroke="#000000" stroke-width="0.25"',
        "note": 'fill="#000000" stroke="none"',
    }
)


def figure_svg(figure: Figure) -> bytes:
    """UTF-8 SVG, its size in mm. Raises TypeError for shapes that no figure has."""
    bounds = figure.bounds
    width, height = number(bounds.width_mm), number(bounds.height_mm)
    lines = [
        '<?xml version="1.0" encoding="utf-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}" role="img">',
        f"<title>{_plain(figure.title)}</title>",
        f"<desc>{_plain(figure.words)}</desc>",
        f'<rect width="{width}" height="{height}" fill="#FFFFFF"/>',
    ]
    for layer in figure.layers:
        lines.append(f"<g {_look(layer.tone)}>")
        lines += [_element(shape, bounds.x_min, bounds.y_max) for shape in layer.shapes]
        lines.append("</g>")
    return ("\n".join((*lines, "</svg>")) + "\n").encode("utf-8")


def _look(tone: Tone) -> str:
    return _LOOKS[tone]


def _element(shape: Shape, x: float, y: float) -> str:
    if isinstance(shape, Line):
        return f'<line x1="{number(shape.x1 - x)}" y1="{number(y - shape.y1)}" x2="{number(shape.x2 - x)}" y2="{number(y - shape.y2)}"/>'
    if isinstance(shape, Circle):
        return f'<circle cx="{number(shape.cx - x)}" cy="{number(y - shape.cy)}" r="{number(shape.r)}"/>'
    if isinstance(shape, Path):
        points = " ".join(f"{number(px - x)},{number(y - py)}" for px, py, _ in shape.vertices)
        kind = "polygon" if shape.closed else "polyline"
        return f'<{kind} points="{points}"><title>{_plain(shape.title)}</title></{kind}>'
    if isinstance(shape, Text):
        size = number(shape.height_mm / CAPITALS_PER_FONT_SIZE)
        place = f'x="{number(shape.x - x)}" y="{number(y - shape.y)}"'
        return f'<text {place} font-family="sans-serif" font-size="{size}" text-anchor="{shape.anchor}">{_plain(shape.text)}</text>'
    if isinstance(shape, (Arc, Dimension)):
        raise TypeError(f"a figure has no {type(shape).__name__}")
    raise TypeError(type(shape).__name__)


def _plain(text: str) -> str:
    return escape(printable(text), quote=False)
