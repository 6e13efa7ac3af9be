"""Backlash of a mesh with the shop's errors: nominal, worst case and root-sum-square."""

from __future__ import annotations

import math
from collections.abc import Iterable

from trivet.record import record
from trivet.solve.derived import Backlash
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
    """The backlash, and the tightest and widest working centre distance that the same errors allow (mm)."""

    backlash: Backlash
    centre_distance_least_mm: float
    centre_distance_most_mm: float


def backlash_budget(
    a: str, b: str, geometry: MeshGeometry, overlap_mm: float, cutting: tuple[Cutting, Cutting], carrying: tuple[Carrying, Carrying]
) -> BacklashBudget:
    """All contributors as plus or minus a share of backlash on the working circle.

    A radial shift d of an axis gives d (2 tan aw + j/A), the derivative of the exact backlash by the centre distance. A
    profile error q on each of four flanks gives 4 q/cos aw (the normal backlash changes by 4 q exactly): one error
    where one cutter on one machine cuts both gears, else two of half that. Run-out r widens every cut by r at most, r/2
    a flank. An insert's tilt gives tan τ √((2 ℓ tan aw)² + b²), b the overlap. Worst case adds the shares, the other
    adds their squares. Moisture is left out.
    """
    aw, distance = geometry.working_angle_rad, geometry.centre_distance_mm
    per_mm = 2.0 * math.tan(aw) + geometry.backlash_mm / distance
    found: list[tuple[str, float]] = []
    radial = 0.0
    for name, held in zip((a, b), carrying, strict=True):
        found += [(f"{what} of `{name}`", shift * per_mm) for what, shift in held.shifts]
        radial += sum(shift for _, shift in held.shifts) + held.reach_mm * math.tan(held.tilt_rad)
        tilted = math.tan(held.tilt_rad) * math.hypot(2.0 * held.reach_mm * math.tan(aw), overlap_mm)
        found.append((f"insert tilt of `{name}`", tilted))
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
    return BacklashBudget(_added(geometry.backlash_mm, found), distance - radial, distance + radial)


def _added(nominal: float, found: Iterable[tuple[str, float]]) -> Backlash:
    kept = sorted(((what, share, share) for what, share in found if share > 0.0), key=lambda c: (-c[1], c[0]))
    worst = math.fsum(share for _, share, _ in kept)
    rss = math.sqrt(math.fsum(share**2 for _, _, share in kept))
    return Backlash(nominal, nominal - worst, nominal + worst, rss, tuple(kept))
