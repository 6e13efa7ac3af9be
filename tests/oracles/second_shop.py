"""What the shop's errors, the play of axes and the wood's moisture do to a mesh: the second calculation. Lengths mm, angles rad.

A diametral clearance lets an axis wander by half of itself. Movement of wood in percent for each percent of moisture: three-ply plywood
of 22 species, 0.18 along and 0.27 across the face grain from 7 to 20 percent (FPRL tests quoted in The Technique of Furniture Making, seen).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from tests.oracles.second_facts import Facts, facts
from tests.oracles.second_teeth import Teeth, backlash, train, working_angle

from trivet.model.hardware import Insert, TeeNut

ALONG, ACROSS = round(0.18 / 13, 4), round(0.27 / 13, 4)


def around_mm(f: Facts, gear: str) -> float:
    """Diameter of what an idler turns on."""
    pivot = f.held(gear)[1]
    outside = pivot.sleeve_outside or pivot.shoulder
    return float(outside.mm) if outside is not None else float(pivot.thread.major_mm)


def bore_mm(f: Facts, gear: str) -> float:
    """Of a gear: what passes through it and its clearance; a screw that its head holds has 0.2 (common practice, no source)."""
    made, (kind, block) = f.gears[gear], f.held(gear)
    if made.bore is not None:
        return float(made.bore.mm)
    if kind == "drive":
        tee = isinstance(block.nut.hardware, TeeNut) and f.root(gear) == gear
        return float(block.nut.hardware.hole_mm if tee else block.hole_mm)
    if kind == "pivot":
        return around_mm(f, gear) + f.shop.bore_clearance_mm
    return float(block.thread.major_mm) + (0.2 if block.kind == "riding" else f.shop.bore_clearance_mm)


@dataclass
class Shares:
    """Radial shifts, lengths across which an insert leans (to the far end of the teeth), overlap, and errors of the two cuts."""

    a: str
    b: str
    overlap: float = 0.0
    shifts: dict[str, float] = field(default_factory=dict)
    leans: dict[str, float] = field(default_factory=dict)
    tilts: dict[str, float] = field(default_factory=dict)
    flank: dict[str, float] = field(default_factory=dict)
    wobble: dict[str, float] = field(default_factory=dict)
    one_cutter: bool = True

    def at(self, one: Teeth, two: Teeth, distance: float, sign: int) -> float:
        """Backlash with the axes at a distance and all other errors to the same side: on circles twice the flanks' errors, normal to them."""
        angle = working_angle(one, two, max(distance, one.rb + two.rb))
        normal = 2 * sum(self.flank.values()) + sum(self.wobble.values())
        lean = sum(self._lean(name, angle) for name in self.leans)
        return backlash(one, two, max(distance, one.rb + two.rb)) + sign * (normal / math.cos(angle) + lean)

    def _lean(self, name: str, angle: float) -> float:
        """Nearer by its lean, and skew across the teeth: both at right angles."""
        return math.hypot(2 * self.leans[name] * math.tan(angle), math.tan(self.tilts[name]) * self.overlap)

    def others(self, one: Teeth, two: Teeth, distance: float) -> dict[str, float]:
        """Shares of what is no shift of an axis, by the words that name them."""
        angle = working_angle(one, two, distance)
        found = {f"insert tilt of `{name}`": self._lean(name, angle) for name in self.leans}
        for what, errors, each in (("profile offset", self.flank, 2), ("run-out", self.wobble, 1)):
            shares = {name: each * error / math.cos(angle) for name, error in errors.items()}
            if self.one_cutter:
                found[f"{what} of both gears"] = sum(shares.values())
            else:
                found |= {f"{what} of `{name}`": share for name, share in shares.items()}
        return found


def shares(name: str, a: str, b: str) -> Shares:
    f = facts(name)
    s = Shares(a, b, overlap=min(f.width(a), f.width(b)))
    for gear in (a, b):
        root, (kind, block) = f.root(gear), f.held(gear)
        board = f.named["boards"][f.gears[root].under.text]
        machine = f.named["machines"][board.machine.text] if board.machine is not None else None
        stated = machine.hole_position if machine is not None else None
        s.shifts[f"hole position of `{gear}`"] = stated.mm if stated is not None else f.shop.hole_position_mm
        if kind == "drive":
            s.shifts[f"clearance of the bolt's hole of `{gear}`"] = (block.hole_mm - block.thread.major_mm) / 2
            if not isinstance(block.nut.hardware, TeeNut):
                s.shifts[f"bore clearance of `{gear}`"] = (bore_mm(f, root) - block.thread.major_mm) / 2
        elif kind == "pivot":
            s.shifts[f"bore clearance of `{gear}`"] = (bore_mm(f, root) - around_mm(f, gear)) / 2
        elif block.kind == "captured_nut":
            s.shifts[f"bore clearance of `{gear}`"] = (bore_mm(f, root) - block.thread.major_mm) / 2
        elif block.kind == "sliding_hex":
            s.shifts[f"clearance of the socket of `{gear}`"] = f.shop.bore_clearance_mm / 2
        if kind in ("foot", "climber") and block.insert is not None:
            tilt = math.radians(f.shop.insert_tilt_deg)
            if block.guide is not None:
                tilt = min(tilt, math.atan(block.guide.clearance.mm / block.guide.length.mm))
            s.tilts[gear] = tilt
            s.leans[gear] = math.tan(tilt) * (middle_of_insert(f, block) + f.down(f.level(gear)) + s.overlap)
        made = f.gears[gear]
        cut_on = f.named["machines"][made.machine.text] if made.machine is not None else None
        offset, wobble = (getattr(cut_on, what) if cut_on is not None else None for what in ("profile_offset", "run_out"))
        s.flank[gear] = offset.mm if offset is not None else f.shop.profile_offset_mm
        s.wobble[gear] = wobble.mm if wobble is not None else f.shop.run_out_mm
    one, two = (f.gears[gear] for gear in (a, b))
    s.one_cutter = one.cutter == two.cutter and (one.machine == two.machine)
    nearer = (f.shop.moisture_most - f.shop.moisture_least) * max(0.0, *swing(name, a, b))
    s.shifts["moisture of board and gears"] = nearer
    s.shifts = {what: shift for what, shift in s.shifts.items() if shift > 0}
    return s


def middle_of_insert(f: Facts, foot: object) -> float:
    """z of an insert's middle over the underside of its board; a tee nut leans about its barrel's."""
    use = foot.insert
    length = use.hardware.length_mm if isinstance(use.hardware, Insert) else use.hardware.barrel_length_mm
    proud = use.proud.mm if use.proud is not None else 0.0
    if use.flush == "underside":
        return float(length / 2 - proud)
    return float(f.thick(foot.into.text) + proud - length / 2)


def swing(name: str, a: str, b: str) -> tuple[float, float]:
    """How much nearer two gears come for a percent of moisture more, and for one less: each direction of each grain is tried."""
    f, made = facts(name), train(name)
    board = f.named["boards"][f.gears[f.root(a)].under.text]
    ax, ay = made.places[a]
    bx, by = made.places[b]
    apart = math.hypot(bx - ax, by - ay)
    grain = board.grain or f.sheet(board).face_grain
    c, s = abs(bx - ax) / apart, abs(by - ay) / apart
    if grain == "y":
        c, s = s, c
    directions = [(c, s)] if grain is not None else [(math.cos(t), math.sin(t)) for t in np.linspace(0, math.pi / 2, 91)]
    boards = [apart * (ALONG * c * c + ACROSS * s * s) / 100 for c, s in directions]
    # Both working radii together are the distance of the axes.
    grown = [rate / 100 * apart for rate in (ALONG, ACROSS)]
    return max(grown) - min(boards), max(boards) - min(grown)
