"""The work on a part as shapes, turned over where the underside is drawn."""

from __future__ import annotations

import math

from trivet.drawing.shapes import Circle, Line, Path, Shape
from trivet.drawing.stroke_font import centred
from trivet.solve.contour import Contour
from trivet.solve.feature import Feature, Label, Round, Stroke


def shapes_of(feature: Feature, flip_x_mm: float | None) -> tuple[Shape, ...]:
    """The shapes of a feature; with `flip_x_mm` left and right are exchanged about that line, letters excepted.

    A label's place and turn are mirrored, its letters are not: it is read on the face that it is cut in.
    """
    shape, title, because = feature.shape, feature.title, feature.because
    if isinstance(shape, Contour):
        return (path_of(shape if flip_x_mm is None else shape.mirrored_x(flip_x_mm), title, because),)
    if isinstance(shape, Round):
        return (Circle(_flipped(shape.x_mm, flip_x_mm), shape.y_mm, shape.diameter_mm / 2.0, title, because),)
    if isinstance(shape, Stroke):
        x1, x2 = _flipped(shape.x1_mm, flip_x_mm), _flipped(shape.x2_mm, flip_x_mm)
        return (Line(x1, shape.y1_mm, x2, shape.y2_mm, title, because),)
    return _letters(shape, flip_x_mm, title, because)


def path_of(contour: Contour, title: str, because: str) -> Path:
    """A contour as a closed path."""
    return Path(tuple((v.x, v.y, v.bulge) for v in contour.vertices), True, title, because)


def _flipped(x: float, flip_x_mm: float | None) -> float:
    return x if flip_x_mm is None else 2.0 * flip_x_mm - x


def _letters(label: Label, flip_x_mm: float | None, title: str, because: str) -> tuple[Shape, ...]:
    middle, turn = _flipped(label.x_mm, flip_x_mm), math.radians(label.turn_deg if flip_x_mm is None else -label.turn_deg)
    c, s = math.cos(turn), math.sin(turn)
    return tuple(
        Path(
            tuple((middle + x * c - y * s, label.y_mm + x * s + y * c, bulge) for x, y, bulge in stroke),
            False,
            f"{title}: {label.text}",
            because,
        )
        for stroke in centred(label.text, 0.0, 0.0, label.height_mm)
    )
