"""Inserts that hang out of the board over the gear of a sliding hex."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.model.design import Design
from trivet.record import record
from trivet.solve.board_levels import boards_at
from trivet.solve.corner import pick
from trivet.solve.derived import Derived, FootState


@record
class Pressed:
    """`hangs_mm`: how far the insert stands out of the underside; `room_mm`: from there to its gear where that lies on its keeper."""

    foot: FootState
    hangs_mm: float
    room_mm: float


def pressed_gears(design: Design, derived: Derived) -> Iterator[Pressed]:
    """Every foot whose insert takes all the play of its gear, at the combination of sheets where it does so most."""
    kept = {state.gear: state for state in derived.feet if state.foot.kind == "sliding_hex" and state.foot.insert is not None}
    worst: dict[str, Pressed] = {}
    for solids in derived.solids:
        boards = boards_at(design, solids.board).z
        lows: dict[str, float] = {}
        keepers: dict[str, float] = {}
        widths: dict[str, float] = {}
        for item in solids.solids:
            if item.shaft in kept and item.kind in ("insert", "flange"):
                lows[item.shaft] = min(lows.get(item.shaft, item.low_mm), item.low_mm)
            elif item.shaft in kept and item.kind == "keeper":
                keepers[item.shaft] = item.high_mm
        for state in derived.train.gears:
            shaft = state.shaft or state.id
            widths[shaft] = widths.get(shaft, 0.0) + pick(state.face_width, solids.gear)
        for gear, low in lows.items():
            if gear not in keepers:
                continue
            under = boards[kept[gear].foot.into.text].under_mm
            found = Pressed(kept[gear], under - low, under - keepers[gear] - widths[gear])
            over = found.hangs_mm - found.room_mm
            if found.hangs_mm > 0.0 and over >= 0.0 and (gear not in worst or over > worst[gear].hangs_mm - worst[gear].room_mm):
                worst[gear] = found
    yield from worst.values()
