"""A sliding hex: the gear, held up by a keeper, has a deep hex socket; the screw's head slides in it, its thread in an insert.

Socket S_lo..S_hi, depth D; e = 0 with the head fully up. bearing face u = S_hi − e, foot plane u − k − q, tip u + L. q is the post's drop.
"""

from __future__ import annotations

from trivet.model.hardware import Head
from trivet.solve.board_levels import ceiling
from trivet.solve.corner import Corner, head_height_mm
from trivet.solve.foot_case import Bound, FootCase, FootSpec, World, bench_bound, insert_bounds, tip_bound
from trivet.solve.thread_zone import insert_zone

# A post wider than the socket stays this far below it, mm (common practice, no source).
POST_BELOW_MM = 0.5
# Hard: the head is about to leave the socket (common practice, no source).
PARTING_HEX_MM = 1.0


def needed_hex_mm(head_mm: float, socket_mm: float) -> float:
    """Least head in the socket: min(max(0.6 k, min(4 mm, k)), D). Common practice, no source (0.6 of the head or 4 mm)."""
    return min(max(0.6 * head_mm, min(4.0, head_mm)), socket_mm)


def socket_mm(spec: FootSpec, world: World, corner: Corner) -> float:
    """Depth of the socket from the gear's lower face, never more than the gear's thickness."""
    fixed = world.fixed[spec.gear.id]
    depth = spec.foot.socket_depth.mm if spec.foot.socket_depth is not None else 0.0
    return max(0.0, min(depth + corner.depth * world.design.shop.depth_mm, fixed.top_mm - fixed.bottom_mm))


def sliding_hex_case(spec: FootSpec, world: World, corner: Corner) -> FootCase:
    """The foot at one combination; `corner` has the sheets of `world`."""
    foot, boards = spec.foot, world.boards
    head = foot.screw.head if foot.screw is not None else None
    height = head_height_mm(head, corner.head) if head is not None else 0.0
    depth = socket_mm(spec, world, corner)
    bearing = world.fixed[spec.gear.id].bottom_mm + depth
    plane = bearing - height - spec.drop_mm
    need = needed_hex_mm(height, depth)
    bounds = [
        Bound("least", "hex_at_socket_floor", 0.0, True, spec.gear.id),
        Bound("most", "hex_leaves_socket", depth - need, False, spec.gear.id, need),
        Bound("most", "hex_leaves_socket", depth - min(PARTING_HEX_MM, need), True, spec.gear.id, min(PARTING_HEX_MM, need)),
    ]
    if post_wider(spec, head):
        bounds.append(Bound("least", "post_meets_gear", depth - height + POST_BELOW_MM, True, spec.gear.id, POST_BELOW_MM))
    top, face, name = ceiling(world.design, boards, foot.into.text, spec.gear.x_mm, spec.gear.y_mm, foot.thread.major_mm)
    bounds.append(tip_bound(spec, bearing, top, face, name))
    bounds += bench_bound(plane, world.low)
    zone = None
    if foot.insert is not None:
        zone = insert_zone(foot.insert, boards.z[foot.into.text], spec.other_way)
        bounds += insert_bounds(spec, bearing, zone)
    return FootCase(bearing, plane, zone, tuple(bounds), boards.uppermost_mm(foot.into.text))


def post_wider(spec: FootSpec, head: Head | None) -> bool:
    """Whether the post cannot enter the socket: its stated diameter against the head's flats; unstated, only a disc is taken as wider."""
    pad = spec.foot.pad
    if pad.diameter is None:
        return pad.kind == "disc"
    flats = head.across_flats_mm if head is not None and head.across_flats_mm is not None else 0.0
    return pad.diameter.mm > flats
