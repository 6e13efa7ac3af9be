"""A captured nut: the gear, held up by a keeper, carries the nut; the rod is kept from turning and moves.

e is the gap from the keeper's underside z_K to the foot's top. foot plane z_K − e − q, tip z_K − e + L, lowest full thread
z_K − e + L − b. q is the pad's drop. The nut's face is flush with the gear's unless a pocket depth is stated.

The rod's stop is a cross pin in a slot of the board. It stands one pin diameter below the tip, and in comfort one diameter above
the board's underside; it leaves the slot when its lower edge reaches the underside (common practice, no source).
"""

from __future__ import annotations

from trivet.solve.board_levels import ceiling
from trivet.solve.corner import Corner
from trivet.solve.foot_case import TIP_BELOW_MM, Bound, FootCase, FootSpec, World, bench_bound, shank_bound, tip_bound
from trivet.solve.thread_zone import ThreadZone


def nut_zone(spec: FootSpec, world: World, corner: Corner) -> ThreadZone:
    """Live thread of the nut, through its whole height."""
    fixed, nut = world.fixed[spec.gear.id], spec.foot.nut
    height = nut.height_mm if nut is not None else 0.0
    depth = spec.pocket_mm + corner.depth * world.design.shop.depth_mm if spec.pocket_mm > 0.0 else height
    low = fixed.top_mm - depth if spec.foot.nut_pocket == "topside" else fixed.bottom_mm + depth - height
    return ThreadZone(low, low + height, low, low + height)


def captured_nut_case(spec: FootSpec, world: World, corner: Corner) -> FootCase:
    """The foot at one combination; `corner` has the sheets of `world`."""
    foot, boards = spec.foot, world.boards
    keeper = world.keepers[spec.gear.id]
    zone = nut_zone(spec, world, corner)
    plane = keeper - spec.drop_mm
    pitch = foot.thread.pitch_mm
    tip = keeper + spec.length_mm
    bounds = [Bound("least", "keeper", TIP_BELOW_MM, True, foot.name.text, TIP_BELOW_MM)]
    top, face, name = ceiling(world.design, boards, foot.into.text, spec.gear.x_mm, spec.gear.y_mm, foot.thread.major_mm)
    bounds.append(tip_bound(spec, keeper, top, face, name))
    bounds.append(shank_bound(spec, keeper, zone, "shank_in_nut"))
    bounds += bench_bound(plane, world.low)
    bounds += [
        Bound("most", "nut_not_full", tip - zone.high_mm - pitch, False, foot.name.text, zone.live_mm),
        Bound("most", "nut_not_full", tip - zone.low_mm - pitch, True, foot.name.text, pitch),
    ]
    if foot.rod_stop_diameter is not None:
        pin, under = foot.rod_stop_diameter.mm, boards.z[foot.into.text].under_mm
        bounds += [
            Bound("most", "stop_leaves_slot", tip - under - 2.0 * pin, False, foot.into.text, pin),
            Bound("most", "stop_leaves_slot", tip - under - 1.5 * pin, True, foot.into.text, pin),
        ]
    return FootCase(keeper, plane, zone, tuple(bounds), boards.uppermost_mm(foot.into.text))
