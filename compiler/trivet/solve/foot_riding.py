"""A riding foot: the screw is fixed in its gear, and both travel along the axis.

gear top −e, bottom −e − g; bearing face u = −e − g + p; foot plane −e − g − max(0, k + pad − p), all from the board's underside.
"""

from __future__ import annotations

import math

from trivet.solve.board_levels import ceiling
from trivet.solve.corner import Corner, head_height_mm, pick
from trivet.solve.face_overlap import overlap_bounds
from trivet.solve.fixed_gear import stack_width_mm
from trivet.solve.foot_case import Bound, FootCase, FootSpec, World, bench_bound, insert_bounds, tip_bound
from trivet.solve.thread_zone import insert_zone


def tilt_rad(spec: FootSpec, world: World) -> float:
    """Tilt of a gear carried by its insert: as the insert is driven, or less where a guide bore holds the screw (clearance/length)."""
    tilt = math.radians(world.design.shop.insert_tilt_deg)
    guide = spec.foot.guide
    return tilt if guide is None else min(tilt, math.atan(guide.clearance.mm / guide.length.mm))


def proud_mm(spec: FootSpec, corner: Corner, depth_mm: float) -> float:
    """How far the head and its pad stand out of the gear's lower face: max(0, k + pad − p)."""
    head = spec.foot.screw.head if spec.foot.screw is not None else None
    height = head_height_mm(head, corner.head) if head is not None else 0.0
    return max(0.0, height + spec.drop_mm - pocket_mm(spec, corner, depth_mm))


def pocket_mm(spec: FootSpec, corner: Corner, depth_mm: float) -> float:
    """Depth of the head's pocket from the gear's lower face, `depth_mm` being the shop's depth error."""
    return max(0.0, spec.pocket_mm + corner.depth * depth_mm) if spec.pocket_mm > 0.0 else 0.0


def riding_case(spec: FootSpec, world: World, corner: Corner) -> FootCase:
    """The foot at one combination; `corner` has the sheets of `world`."""
    foot, boards, depth = spec.foot, world.boards, world.design.shop.depth_mm
    board = boards.z[foot.into.text]
    width = stack_width_mm(spec.stack, corner)
    bottom = board.under_mm - width
    bearing = bottom + pocket_mm(spec, corner, depth)
    plane = bottom - proud_mm(spec, corner, depth)
    bounds = [Bound("least", "gear_meets_board", world.drops.get(spec.stack[0].level, 0.0), True, foot.into.text)]
    radius = max(state.geometry.tip_radius_mm for state in spec.stack)
    tilt = tilt_rad(spec, world)
    bounds.append(Bound("least", "tilted_rim", radius * math.tan(tilt), True, foot.into.text, math.degrees(tilt)))
    top, face, name = ceiling(world.design, boards, foot.into.text, spec.gear.x_mm, spec.gear.y_mm, foot.thread.major_mm)
    bounds.append(tip_bound(spec, bearing, top, face, name))
    bounds += bench_bound(plane, world.low)
    zone = None
    if foot.insert is not None:
        zone = insert_zone(foot.insert, board, spec.other_way)
        proud = board.under_mm - zone.bottom_mm
        if proud > 0.0:
            bounds.append(Bound("least", "insert_proud", proud, True, foot.name.text, proud))
        bounds += insert_bounds(spec, bearing, zone)
    bounds += overlap_bounds(spec, world)
    return FootCase(bearing, plane, zone, tuple(bounds), boards.uppermost_mm(foot.into.text))


def gear_interval_mm(spec: FootSpec, world: World, gear_id: str, extension_mm: float) -> tuple[float, float]:
    """z of the bottom and top of one of the foot's gears at an extension."""
    top = world.boards.z[spec.foot.into.text].under_mm - extension_mm
    for state in spec.stack:
        width = pick(state.face_width, world.corner.gear)
        if state.id == gear_id:
            break
        top -= width
    return top - width, top
