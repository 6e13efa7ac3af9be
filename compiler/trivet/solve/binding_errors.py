"""What may be off in a whole train: every axis, cutter and insert once, however many meshes feel it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.model.design import Design
from trivet.record import record
from trivet.solve.backlash_budget import Carrying
from trivet.solve.binding_rings import ErrorMesh, ErrorRing, error_ring, meshed_rings
from trivet.solve.carrying import gear_carrying, gear_cutting
from trivet.solve.derived import Derived, GearState, MeshState
from trivet.solve.overlap_depth import levels_down_mm
from trivet.solve.train_parts import train_parts

# A worst case that just leaves something may do so by rounding.
ROUNDING_MM = 1e-6
TILT, OFFSET, RUN_OUT, MOISTURE = "insert tilt", "profile offset", "run-out", "moisture"
BORE, SOCKET = "bore clearance", "clearance of the socket"


@record
class Shift:
    """A radial play or error of an axis, up to `size_mm` in any direction; `turns` where it goes round with the gear."""

    what: str
    size_mm: float
    turns: bool


@record
class Axis:
    """A shaft's errors: its shifts, and the most that its insert tilts."""

    shifts: tuple[Shift, ...]
    tilt_rad: float


@record
class Cut:
    """One cutter on one machine: the error of each flank it cuts, and half its run-out, each as plus or minus mm."""

    offset_mm: float
    run_out_mm: float


@record
class TrainErrors:
    """All that is drawn, in an order of places in the plan: neither names nor the order of statements count.

    `moisture_percent`: the range; `rings`: closed rings of the meshes.
    """

    axes: tuple[Axis, ...]
    cuts: tuple[Cut, ...]
    meshes: tuple[ErrorMesh, ...]
    moisture_percent: float = 0.0
    rings: tuple[ErrorRing, ...] = ()

    def kinds(self) -> tuple[str, ...]:
        """The kinds of error that are not zero."""
        found = {shift.what for axis in self.axes for shift in axis.shifts}
        found |= {TILT for axis in self.axes if axis.tilt_rad > 0.0}
        found |= {OFFSET for cut in self.cuts if cut.offset_mm > 0.0} | {RUN_OUT for cut in self.cuts if cut.run_out_mm > 0.0}
        if self.moisture_percent > 0.0 and any(max(mesh.closer_mm) > 0.0 for mesh in self.meshes):
            found.add(MOISTURE)
        return tuple(sorted(found))


def train_errors(design: Design, derived: Derived) -> TrainErrors:
    """The errors of the meshes that can bind at all, and of closed rings; the others have backlash left with every error at its worst.

    Taken from the same figures as `backlash_budget`: hole position, bore clearance, the drive bolt's hole, insert tilt, profile
    offset, run-out and moisture.
    """
    parts = train_parts(design)
    states = {state.id: state for state in derived.train.gears}
    down = levels_down_mm((state.shaft, state.level, state.face_width.mean) for state in derived.train.gears)
    rings = meshed_rings(derived)
    ringed = {name for ring in rings for name in ring.meshes}
    meshes = sorted(
        (mesh for mesh in derived.train.meshes if mesh.backlash.min_mm <= ROUNDING_MM or mesh.id in ringed),
        key=lambda mesh: _order(mesh, states),
    )
    axis_of: dict[str, int] = {}
    cut_of: dict[tuple[str, str], int] = {}
    axes: list[Axis] = []
    cuts: list[Cut] = []
    found: list[ErrorMesh] = []
    for mesh in meshes:
        pair = (mesh.a, mesh.b) if _place(states[mesh.a]) <= _place(states[mesh.b]) else (mesh.b, mesh.a)
        one, two = (states[name] for name in pair)
        overlap = min(one.face_width.mean, two.face_width.mean)
        reaches: list[float] = []
        keys: list[tuple[str, str]] = []
        for state in (one, two):
            holder = states[state.shaft]
            held = gear_carrying(holder.gear, parts, holder.hole_mm, down[state.level] + overlap)
            reaches.append(held.reach_mm)
            if state.shaft not in axis_of:
                axis_of[state.shaft] = len(axes)
                axes.append(Axis(tuple(_shifts(held, holder.gear.turns_on is None)), held.tilt_rad))
            cutting = gear_cutting(state.gear, parts)
            keys.append((cutting.cutter, cutting.machine))
            if keys[-1] not in cut_of:
                cut_of[keys[-1]] = len(cuts)
                cuts.append(Cut(cutting.profile_offset_mm, cutting.run_out_mm / 2.0))
        angle = math.atan2(two.y_mm - one.y_mm, two.x_mm - one.x_mm)
        found.append(
            ErrorMesh(
                id=mesh.id,
                first=one.geometry,
                second=two.geometry,
                along_mm=(mesh.centre_distance_mm * math.cos(angle), mesh.centre_distance_mm * math.sin(angle)),
                axes=(axis_of[one.shaft], axis_of[two.shaft]),
                cuts=(cut_of[keys[0]], cut_of[keys[1]]),
                reaches_mm=(reaches[0], reaches[1]),
                overlap_mm=overlap,
                closer_mm=mesh.closer_mm,
            )
        )
    shop = design.shop
    moist = max(0.0, shop.moisture_most - shop.moisture_least)
    return TrainErrors(tuple(axes), tuple(cuts), tuple(found), moist, tuple(error_ring(ring, found) for ring in rings))


def _shifts(held: Carrying, turns: bool) -> Iterator[Shift]:
    """A gear clamped or keyed off its bolt's centre carries that error round; a hole in the board stays where it is, and a gear loose on
    its pivot does not turn with its play.
    """
    for what, size in held.shifts:
        yield Shift(what, size, turns and what in (BORE, SOCKET))


def _place(state: GearState) -> tuple[float, float, int]:
    return round(state.x_mm, 6), round(state.y_mm, 6), state.level


def _order(mesh: MeshState, states: dict[str, GearState]) -> tuple[tuple[float, float, int], ...]:
    return tuple(sorted((_place(states[mesh.a]), _place(states[mesh.b]))))
