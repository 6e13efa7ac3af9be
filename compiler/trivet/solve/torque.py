"""Torque at the drive to raise the stated loads: an estimate with a low and a high end, for friction varies as much.

The own weight of the fixture is left out. A figure here certifies nothing.
"""

from __future__ import annotations

import itertools

from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived, FootState
from trivet.solve.library_figures import METAL_ON_WOOD, RUB_SOURCE, THREAD_FRICTION, THREAD_FRICTION_SOURCE, WOOD_ON_WOOD
from trivet.solve.load_shares import pushes_down, shares
from trivet.solve.power_screw import disc_friction_torque, holds_by_itself, pitch_diameter_mm, torque_to_lower, torque_to_raise

# What a mesh passes on, at worst and at best (assumed, no source: no measurement of plywood gears is known).
MESH_EFFICIENCY = (0.85, 0.95)
# A dome, a swivel or a screw's head bears on a disc of this many screw diameters (assumed, no source).
SMALL_CONTACT = 0.5
SOURCES = (
    THREAD_FRICTION_SOURCE,
    RUB_SOURCE,
    "efficiency of a mesh 0.85 to 0.95: assumed, no source",
    "a dome, a swivel or a head rubs on a disc half as wide as its screw, a nut's gear on its whole face: assumed, no source",
)


@record
class FootTorque:
    """At one foot's gear: its share of the load (N) and the torque to raise it (N·mm) at low and at high friction."""

    foot: str
    share_n: float
    low_nmm: float
    high_nmm: float


@record
class DriveTorque:
    """At the drive, N·mm, at low friction with good meshes and at high friction with poor ones. `load_n`: all that acts down."""

    load_n: float
    feet: tuple[FootTorque, ...]
    low_nmm: float | None
    high_nmm: float | None


def foot_holds(foot: FootState) -> bool:
    """Whether a foot's thread holds by itself at the low end of friction, the pad's rub left out."""
    return holds_by_itself(foot.lead_mm, pitch_diameter_mm(foot.foot.thread), THREAD_FRICTION[0])


def drive_torque(design: Design, derived: Derived) -> DriveTorque | None:
    """None without a load that acts down, or without feet. The drive's figures are None where it does not turn every foot."""
    pushes = pushes_down(design)
    if not pushes or not derived.feet or sum(force for force, _, _ in pushes) <= 0.0:
        return None
    on_each = shares([(foot.x_mm, foot.y_mm) for foot in derived.feet], pushes)
    feet = tuple(
        FootTorque(foot.id, share, _at_gear(derived, foot, share, 0), _at_gear(derived, foot, share, 1))
        for foot, share in zip(derived.feet, on_each, strict=True)
    )
    low, high = 0.0, 0.0
    for foot, torque in zip(derived.feet, feet, strict=True):
        gear = derived.train.gear(foot.gear)
        if gear.speed is None:
            return DriveTorque(sum(force for force, _, _ in pushes), feet, None, None)
        meshes = _meshes_on_the_way(derived, gear.path)
        low += torque.low_nmm * float(gear.speed) / MESH_EFFICIENCY[1] ** meshes
        high += torque.high_nmm * float(gear.speed) / MESH_EFFICIENCY[0] ** meshes
    return DriveTorque(sum(force for force, _, _ in pushes), feet, low, high)


def lowering_nmm(design: Design, derived: Derived, end: int) -> float | None:
    """At the drive to lower the stated loads, N·mm, at low (0) or high (1) friction; None as for `drive_torque`. Negative: it runs back."""
    pushes = pushes_down(design)
    if not pushes or not derived.feet or sum(force for force, _, _ in pushes) <= 0.0:
        return None
    total = 0.0
    on_each = shares([(foot.x_mm, foot.y_mm) for foot in derived.feet], pushes)
    for foot, share in zip(derived.feet, on_each, strict=True):
        gear = derived.train.gear(foot.gear)
        if gear.speed is None:
            return None
        friction, radius = rub(derived, foot, end)
        thread = torque_to_lower(share, pitch_diameter_mm(foot.foot.thread), foot.lead_mm, THREAD_FRICTION[end])
        passed = MESH_EFFICIENCY[1 - end] ** _meshes_on_the_way(derived, gear.path)
        total += (thread + disc_friction_torque(share, friction, radius)) * float(gear.speed) / passed
    return total


def _at_gear(derived: Derived, foot: FootState, share_n: float, end: int) -> float:
    diameter = pitch_diameter_mm(foot.foot.thread)
    thread = torque_to_raise(share_n, diameter, foot.lead_mm, THREAD_FRICTION[end])
    friction, radius = rub(derived, foot, end)
    return thread + disc_friction_torque(share_n, friction, radius)


def rub(derived: Derived, foot: FootState, end: int) -> tuple[float, float]:
    """Friction (at its low end 0, high end 1) and radius (mm) of what rubs: the pad on the bench, or, where the screw does not turn, the gear on the board."""
    if foot.foot.kind == "captured_nut" or foot.touches == "gear":
        return WOOD_ON_WOOD[end], derived.train.gear(foot.gear).tip_radius_mm
    pad = foot.foot.pad
    if pad.diameter is not None and pad.kind == "disc":
        return METAL_ON_WOOD[end], pad.diameter.mm / 2.0
    return METAL_ON_WOOD[end], SMALL_CONTACT * foot.foot.thread.major_mm / 2.0


def _meshes_on_the_way(derived: Derived, path: tuple[str, ...]) -> int:
    """Steps from gear to gear that are meshes; gears on one shaft turn together without loss."""
    meshing = {frozenset((mesh.a, mesh.b)) for mesh in derived.train.meshes}
    return sum(frozenset(pair) in meshing for pair in itertools.pairwise(path))
