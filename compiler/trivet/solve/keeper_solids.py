"""Stand-offs and screws of keepers as solids, at each combination of sheets."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.model.design import Design
from trivet.record import replace
from trivet.solve.board_levels import boards_at
from trivet.solve.derived import Derived
from trivet.solve.keeper_state import KeeperState
from trivet.solve.solid import SolidSet


def with_stand_offs(design: Design, derived: Derived, keepers: Sequence[KeeperState]) -> tuple[SolidSet, ...]:
    """All solids of `derived` with what holds the keepers; heads lie in their keepers and are no solids of their own."""
    by_gear = {item.gear: item for item in keepers if item.places}
    if not by_gear:
        return derived.solids
    return tuple(_with(design, solids, by_gear) for solids in derived.solids)


def _with(design: Design, solids: SolidSet, keepers: dict[str, KeeperState]) -> SolidSet:
    boards = boards_at(design, solids.board)
    found = list(solids.solids)
    for plate in (item for item in solids.solids if item.kind == "keeper" and item.shaft in keepers):
        held = keepers[plate.shaft]
        under, seat = boards.z[held.board].under_mm, plate.low_mm + held.seat_mm
        length = held.length_mm if held.length_mm is not None else held.least_mm
        for x, y in held.places:
            stand = replace(plate, kind="stand_off", plate=None, x_mm=x, y_mm=y)
            found.append(replace(stand, radius_mm=held.stand_off.diameter.mm / 2.0, low_mm=plate.high_mm, high_mm=under))
            found.append(replace(stand, kind="keeper_screw", radius_mm=held.screw.thread.major_mm / 2.0, low_mm=seat, high_mm=seat + length))
    return replace(solids, solids=tuple(found))
