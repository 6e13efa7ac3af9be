"""How unlike board and gears move with the moisture of their wood, and what that does to a mesh."""

from __future__ import annotations

import math

from trivet.model.train import Gear
from trivet.record import record
from trivet.solve.library_figures import movement_percent
from trivet.solve.train_parts import TrainParts


@record
class Movement:
    """Percent of a length for each percent of moisture: of the board along the line of centres (least, most; they differ where its
    grain is not known), and of each gear in its own plane (least, most), which meets its mate with every direction in turn.
    """

    board: tuple[float, float]
    first: tuple[float, float]
    second: tuple[float, float]

    def closer_mm(self, radii_mm: tuple[float, float]) -> tuple[float, float]:
        """How much nearer the gears come to each other, mm a percent: (wetter, drier), below 0 where they part.

        `radii_mm`: of the working circles. Wetter gears grow towards each other while the board carries their axes apart; where both
        move alike the mesh only changes its size. Teeth and spaces that widen do so alike where both gears stand as they come nearest.
        """
        least, most = (
            (radii_mm[0] * one + radii_mm[1] * two) / 100.0 for one, two in zip(self.first, self.second, strict=True)
        )
        low, high = (sum(radii_mm) * value / 100.0 for value in self.board)
        return most - low, high - least


def movement_of(first: Gear, second: Gear, holder: Gear, angle_rad: float, parts: TrainParts) -> Movement:
    """Of a mesh at an angle from the x axis; `holder` is the gear of the first one's shaft that stands under the board."""
    board = parts.boards[holder.under.text]
    sheet = parts.sheets[board.stock.text]
    along, across = movement_percent(sheet.material.text if sheet.material is not None else None)
    grain = board.grain or sheet.face_grain
    bands: list[tuple[float, float]] = []
    if grain is None:
        bands.append((min(along, across), max(along, across)))
    else:
        # Stretched along one axis and across it by unlike amounts, a line at an angle grows by the mean with these weights.
        part = math.cos(angle_rad) ** 2 if grain == "x" else math.sin(angle_rad) ** 2
        bands.append((along * part + across * (1.0 - part),) * 2)
    for gear in (first, second):
        stock = parts.sheets[gear.stock.text]
        both = movement_percent(stock.material.text if stock.material is not None else None)
        bands.append((min(both), max(both)))
    return Movement(*bands)
