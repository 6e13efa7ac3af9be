"""Outlines of boards, pockets, keepers and pads."""

from __future__ import annotations

from typing import Literal

from trivet.record import field, record
from trivet.source import Origin

Shape = Literal["rectangle", "circle", "slot", "polygon"]


@record
class OutlineVertex:
    """A corner of a polygon in the outline's own frame (mm), and the bulge of the side that leaves it (tan of a quarter of the arc's angle)."""

    x: float
    y: float
    bulge: float = 0.0


@record
class Outline:
    """A closed shape. `width` and `height` are overall, along x then y; a polygon keeps its vertices in its own frame.

    `corner_radius_mm` rounds rectangles and polygons. `relieved` cuts each inside corner so that a square part seats.
    """

    shape: Shape
    width_mm: float
    height_mm: float
    corner_radius_mm: float = 0.0
    relieved: bool = False
    vertices: tuple[OutlineVertex, ...] = ()
    origin: Origin | None = field(default=None, compare=False)


@record
class Placed:
    """One place of a feature: its id (with the grid or circle index), the world place of its centre, and its turn and mirror."""

    id: str
    x_mm: float
    y_mm: float
    turn_deg: float = 0.0
    mirrored: bool = False
