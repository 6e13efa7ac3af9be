"""Backlash of a mesh with the shop's errors and the wood's movement: nominal, worst case and root-sum-square."""

from __future__ import annotations

import math

from trivet.record import record
from trivet.solve.derived import Backlash
from trivet.solve.involute import involute, pressure_angle_at
from trivet.solve.mesh_geometry import MeshGeometry


@record
class Cutting:
    """What cuts a gear: its cutter and machine by name, the profile error each flank may have and the spindle's run-out (mm)."""

    cutter: str
    machine: str
    profile_offset_mm: float
    run_out_mm: float


@record
class Carrying:
    """How well a gear's axis is held: (what, radial shift either way, mm) of each play, and the tilt where an insert carries it.

    `reach_mm`: from the insert's mid-length to the far end of the overlap.
    """

    shifts: tuple[tuple[str, float], ...]
    tilt_rad: float = 0.0
    reach_mm: float = 0.0


@record
class BacklashBudget:
    """The backlash, and the tightest and widest working centre distance that the same errors allow (mm).

    `centre_distance_likely_mm`: nearer by the root sum of squares of all that moves the axes. `moisture_mm`: how far board and gears,
    moving unlike each other over the range of moisture, bring the gears nearer or apart; in the distances it counts for the gears' growth too.
    """

    backlash: Backlash
    centre_distance_likely_mm: float
    centre_distance_least_mm: float
    centre_distance_most_mm: float
    moisture_mm: float


def backlash_budget(
    a: str,
    b: str,
    geometry: MeshGeometry,
    overlap_mm: float,
    cutting: tuple[Cutting, Cutting],
    carrying: tuple[Carrying, Carrying],
    moisture: tuple[float, tuple[float, float]] = (0.0, (0.0, 0.0)),
) -> BacklashBudget:
    """Worst case by the exact backlash at the tightest and widest centres; root-sum-square by first-order shares on the working circle.

    A radial shift d of an axis has the share d (2 tan aw + j/A), the derivative of the exact backlash by the centre distance; both
    worst cases lie above the sum of such shares, since backlash curves upwards. A profile error q on each of four flanks gives
    4 q/cos aw (the normal backlash changes by 4 q exactly): one error where one cutter on one machine cuts both gears, else two of
    half that. Run-out r widens every cut by r at most, r/2 a flank. An insert's tilt gives tan τ √((2 ℓ tan aw)² + b²), b the
    overlap; it moves the centres of the least and greatest distance, not those of the backlash, which has it in that term.

    `moisture`: the range in percent, and how much nearer the gears come for each percent (wetter, drier). Made at one end of the range
    and used at the other, the mesh closes by the worse of the two, or opens by as much the other way round: a shift like the others.
    """
    swing_mm = moisture[0] * max(0.0, *moisture[1])
    aw, distance = geometry.working_angle_rad, geometry.centre_distance_mm
    per_mm = 2.0 * math.tan(aw) + geometry.backlash_mm / distance
    found: list[tuple[str, float]] = []
    for name, held in zip((a, b), carrying, strict=True):
        found += [(f"{what} of `{name}`", shift * per_mm) for what, shift in held.shifts]
        found.append((f"insert tilt of `{name}`", _tilted_mm(held, overlap_mm, aw)))
    found.append(("moisture of board and gears", swing_mm * per_mm))
    one, two = cutting
    together = (one.cutter, one.machine) == (two.cutter, two.machine)
    for what, shares in (
        ("profile offset", (one.profile_offset_mm, two.profile_offset_mm)),
        ("run-out", (one.run_out_mm / 2.0, two.run_out_mm / 2.0)),
    ):
        flanks = [2.0 * share / math.cos(aw) for share in shares]
        found += (
            [(f"{what} of both gears", sum(flanks))]
            if together
            else [(f"{what} of `{name}`", share) for name, share in zip((a, b), flanks, strict=True)]
        )
    kept = sorted(((what, share, share) for what, share in found if share > 0.0), key=lambda c: (-c[1], c[0]))
    rss = math.sqrt(math.fsum(share**2 for _, _, share in kept))
    shift = math.fsum(size for held in carrying for _, size in held.shifts) + swing_mm
    least, most = (_worst_mm(geometry, overlap_mm, sign, shift, cutting, carrying) for sign in (-1.0, 1.0))
    leans = [held.reach_mm * math.tan(held.tilt_rad) for held in carrying]
    radial = shift + math.fsum(leans)
    likely = math.hypot(swing_mm, *leans, *(size for held in carrying for _, size in held.shifts))
    backlash = Backlash(geometry.backlash_mm, least, most, rss, tuple(kept))
    return BacklashBudget(backlash, distance - likely, distance - radial, distance + radial, swing_mm)


def _tilted_mm(held: Carrying, overlap_mm: float, angle_rad: float) -> float:
    return math.tan(held.tilt_rad) * math.hypot(2.0 * held.reach_mm * math.tan(angle_rad), overlap_mm)


def _worst_mm(
    geometry: MeshGeometry,
    overlap_mm: float,
    sign: float,
    shift_mm: float,
    cutting: tuple[Cutting, Cutting],
    carrying: tuple[Carrying, Carrying],
) -> float:
    """Backlash on the working circle with the axes `shift_mm` nearer (sign -1) or farther (1) and every other error the same way.

    Between two centre distances the normal backlash changes by (db1 + db2)(inv aw' − inv aw), derived. Nearer than the base circles
    allow there is no mesh: there the centres at which they touch count.
    """
    aw, bases = geometry.working_angle_rad, geometry.centre_distance_mm * math.cos(geometry.working_angle_rad)
    at = pressure_angle_at(geometry.centre_distance_mm + sign * shift_mm, bases)
    normal = geometry.backlash_mm * math.cos(aw) + 2.0 * bases * (involute(at) - involute(aw))
    normal += sign * 2.0 * sum(item.profile_offset_mm + item.run_out_mm / 2.0 for item in cutting)
    return normal / math.cos(at) + sign * sum(_tilted_mm(held, overlap_mm, at) for held in carrying)
