"""The two dowels that hold a gear's layers in line while they are glued: unequally placed, so that no layer goes on turned."""

from __future__ import annotations

import math

from trivet.model.train import Web
from trivet.solve.feature import Feature, Round
from trivet.solve.part_context import PartContext
from trivet.solve.web_openings import WebRoom

# Usual dowels where hardware is metric and where it is inch, mm; the fit of a pushed dowel, diametral; the step between the two
# radii (common practice, no source).
DOWELS_MM = (6.0, 8.0, 10.0, 12.0)
INCH_DOWELS_MM = (25.4 / 4.0, 25.4 * 5.0 / 16.0, 25.4 * 3.0 / 8.0, 25.4 / 2.0)
PUSH_MM = 0.05
STEP_MM = 2.0
# The second dowel stands at about so much of a turn from the first: no symmetry of the pair is left.
_SHARE_OF_TURN = 0.4


def lamination_dowels(
    context: PartContext, teeth: int, web: Web | None, room: WebRoom, cutter_mm: float
) -> tuple[tuple[Feature, ...], str]:
    """Two bores at phase 0 and no note, or none and why."""
    usual = INCH_DOWELS_MM if context.design.hardware == "inch" else DOWELS_MM
    diameter = next((size for size in usual if size >= cutter_mm), None)
    if diameter is None or room.width_mm < diameter + STEP_MM:
        return (), "no room for the two dowels that line up the layers: line them up by the bore and a tooth space"
    hole = diameter + PUSH_MM
    count, first = teeth, 0.0
    if web is not None:
        count = int(web.count.number)
        if web.form == "holes":
            first = math.pi / count
        elif web.size.mm < hole + STEP_MM * 2.0 or count < 3:
            return (), "the spokes are too narrow for the two dowels that line up the layers"
    second = first + 2.0 * math.pi * max(1, round(count * _SHARE_OF_TURN)) / count
    middle = (room.hub_mm + room.rim_mm) / 2.0
    places = ((middle - STEP_MM / 2.0, first), (middle + STEP_MM / 2.0, second))
    title = f"dowel that lines up the layers, {context.size(hole)}"
    because = (
        f"dowel {context.length(diameter)} plus {context.length(PUSH_MM)} (common practice, no source); at two radii, so that no"
        " layer goes on turned"
    )
    return tuple(
        Feature("bore", "underside", None, Round(r * math.cos(a), r * math.sin(a), hole), title, because, cutter_mm)
        for r, a in places
    ), ""
