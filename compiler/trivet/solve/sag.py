"""How far a board gives under a load between its feet: an estimate. N, mm."""

from __future__ import annotations

from trivet.model.board import Board, Load
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived
from trivet.solve.library_figures import bending_modulus, shear_modulus
from trivet.solve.plate import plate_sags_mm, sheet_stiffness
from trivet.solve.tipping import within_feet


@record
class Sag:
    """`sag_mm` under the load; `modulus_x`, `modulus_y`: what was taken for bending along x and along y, N/mm²."""

    load: Load
    board: Board
    sag_mm: float
    modulus_x: float
    modulus_y: float


def sags(design: Design, derived: Derived) -> tuple[Sag, ...]:
    """For each load that acts down within the polygon of the feet.

    The board that the feet act on is taken as a rectangle of its size, at its thinnest; what is cut out of it is left out, and boards
    over it are taken to add nothing. Feet in one line, on several boards or beside the board, and materials without a stiffness in the
    library give none.
    """
    downward = [load for load in design.loads if load.direction == "down" and within_feet(derived.feet, load.x_mm, load.y_mm)]
    if not downward:
        return ()
    name = derived.feet[0].foot.into.text
    board: Board = next(item for item in design.boards if item.name.text == name)
    sheet = next(item for item in design.sheets if item.name.text == board.stock.text)
    material = sheet.material.text if sheet.material is not None else ""
    both, shear = bending_modulus(material, sheet.thickness.mean), shear_modulus(material)
    if both is None or shear is None:
        return ()
    # A board keeps to the grain of its sheet where it states none of its own.
    grain = board.grain or sheet.face_grain
    along, across = (both if grain == "x" else both[::-1]) if grain is not None else (min(both), min(both))
    stiffness = sheet_stiffness(along, across, shear, sheet.layered(board.layers).least)
    feet = [(foot.x_mm - board.x_mm, foot.y_mm - board.y_mm) for foot in derived.feet]
    width, depth = board.outline.width_mm, board.outline.height_mm
    if not all(foot.foot.into.text == name for foot in derived.feet) or not all(
        0 <= x <= width and 0 <= y <= depth for x, y in feet
    ):
        return ()
    # What lies between feet on the board lies on it too.
    places = [(load.x_mm - board.x_mm, load.y_mm - board.y_mm) for load in downward]
    cases = [([(load.force.value, x, y)], (x, y)) for load, (x, y) in zip(downward, places, strict=True)]
    bent = plate_sags_mm(width, depth, stiffness, feet, cases)
    return tuple(Sag(load, board, sag, along, across) for load, sag in zip(downward, bent, strict=True))
