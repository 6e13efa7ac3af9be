"""What joins the gears that are fixed on one shaft: glue and two dowels through all of them, or the nuts of the drive that clamp them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from trivet.model.design import Design
from trivet.record import record
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived, GearState
from trivet.solve.feature import Feature, Round
from trivet.solve.gear_recesses import gear_recesses
from trivet.solve.lamination_dowels import PUSH_MM, lamination_dowels
from trivet.solve.low_point import drive_of
from trivet.solve.part_context import PartContext, part_context
from trivet.solve.web_openings import LEAST_RIM_MM, RIM_MODULES, web_room
from trivet.source import Origin

# Dowels where none are stated, by what hardware is bought, mm; the step between their radii, so that gears go together one way only; wood
# between them and recesses or bore; all common practice, no source. Under the roots they leave the rim that any cut leaves.
USUAL_MM, USUAL_INCH_MM, STEP_MM, WALL_MM = 6.0, 25.4 / 4.0, 2.0, 3.0
# The second stands at about so much of a turn from the first; directions that are tried for the first.
_SHARE, _TRIED = 0.4, 36
JOINS = "dowel that joins the gears of"


@record
class ShaftJoint:
    """`gears` from the top, of the shaft that `root` holds. `places`: of dowels, from the axis in the world's directions, mm. `room_mm`: of the
    ring where dowels may stand, `needs_mm` what two of them take. `holds`: whether the gears cannot turn on each other.
    """

    root: str
    gears: tuple[str, ...]
    form: Literal["dowels", "clamped"]
    dowel_mm: float
    places: tuple[tuple[float, float], ...]
    room_mm: float
    needs_mm: float
    holds: bool
    webbed: str
    stated: bool
    origin: Origin | None = None


def shaft_joints(design: Design, derived: Derived) -> tuple[ShaftJoint, ...]:
    """One for each shaft with two gears or more. Cost linear in their gears."""
    if all(gear.on_shaft_with is None for gear in design.gears):
        return ()
    context = part_context(design, derived)
    return tuple(_joint(context, root, stack) for root, stack in context.stacks.items() if len(stack) > 1)


def joint_features(context: PartContext, state: GearState) -> tuple[Feature, ...]:
    """The dowels' holes in one gear, turned as it stands."""
    joint = next((item for item in context.derived.joints if state.id in item.gears), None)
    if joint is None:
        return ()
    hole = joint.dowel_mm + PUSH_MM
    drilled = ", drilled" if hole < state.cutter_diameter_mm else ""
    because = (
        f"dowel {context.length(joint.dowel_mm)} plus {context.length(PUSH_MM)} (common practice, no source); at two radii, so that the"
        " gears go together one way only"
    )
    return tuple(
        Feature("bore", "underside", None, Round(x, y, hole), f"{JOINS} {joint.root}.{number}, {context.size(hole)}{drilled}", because,
                state.cutter_diameter_mm, joint.origin, True)
        for number, (x, y) in enumerate(joint.places, start=1)
    )  # fmt: skip


def _joint(context: PartContext, root: str, stack: Sequence[GearState]) -> ShaftJoint:
    design = context.design
    stated = next((state.gear.joined_by for state in stack if state.gear.joined_by is not None), None)
    usual = USUAL_INCH_MM if design.hardware == "inch" else USUAL_MM
    dowel = stated.diameter.mm if stated is not None and stated.diameter is not None else usual
    names = tuple(state.id for state in stack)
    if stated is not None and stated.form == "clamped":
        drive = drive_of(design, context.states[root].gear)
        nuts = [drive.nut, drive.jam_nut] if drive is not None else []
        holds = {nut.side for nut in nuts if nut is not None} == {"above", "below"}
        return ShaftJoint(root, names, "clamped", dowel, (), 0.0, 0.0, holds, "", True, stated.origin)
    inner = max(max([state.hole_mm / 2.0, *(_reach_mm(item.shape) for item in gear_recesses(context, state))]) for state in stack) + WALL_MM
    outer = min(
        state.geometry.root_radius_mm - max(LEAST_RIM_MM, RIM_MODULES * state.geometry.module_mm) for state in stack
    )
    needs = dowel + PUSH_MM + STEP_MM
    webbed = next((state.id for state in stack if state.gear.web is not None), "")
    places = _places(context, stack, (inner + outer) / 2.0, dowel) if outer - inner >= needs - 1e-9 and not webbed else ()
    return ShaftJoint(
        root, names, "dowels", dowel, places, max(outer - inner, 0.0), needs, bool(places), webbed, stated is not None,
        stated.origin if stated is not None else None,
    )  # fmt: skip


def _places(context: PartContext, stack: Sequence[GearState], middle: float, dowel: float) -> tuple[tuple[float, float], ...]:
    """In the direction that stands farthest from the dowels between layers; the first of equals."""
    taken = [spot for state in stack if state.gear.layers > 1 for spot in _layer_dowels(context, state)]

    def pair(turn: int) -> tuple[tuple[float, float], ...]:
        first = 2.0 * math.pi * turn / _TRIED
        polar = ((middle - STEP_MM / 2.0, first), (middle + STEP_MM / 2.0, first + 2.0 * math.pi * _SHARE))
        return tuple((r * math.cos(a), r * math.sin(a)) for r, a in polar)

    def clear(places: tuple[tuple[float, float], ...]) -> float:
        return min((math.dist(place, other) - radius for place in places for *other, radius in taken), default=math.inf)

    best = max(range(_TRIED), key=lambda turn: (round(clear(pair(turn)), 6), -turn))
    return pair(best) if clear(pair(best)) >= dowel / 2.0 + WALL_MM else ()


def _layer_dowels(context: PartContext, state: GearState) -> list[tuple[float, float, float]]:
    reach = max((_reach_mm(item.shape) for item in gear_recesses(context, state)), default=0.0)
    room = web_room(state.geometry.root_radius_mm, state.geometry.module_mm, state.hole_mm, reach)
    found, _ = lamination_dowels(context, state.gear.z, state.gear.web, room, state.cutter_diameter_mm)
    turned = [item.turned(state.phase_rad).shape for item in found]
    return [(shape.x_mm, shape.y_mm, shape.diameter_mm / 2.0) for shape in turned if isinstance(shape, Round)]


def _reach_mm(shape: object) -> float:
    """How far a recess goes out from the axis."""
    if isinstance(shape, Round):
        return shape.diameter_mm / 2.0
    return max(math.hypot(x, y) for x, y in shape.points(0.05)) if isinstance(shape, Contour) else 0.0
