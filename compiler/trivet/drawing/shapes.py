"""Shapes: the small drawing form between the views and the file formats.

Lengths are millimetres, x to the right and y away from the viewer, seen from above the face that is drawn.
Coordinates are rounded on entry, so that every format prints the same figures.
"""

from __future__ import annotations

import math
from typing import Literal

from trivet.record import record

Operation = Literal["outer_edge", "opening", "bore", "pocket", "counterbore", "engrave", "reference"]
Face = Literal["topside", "underside"]
Anchor = Literal["start", "middle", "end"]

COORDINATE_DECIMALS = 4
BULGE_DECIMALS = 12  # a bulge scales the whole segment, so its error must stay far below a coordinate step
ANGLE_DECIMALS = 7  # on a radius of 1 m a step of 1e-7 degree is 2e-6 mm
CLOSEST_POINTS_MM = 0.001


def rounded(value: float, decimals: int = COORDINATE_DECIMALS) -> float:
    """The value rounded, never minus zero; raises `ValueError` when it is not finite."""
    if not math.isfinite(value):
        raise ValueError(f"a drawing holds finite numbers only, not {value}")
    return round(float(value), decimals) + 0.0


def _enter(shape: object, decimals: int, *names: str) -> None:
    for name in names:
        object.__setattr__(shape, name, rounded(getattr(shape, name), decimals))


@record
class Line:
    """A straight line. As for every shape, `title` says what it is and `because` where its numbers come from."""

    x1: float
    y1: float
    x2: float
    y2: float
    title: str
    because: str

    def __post_init__(self) -> None:
        _enter(self, COORDINATE_DECIMALS, "x1", "y1", "x2", "y2")


@record
class Arc:
    """A circular arc, anticlockwise from `start_deg` to `end_deg` measured from +x; less than a full turn."""

    cx: float
    cy: float
    r: float
    start_deg: float
    end_deg: float
    title: str
    because: str

    def __post_init__(self) -> None:
        _enter(self, COORDINATE_DECIMALS, "cx", "cy", "r")
        _enter(self, ANGLE_DECIMALS, "start_deg", "end_deg")
        if self.r <= 0:
            raise ValueError(f"an arc has a positive radius, not {self.r}")
        if self.sweep_deg == 0:
            raise ValueError("an arc turns less than a full circle and more than nothing")

    @property
    def sweep_deg(self) -> float:
        """The angle turned anticlockwise, from 0 (refused on entry) up to but not including 360."""
        return (self.end_deg - self.start_deg) % 360.0


@record
class Circle:
    """A full circle; `r` is positive."""

    cx: float
    cy: float
    r: float
    title: str
    because: str

    def __post_init__(self) -> None:
        _enter(self, COORDINATE_DECIMALS, "cx", "cy", "r")
        if self.r <= 0:
            raise ValueError(f"a circle has a positive radius, not {self.r}")


@record
class Path:
    """Lines and arcs end to end.

    A vertex is (x, y, bulge); the bulge is tan(included angle / 4) of the segment that starts there, positive
    anticlockwise, zero for a straight line. A closed path does not repeat its first vertex. Neighbours closer than
    0.001 mm become one vertex on entry. Raises `ValueError` when too few vertices remain to draw anything.
    """

    vertices: tuple[tuple[float, float, float], ...]
    closed: bool
    title: str
    because: str

    def __post_init__(self) -> None:
        entered = tuple((rounded(x), rounded(y), rounded(bulge, BULGE_DECIMALS)) for x, y, bulge in self.vertices)
        kept = _without_near_neighbours(entered, self.closed)
        bent = any(bulge for _, _, bulge in kept)
        if len(kept) < (3 if self.closed and not bent else 2):
            raise ValueError(f"path {self.title!r} has too few separate vertices: {kept}")
        object.__setattr__(self, "vertices", kept)

    def segments(self) -> tuple[tuple[float, float, float, float, float], ...]:
        """Each segment as (x1, y1, x2, y2, bulge), the closing one included."""
        ends = self.vertices[1:] + (self.vertices[:1] if self.closed else ())
        return tuple((x1, y1, x2, y2, b) for (x1, y1, b), (x2, y2, _) in zip(self.vertices, ends, strict=False))


def _without_near_neighbours(
    vertices: tuple[tuple[float, float, float], ...], closed: bool
) -> tuple[tuple[float, float, float], ...]:
    kept: list[tuple[float, float, float]] = []
    for x, y, bulge in vertices:
        if kept and _merges(kept[-1], (x, y)):
            kept[-1] = (kept[-1][0], kept[-1][1], bulge)
        else:
            kept.append((x, y, bulge))
    if closed and len(kept) > 1 and _merges(kept[-1], kept[0][:2]):
        kept.pop()
    return tuple(kept)


def _merges(vertex: tuple[float, float, float], point: tuple[float, float]) -> bool:
    near = math.hypot(point[0] - vertex[0], point[1] - vertex[1]) < CLOSEST_POINTS_MM
    # More than half a turn between near points is nearly a whole circle, not a short segment.
    return near and abs(vertex[2]) <= 1.0


@record
class Text:
    """Printed text on a reference layer: (x, y) is on the baseline, `height_mm` the height of capitals."""

    x: float
    y: float
    height_mm: float
    text: str
    anchor: Anchor
    title: str
    because: str
    angle_deg: float = 0.0

    def __post_init__(self) -> None:
        _enter(self, COORDINATE_DECIMALS, "x", "y", "height_mm")
        _enter(self, ANGLE_DECIMALS, "angle_deg")
        if self.height_mm <= 0:
            raise ValueError(f"text has a positive height, not {self.height_mm}")


@record
class Dimension:
    """A measured length on a reference layer, from point 1 to point 2.

    The dimension line lies `offset_mm` to the left of the direction from 1 to 2 (to the right when negative), with
    extension lines; `text` is what is printed, already formatted. Raises `ValueError` when the points coincide.
    """

    x1: float
    y1: float
    x2: float
    y2: float
    offset_mm: float
    text: str
    height_mm: float
    title: str
    because: str

    def __post_init__(self) -> None:
        _enter(self, COORDINATE_DECIMALS, "x1", "y1", "x2", "y2", "offset_mm", "height_mm")
        if self.length_mm < CLOSEST_POINTS_MM:
            raise ValueError(f"dimension {self.title!r} measures nothing")

    @property
    def length_mm(self) -> float:
        """The distance between the two points."""
        return math.hypot(self.x2 - self.x1, self.y2 - self.y1)


Shape = Line | Arc | Circle | Path | Text | Dimension
