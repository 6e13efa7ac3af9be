"""How one keeper is held: its screws, their places and length, and the stand-offs that keep it off the board."""

from __future__ import annotations

from trivet.model.base import Band
from trivet.model.foot import Keeper
from trivet.model.hardware import Screw
from trivet.model.keeper import KeeperScrews, StandOff
from trivet.record import record


@record
class KeeperState:
    """`places`: in the world frame, mm; empty where none are found, and `lacking` says what is in the way. `wanted`: how many screws.

    `height_mm`: of a stand-off: the thickest gears and their play, whatever the sheets. `recess_mm`: how deep heads lie in the keeper's
    underside; `seat_mm`: where a screw's length begins, from there up. `length_mm` None: no length that is sold fits between `least_mm`
    (1.5 d in the wood, thickest keeper) and `most_mm` (1 mm under the board's topside, thinnest). `pilot_depth_mm`: from the underside.
    `gears`: those between keeper and board, `tip_mm` the radius over their teeth. `assumed`: what is not stated, in words. `faults`: of
    each stated place what it lacks (`teeth`, `edge`, `board`) and by how much, mm, or what else stands there; empty words where it is good.
    """

    id: str
    foot: str
    gear: str
    board: str
    gears: tuple[str, ...]
    keeper: Keeper
    screws: KeeperScrews
    screw: Screw
    stand_off: StandOff
    wanted: int
    places: tuple[tuple[float, float], ...]
    lacking: str
    height_mm: float
    recess_mm: float
    seat_mm: float
    under_head_mm: float
    least_mm: float
    most_mm: float
    length_mm: float | None
    fits: bool
    pilot_mm: float
    pilot_depth_mm: float
    clearance_mm: float
    recess_diameter_mm: float
    stack: tuple[tuple[str, Band], ...]
    assumed: tuple[str, ...]
    faults: tuple[tuple[str, float], ...] = ()
    tip_mm: float = 0.0
    in_wood_mm: float = 0.0

    @property
    def holds(self) -> bool:
        """Whether its screws find places and a length that is sold."""
        return bool(self.places) and self.fits
