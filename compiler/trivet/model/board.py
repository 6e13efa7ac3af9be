"""Boards and everything that is cut into them besides the gears' own holes."""

from __future__ import annotations

from typing import Literal

from trivet.model.base import Angle, Force, From, Named, NonNegativeLength, Noun, PositiveLength
from trivet.model.hardware import Head, Magnet
from trivet.model.outline import Outline, Placed
from trivet.model.tabs import Tabs

Face = Literal["topside", "underside"]
Fit = Literal["press", "push", "slide", "clearance", "fine", "medium", "coarse"]


class Board(Noun):
    """A board. `x_mm`, `y_mm`: world place of its frame's origin, the lower-left corner of its outline's box.

    `thickness` of the whole board is the sheet's times `layers`. `under` names the board above it, `clear` the gap between them.
    """

    name: Named
    stock: Named
    cutter: Named
    outline: Outline
    datum: Face = "underside"
    layers: int = 1
    x_mm: float = 0.0
    y_mm: float = 0.0
    under: Named | None = None
    clear: NonNegativeLength | None = None
    bow: NonNegativeLength | None = None
    grain: Literal["x", "y"] | None = None
    machine: Named | None = None
    tabs: Tabs | None = None


class Counterbore(Noun):
    """A flat-bottomed enlargement for a head, on one face."""

    face: Face
    diameter_mm: float
    depth_mm: float
    for_standard: str = ""
    origin: From = None


class Hole(Noun):
    """Round holes in a board: the diameter as cut, through or blind from a face, with an optional counterbore."""

    name: Named
    into: Named
    diameter_mm: float
    because: str
    fit: Fit | None = None
    face: Face = "topside"
    depth: PositiveLength | None = None
    counterbore: Counterbore | None = None
    countersink: Head | None = None
    cutter: Named | None = None
    drill_mm: float | None = None
    places: tuple[Placed, ...]
    origin: From = None


class Pocket(Noun):
    """A pocket in a face (`depth` given) or an opening through the board (`depth` None)."""

    name: Named
    into: Named
    face: Face
    outline: Outline
    depth: PositiveLength | None = None
    cutter: Named | None = None
    places: tuple[Placed, ...]
    origin: From = None


class Engrave(Noun):
    """A label cut as strokes."""

    name: Named
    into: Named
    face: Face
    text: str
    height: PositiveLength
    depth: PositiveLength
    cutter: Named
    places: tuple[Placed, ...]
    origin: From = None


class MagnetPlace(Noun):
    """Disc magnets let into a face; `polarity` is the pole that shows."""

    name: Named
    into: Named
    face: Face
    disc: Magnet
    fit: Fit
    polarity: Literal["north", "south"] | None = None
    hole_diameter_mm: float
    hole_depth_mm: float
    places: tuple[Placed, ...]
    origin: From = None


class Dowel(Noun):
    """A dowel in one hole or more, each with its fit: (board, fit) pairs; drawn in every board named. `length` is bought, per place."""

    name: Named
    diameter_mm: float
    into: tuple[tuple[str, Fit], ...]
    length: PositiveLength | None = None
    places: tuple[Placed, ...]
    origin: From = None


class Spacer(Noun):
    """A ring or block cut from a sheet: between gear and board, under a board, or loose."""

    name: Named
    stock: Named
    cutter: Named
    outline: Outline
    bore_mm: float | None = None
    quantity: int = 1
    tabs: Tabs | None = None
    origin: From = None


class Workpiece(Noun):
    """What the board is to be flush with: a thickness range, on the bench or on a riser."""

    name: Named
    least_mm: float
    most_mm: float
    riser_mm: float = 0.0
    origin: From = None


class CutZone(Noun):
    """A strip along an edge in which a cutter may run: no metal inside it at any height."""

    name: Named
    into: Named
    edge: Literal["left", "right", "near", "far"]
    width: PositiveLength
    depth: PositiveLength
    origin: From = None


class Load(Noun):
    """A force at a place: down, or along x or y."""

    name: Named
    force: Force
    x_mm: float
    y_mm: float
    direction: Literal["down", "x", "y"] = "down"
    angle: Angle | None = None
    origin: From = None
