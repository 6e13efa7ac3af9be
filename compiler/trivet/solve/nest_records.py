"""What is nested and where it came to lie: frozen records, mm and degrees."""

from __future__ import annotations

import math

from trivet.model.board import Face
from trivet.record import record
from trivet.solve.contour import Contour
from trivet.solve.part_features import PartFeatures


@record
class Piece:
    """One piece to cut. `outline`: as cut, seen from the face that is cut first, about the part's own (0, 0); of a gear with a tooth at +x.

    `copy` counts the pieces of a part from 1. `turns_deg`: how it may be turned, anticlockwise. `turned_deg`: the turn by which
    `outline` differs already from the part as it is drawn.
    """

    part: str
    copy: int
    outline: Contour
    turns_deg: tuple[float, ...]
    turned_deg: float = 0.0

    @property
    def id(self) -> str:
        """The part, and which of several: `shim`, `shim 2`."""
        return self.part if self.copy == 1 else f"{self.part} {self.copy}"

    def at(self, x_mm: float, y_mm: float, turn_deg: float) -> Contour:
        """The outline where it lies, turned by so much more."""
        return self.outline.rotated(math.radians(turn_deg)).translated(x_mm, y_mm)


@record
class Stock:
    """A piece of sheet that lies ready: width along x, height along y, mm. `count` is None where as many as needed may be had.

    `cut_from_mm`: the size of the sheet or off-cut that it is cut from where a machine takes no more at once; that gives `per_sheet`.
    """

    width_mm: float
    height_mm: float
    count: int | None
    off_cut: bool
    per_sheet: int = 1
    cut_from_mm: tuple[float, float] | None = None


@record
class Job:
    """Pieces for one kind of sheet, all with one face cut first, and what they may be cut from, in the order of use.

    `two_faced`: ids of parts that have work on the other face too. `starts`: how many orders are tried. `machine`: what cuts them, where
    its work area is stated.
    """

    sheet: str
    first_face: Face
    pieces: tuple[Piece, ...]
    stocks: tuple[Stock, ...]
    spacing_mm: float
    margin_mm: float
    cutter_mm: float
    dowel_mm: float
    two_faced: frozenset[str]
    starts: int
    unit: str = "mm"
    machine: str = ""


@record
class Lying:
    """A piece on a sheet: its own (0, 0) lies at (x, y), and it is turned as it is drawn by `turn_deg`, seen from the first face."""

    part: str
    copy: int
    x_mm: float
    y_mm: float
    turn_deg: float


@record
class IndexHole:
    """A hole for an index dowel in the waste, seen from the first face. `guard`: the third one, with more room, keeps a wrong flip off."""

    x_mm: float
    y_mm: float
    diameter_mm: float
    guard: bool


@record
class NestedSheet:
    """One sheet or off-cut with its pieces. Frame: lower left corner, seen from the face that is cut first.

    `used_mm`: the box of all pieces (x0, y0, x1, y1). `area_mm2`: of the pieces' outlines. `holes` is empty where all work is from one face,
    or where no place was found (`no_room`). `machine`, `per_sheet`, `cut_from_mm`: as of its job and its stock.
    """

    sheet: str
    number: int
    first_face: Face
    width_mm: float
    height_mm: float
    off_cut: bool
    lying: tuple[Lying, ...]
    used_mm: tuple[float, float, float, float]
    area_mm2: float
    two_faced: bool
    spacing_mm: float
    margin_mm: float
    dowel_mm: float
    holes: tuple[IndexHole, ...] = ()
    machine: str = ""
    per_sheet: int = 1
    cut_from_mm: tuple[float, float] | None = None

    @property
    def no_room(self) -> bool:
        """Whether index holes are wanted and found no place."""
        return self.two_faced and not self.holes

    @property
    def name(self) -> str:
        """`ply18-1`."""
        return f"{self.sheet}-{self.number}"

    @property
    def share(self) -> float:
        """The part of the whole sheet, 0..1, that ends in pieces."""
        return self.area_mm2 / (self.width_mm * self.height_mm)

    @property
    def used_share(self) -> float:
        """The part of the used length of the sheet, over its whole breadth, that ends in pieces; the rest beyond stays whole."""
        if self.width_mm >= self.height_mm:
            used = min(self.used_mm[2] + self.margin_mm, self.width_mm) * self.height_mm
        else:
            used = min(self.used_mm[3] + self.margin_mm, self.height_mm) * self.width_mm
        return self.area_mm2 / used if used else 0.0


@record
class Nest:
    """All sheets. `left_over`: (sheet, piece id) of what found no place; `not_sized`: sheets without a size, whose parts are not nested.

    `parts`: each part with the datum that its sheet has, by id. `least_sheets`: (sheet, whole sheets that the area alone asks for).
    `came_from`: how it was found, for the report: `computed`, `thorough` or `kept`.
    """

    sheets: tuple[NestedSheet, ...]
    parts: tuple[PartFeatures, ...]
    left_over: tuple[tuple[str, str], ...] = ()
    not_sized: tuple[str, ...] = ()
    least_sheets: tuple[tuple[str, int], ...] = ()
    came_from: str = "computed"
