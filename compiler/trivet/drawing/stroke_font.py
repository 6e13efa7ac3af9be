"""Stroke font: text as single strokes that a cutter can follow, for engraved labels."""

from __future__ import annotations

import math

from trivet.drawing.shapes import Path
from trivet.drawing.stroke_glyphs import CAPITAL_UNITS, GLYPHS, UNKNOWN

SPACING_UNITS = 1.6  # between glyphs; wide enough that cutter marks stay apart: common practice, no source
DOT_UNITS = 0.3  # side-to-side size of a dot, which is drawn as a tiny circle so that a cutter marks it

_QUARTER = math.tan(math.pi / 8)
_TURNS = {"q": _QUARTER, "Q": -_QUARTER, "h": 1.0, "H": -1.0}

Stroke = tuple[tuple[float, float, float], ...]


def width_mm(text: str, height_mm: float) -> float:
    """Width of the text in mm, from the left of the first glyph to the right of the last; 0 for empty text."""
    if not text:
        return 0.0
    units = sum(_glyph(character)[0] for character in text) + SPACING_UNITS * (len(text) - 1)
    return units * height_mm / CAPITAL_UNITS


def strokes(text: str, height_mm: float) -> tuple[Stroke, ...]:
    """The strokes of one line of text with capitals `height_mm` high, from (0, 0) on the baseline to the right.

    A stroke is vertices (x, y, bulge) in mm, open, the bulge as in `Path`. Unknown characters are small boxes.
    """
    scale = height_mm / CAPITAL_UNITS
    written: list[Stroke] = []
    left = 0.0
    for character in text:
        width, drawn = _glyph(character)
        for stroke in drawn.split(";") if drawn else ():
            points = [_vertex(word) for word in stroke.split()]
            if len(points) == 1:
                points = _dot(points[0][0], points[0][1])
            written.append(tuple(((left + x) * scale, y * scale, bulge) for x, y, bulge in points))
        left += width + SPACING_UNITS
    return tuple(written)


def centred(text: str, x: float, y: float, height_mm: float) -> tuple[Stroke, ...]:
    """The strokes with the middle of the text at (x, y): half its width, half the height of its capitals."""
    dx, dy = x - width_mm(text, height_mm) / 2, y - height_mm / 2
    return tuple(tuple((px + dx, py + dy, bulge) for px, py, bulge in stroke) for stroke in strokes(text, height_mm))


def engraved(text: str, x: float, y: float, height_mm: float, because: str) -> tuple[Path, ...]:
    """The text centred on (x, y) as open paths for an engraving layer, each titled with the whole text."""
    title = f"engraved label {text!r}, {height_mm:g} mm high"
    return tuple(Path(stroke, False, title, because) for stroke in centred(text, x, y, height_mm))


def _glyph(character: str) -> tuple[float, str]:
    return GLYPHS.get(character, UNKNOWN)


def _vertex(word: str) -> tuple[float, float, float]:
    bulge = _TURNS.get(word[-1], 0.0)
    x, y = (word[:-1] if bulge else word).split(",")
    return float(x), float(y), bulge


def _dot(x: float, y: float) -> list[tuple[float, float, float]]:
    half = DOT_UNITS / 2
    return [(x - half, y, 1.0), (x + half, y, 1.0), (x - half, y, 0.0)]
