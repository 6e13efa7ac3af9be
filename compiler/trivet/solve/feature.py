"""One piece of work on a part: what is cut, from which face, how deep, and why."""

from __future__ import annotations

import math
from typing import Literal

from trivet.model.board import Face
from trivet.record import field, record, replace
from trivet.solve.contour import Contour
from trivet.source import Origin

Operation = Literal["outer_edge", "opening", "bore", "pocket", "counterbore", "engrave"]


@record
class Round:
    """A circle to cut, mm."""

    x_mm: float
    y_mm: float
    diameter_mm: float

    def moved(self, dx_mm: float, dy_mm: float) -> Round:
        """Shifted."""
        return Round(self.x_mm + dx_mm, self.y_mm + dy_mm, self.diameter_mm)

    def turned(self, angle_rad: float) -> Round:
        """Turned anticlockwise about (0, 0)."""
        x, y = turned_point(self.x_mm, self.y_mm, angle_rad)
        return Round(x, y, self.diameter_mm)


@record
class Stroke:
    """An open line from one point to another that a cutter follows, mm."""

    x1_mm: float
    y1_mm: float
    x2_mm: float
    y2_mm: float

    def moved(self, dx_mm: float, dy_mm: float) -> Stroke:
        """Shifted."""
        return Stroke(self.x1_mm + dx_mm, self.y1_mm + dy_mm, self.x2_mm + dx_mm, self.y2_mm + dy_mm)

    def turned(self, angle_rad: float) -> Stroke:
        """Turned anticlockwise about (0, 0)."""
        return Stroke(
            *turned_point(self.x1_mm, self.y1_mm, angle_rad),
            *turned_point(self.x2_mm, self.y2_mm, angle_rad),
        )


@record
class Label:
    """Words to engrave: the middle of the text, height of its capitals and its turn, read from the face it is cut in; mm, degrees."""

    x_mm: float
    y_mm: float
    text: str
    height_mm: float
    turn_deg: float

    def moved(self, dx_mm: float, dy_mm: float) -> Label:
        """Shifted."""
        return replace(self, x_mm=self.x_mm + dx_mm, y_mm=self.y_mm + dy_mm)

    def turned(self, angle_rad: float) -> Label:
        """Turned anticlockwise about (0, 0)."""
        x, y = turned_point(self.x_mm, self.y_mm, angle_rad)
        return replace(self, x_mm=x, y_mm=y, turn_deg=self.turn_deg + math.degrees(angle_rad))


Cut = Contour | Round | Stroke | Label


@record
class Feature:
    """`depth_mm` is None where the cut goes through; then `face` is only the face it is cut from. Seen from above whatever the face.

    `cutter_diameter_mm` is that of the cutter whose corners the shape already has, 0 where none has a diameter. `by_hand`: drilled at
    its mark where the cutter is too wide.
    """

    operation: Operation
    face: Face
    depth_mm: float | None
    shape: Cut
    title: str
    because: str
    cutter_diameter_mm: float = 0.0
    origin: Origin | None = field(default=None, compare=False)
    by_hand: bool = False

    @property
    def through(self) -> bool:
        """Whether the cut goes through the part."""
        return self.depth_mm is None

    @property
    def drilled(self) -> bool:
        """Whether the cutter is too wide for the hole: its centre is marked, and it is drilled."""
        return isinstance(self.shape, Round) and self.shape.diameter_mm < self.cutter_diameter_mm

    def moved(self, dx_mm: float, dy_mm: float) -> Feature:
        """Shifted."""
        if isinstance(self.shape, Contour):
            return replace(self, shape=self.shape.translated(dx_mm, dy_mm))
        return replace(self, shape=self.shape.moved(dx_mm, dy_mm))

    def turned(self, angle_rad: float) -> Feature:
        """Turned anticlockwise about (0, 0)."""
        if isinstance(self.shape, Contour):
            return replace(self, shape=self.shape.rotated(angle_rad))
        return replace(self, shape=self.shape.turned(angle_rad))


def turned_point(x: float, y: float, angle_rad: float) -> tuple[float, float]:
    """A point turned anticlockwise about (0, 0)."""
    c, s = math.cos(angle_rad), math.sin(angle_rad)
    return x * c - y * s, x * s + y * c
