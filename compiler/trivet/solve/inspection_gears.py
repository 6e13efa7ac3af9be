"""Readings on a gear's teeth: the span over several of them and the diameter over the tips."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.solve.carrying import gear_cutting
from trivet.solve.contour import Contour
from trivet.solve.gear_measure import span_contact_radius_mm, span_mm, span_teeth
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.inspection_reading import Reading
from trivet.solve.part_context import PartContext
from trivet.solve.part_features import PartFeatures


def teeth_readings(context: PartContext, part: PartFeatures) -> Iterator[Reading]:
    """Span and tips. A flank moved by q moves one end of a span by q, so both flanks change it by 2 q (an involute's parallels are
    involutes of the same base circle).
    """
    name = part.belongs_to or part.part
    state = context.states[name]
    shape, cutting = state.geometry, gear_cutting(state.gear, context.parts)
    either = 2.0 * (cutting.profile_offset_mm + cutting.run_out_mm / 2.0)
    why = "profile_offset on two flanks" if not cutting.run_out_mm else "profile_offset and run_out on two flanks"
    teeth = span_teeth(shape)
    if shape.base_radius_mm < span_contact_radius_mm(shape, teeth) < shape.reached_tip_radius_mm and teeth < shape.teeth:
        span = span_mm(shape, teeth)
        yield Reading(
            f"{part.part}.span", part.part, f"span over {teeth} teeth, flat jaws, at three places round the rim", "span", span,
            span - either, span + either, why, (name,),
        )  # fmt: skip
    over = over_tips_mm(shape)
    words = "over the tips" if shape.teeth % 2 == 0 else "over the tips, one jaw on one tooth, the other on two"
    yield Reading(
        f"{part.part}.tips", part.part, words, "tip", over, over - either, over + either,
        why.replace("two flanks", "two sides"), (name,),
    )  # fmt: skip


def over_tips_mm(shape: ToothGeometry) -> float:
    """What flat jaws read over the tips: the tip diameter where two tips lie opposite; else r + r cos(pi/z − half a tip's angle).

    With an odd number of teeth the second jaw rests on the near corners of two tips (derived).
    """
    radius = shape.reached_tip_radius_mm
    if shape.teeth % 2 == 0:
        return 2.0 * radius
    return radius * (1.0 + math.cos(math.pi / shape.teeth - shape.half_angle_at(radius)))


def across_flats_mm(contour: Contour) -> float:
    """Across flats of a hexagon wherever it lies: twice the least distance of its straight sides from their middle."""
    vertices = contour.vertices
    pairs = zip(vertices, (*vertices[1:], vertices[0]), strict=True)
    sides = [(one, two, length) for one, two in pairs if not one.bulge and (length := math.hypot(two.x - one.x, two.y - one.y)) > 1e-6]
    whole = sum(length for _, _, length in sides)
    x = sum((one.x + two.x) / 2.0 * length for one, two, length in sides) / whole
    y = sum((one.y + two.y) / 2.0 * length for one, two, length in sides) / whole
    return 2.0 * min(abs((one.x - x) * (two.y - y) - (two.x - x) * (one.y - y)) / length for one, two, length in sides)
