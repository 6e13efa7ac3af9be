"""Readings on shop aids: what they hold must be right before they are relied on."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.solve.feature import Round
from trivet.solve.inspection_reading import Reading
from trivet.solve.part_context import PartContext
from trivet.solve.part_features import PartFeatures


def aid_readings(context: PartContext, part: PartFeatures) -> Iterator[Reading]:
    """A guide's bore, the height of shims, a bar's holes and the distance over pins in both."""
    both = 2.0 * context.design.shop.profile_offset_mm
    rounds = [(item, item.shape) for item in part.features if isinstance(item.shape, Round)]
    for number, (item, shape) in enumerate(rounds, start=1):
        row = f"{part.part}.hole.{number}" if len(rounds) > 1 else f"{part.part}.bore"
        yield Reading(
            row, part.part, f"{item.title.split(', ')[0]}: diameter", "aid", shape.diameter_mm, shape.diameter_mm - both,
            shape.diameter_mm + both, "profile_offset on both sides of the hole", (part.part,), part.quantity,
        )  # fmt: skip
    if not rounds:
        bounds = part.outline.bounds
        height = bounds[3] - bounds[1]
        yield Reading(
            f"{part.part}.height", part.part, f"height, on edge, of each of the {part.quantity}", "aid", height, height - both,
            height + both, "profile_offset on both sides; what counts is that all are alike", (part.part,), part.quantity,
        )  # fmt: skip
    if len(rounds) == 2:
        (_, one), (_, two) = rounds
        over = abs(two.x_mm - one.x_mm) + (one.diameter_mm + two.diameter_mm) / 2.0
        either = 2.0 * context.design.shop.hole_position_mm + both
        yield Reading(
            f"{part.part}.centres", part.part, "over pins that fill both holes, outside to outside", "aid", over, over - either,
            over + either, "hole_position of two holes and profile_offset round both", (part.part,),
        )  # fmt: skip
