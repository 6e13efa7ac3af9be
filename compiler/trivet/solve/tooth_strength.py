"""Stress of a tooth when a foot jams while the drive is turned with a stated torque: an estimate. N, mm, N·mm, N/mm².

Lewis: one pair of teeth carries all, the force acts at the tip: bending W/(F m Y). Nothing is lost on the way, all of the torque goes into
the one foot that jams, and a profile shift is left out. No allowable stress of plywood teeth is published: the library's is an assumption.
"""

from __future__ import annotations

import bisect
import itertools
import math

from trivet.model.design import Design
from trivet.model.train import Drive
from trivet.record import record
from trivet.solve.derived import Derived, GearState, MeshState
from trivet.solve.library_figures import TOOTH_ALLOWABLES, UNKNOWN_TOOTH
from trivet.source import Origin

# What a small cordless driver gives when it stalls (common practice, no source).
DRIVER_NMM = 20_000.0
# (teeth, Y), 20° full depth: Shigley, Mechanical Engineering Design, table 14-2 (from memory; other books differ by 0.003).
LEWIS_20 = (
    (12, 0.245), (13, 0.261), (14, 0.277), (15, 0.290), (16, 0.296), (17, 0.303), (18, 0.309), (19, 0.314), (20, 0.322), (21, 0.328),
    (22, 0.331), (24, 0.337), (26, 0.346), (28, 0.353), (30, 0.359), (34, 0.371), (38, 0.384), (43, 0.397), (50, 0.409), (60, 0.422),
    (75, 0.435), (100, 0.447), (150, 0.460), (300, 0.472), (400, 0.480),
)  # fmt: skip
LEWIS_SOURCE = "Lewis form factor: Shigley, Mechanical Engineering Design, table 14-2, from memory"
# With fewer teeth neither table nor closed form means anything.
FEWEST_TEETH = 8
# Peak over mean shear of a rectangle.
SHEAR_PEAK = 1.5


@record
class ToothLoad:
    """One gear in one mesh: force along the working line's tangent, face that carries, form factor, stresses and what is allowed of them."""

    gear: str
    mate: str
    mesh: str
    force_n: float
    face_mm: float
    form_factor: float
    bending: float
    shear: float
    bending_allowed: float
    shear_allowed: float
    material: str

    @property
    def share(self) -> float:
        """Used share of what is allowed, of the worse of the two."""
        return max(self.bending / self.bending_allowed, self.shear / self.shear_allowed)


@record
class Strength:
    """At `torque_nmm` at the drive (`torque_source`, `torque_origin`). `teeth`: the most used first; `clutch_nmm`: the torque at which
    the first of them reaches what is allowed; `not_judged`: gears of a material or a tooth that nothing is known of.
    """

    torque_nmm: float
    torque_source: str
    torque_origin: Origin | None
    teeth: tuple[ToothLoad, ...]
    clutch_nmm: float
    not_judged: tuple[str, ...]


def lewis_form_factor(teeth: int, pressure_angle_deg: float) -> float | None:
    """Y of a full-depth tooth loaded at its tip. Under 20° the 14.5° form stands, π(0.124 − 0.684/z) (from memory); from 20° on that of
    20°, which is too low for steeper teeth. Under 12 teeth the closed form π(0.154 − 0.912/z), which meets the table at 12.
    """
    if teeth < FEWEST_TEETH:
        return None
    if pressure_angle_deg < 20.0 - 1e-9:
        return math.pi * (0.124 - 0.684 / teeth)
    if teeth < LEWIS_20[0][0]:
        return math.pi * (0.154 - 0.912 / teeth)
    at = bisect.bisect(LEWIS_20, teeth, key=lambda row: row[0])
    if at == len(LEWIS_20):
        return LEWIS_20[-1][1]
    low, high = LEWIS_20[at - 1], LEWIS_20[at]
    # Y is nearly straight in 1/z.
    part = (1 / low[0] - 1 / teeth) / (1 / low[0] - 1 / high[0])
    return low[1] + part * (high[1] - low[1])


def lewis_bending(force_n: float, face_mm: float, module_mm: float, form_factor: float) -> float:
    """Bending stress at the root, N/mm²: W / (F m Y) (Jindal, Machine Design, example 25-3, by a published copy)."""
    return force_n / (face_mm * module_mm * form_factor)


def driver_torque(drive: Drive | None) -> tuple[float, str, Origin | None]:
    """(N·mm, source, place) of what turns the drive: as stated, else a small driver's stall."""
    if drive is not None and drive.driver_torque is not None:
        return float(drive.driver_torque.base) * 1000.0, "stated", drive.driver_torque.origin
    return DRIVER_NMM, "a small cordless driver that stalls: common practice, no source", None


def strength_of(design: Design, derived: Derived) -> Strength | None:
    """None where the drive turns no foot through a mesh."""
    drive = next((state.drive for state in derived.drives), None)
    torque, source, origin = driver_torque(drive)
    found: list[ToothLoad] = []
    unknown: set[str] = set()
    materials = _materials(design)
    for mesh, first in _meshes_to_feet(derived):
        for gear, mate in ((mesh.a, mesh.b), (mesh.b, mesh.a)):
            load = _load(derived, mesh, first, gear, mate, torque, materials[gear])
            if load is None:
                unknown.add(gear)
            else:
                found.append(load)
    if not found:
        return None
    teeth = tuple(sorted(found, key=lambda item: (-item.share, item.gear, item.mate)))
    return Strength(torque, source, origin, teeth, torque / teeth[0].share, tuple(sorted(unknown)))


def carrying_face_mm(mesh: MeshState, one: GearState, other: GearState) -> float:
    """Shared face at the end of the travel that has less of it, at mean sheets; the thinner gear where nothing slides."""
    shared = [mm for mm in (mesh.overlap_at_least_mm, mesh.overlap_at_most_mm) if mm is not None]
    return max(min(shared), 0.0) if shared else min(one.face_width.mean, other.face_width.mean)


def _meshes_to_feet(derived: Derived) -> list[tuple[MeshState, str]]:
    """Each mesh on the way from the drive to some foot, with its gear nearer to the drive."""
    by_pair = {frozenset((mesh.a, mesh.b)): mesh for mesh in derived.train.meshes}
    found: dict[str, tuple[MeshState, str]] = {}
    for foot in derived.feet:
        for one, other in itertools.pairwise(derived.train.gear(foot.gear).path):
            mesh = by_pair.get(frozenset((one, other)))
            if mesh is not None:
                found.setdefault(mesh.id, (mesh, one))
    return list(found.values())


def _load(
    derived: Derived, mesh: MeshState, first: str, gear: str, mate: str, torque: float, material: str
) -> ToothLoad | None:
    driver, state, other = derived.train.gear(first), derived.train.gear(gear), derived.train.gear(mate)
    form = lewis_form_factor(state.geometry.teeth, math.degrees(state.geometry.pressure_angle_rad))
    allowed = TOOTH_ALLOWABLES.get(material)
    face = carrying_face_mm(mesh, state, other)
    if form is None or allowed is None or not driver.speed or face <= 0.0 or state.geometry.thickness_mm <= 0.0:
        return None
    force = torque / float(driver.speed) / driver.geometry.pitch_radius_mm
    return ToothLoad(
        gear=gear,
        mate=mate,
        mesh=mesh.id,
        force_n=force,
        face_mm=face,
        form_factor=form,
        bending=lewis_bending(force, face, state.geometry.module_mm, form),
        shear=SHEAR_PEAK * force / (face * state.geometry.thickness_mm),
        bending_allowed=allowed[0],
        shear_allowed=allowed[1],
        material=material,
    )


def clutch_words(torque_nmm: float) -> str:
    """A torque to set, rounded down: `4.5 Nm`; two digits under 1 Nm."""
    step = 0.1 if torque_nmm >= 1000.0 else 0.01
    return f"{math.floor(torque_nmm / 1000.0 / step + 1e-9) * step:.{1 if step == 0.1 else 2}f} Nm"


def _materials(design: Design) -> dict[str, str]:
    """The row of allowables for each gear: a plywood that is not named or not known counts as the weakest."""
    sheets = {sheet.name.text: sheet for sheet in design.sheets}
    found = {}
    for gear in design.gears:
        stated = sheets[gear.stock.text].material
        name = stated.text if stated is not None else ""
        found[gear.name.text] = UNKNOWN_TOOTH if not name or (name.endswith("plywood") and name not in TOOTH_ALLOWABLES) else name
    return found
