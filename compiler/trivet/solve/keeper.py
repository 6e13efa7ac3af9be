"""The plate that holds a gear up: z_K, its underside, and where its gear lies between board and plate.

The plate stands off by spacers as long as the thickest gear plus play, so it does not clamp a thick gear.
"""

from __future__ import annotations

from collections.abc import Sequence

from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.solve.corner import Corner, pick
from trivet.solve.derived import GearState
from trivet.solve.fixed_gear import FixedGear, stack_width_mm, stacked_gears
from trivet.solve.foot_case import KEEPER_PLAY_MM


def keeper_room_mm(stack: Sequence[GearState]) -> float:
    """Gap between board (or the gears above) and keeper: thickest gears and play, mm."""
    return sum(state.face_width.most for state in stack) + KEEPER_PLAY_MM


def keeper_low_mm(design: Design, foot: Foot, stack: Sequence[GearState], top_mm: float, corner: Corner) -> float:
    """z_K, the keeper's underside; `top_mm` is the face its gears hang under. Without a keeper: where one without thickness would be."""
    thickness = 0.0
    if foot.keeper is not None:
        for sheet in design.sheets:
            if sheet.name.text == foot.keeper.stock.text:
                thickness = pick(sheet.thickness, corner.gear)
    return top_mm - keeper_room_mm(stack) - thickness


def kept_gears(foot: Foot, stack: Sequence[GearState], top_mm: float, corner: Corner) -> dict[str, FixedGear]:
    """The gears over a keeper: a captured nut's is pushed up against the board by its load, a sliding hex's lies on the keeper."""
    lowest_top = top_mm - (keeper_room_mm(stack) - stack_width_mm(stack, corner))
    rest = top_mm if foot.kind == "captured_nut" else lowest_top
    return stacked_gears(stack, corner, rest, top_mm, lowest_top)
