"""What other tips or other profile shifts would do to the contact of a gear's meshes: a remedy is not given that lets teeth slip."""

from __future__ import annotations

import math
from collections.abc import Collection

from trivet.record import replace
from trivet.solve.derived import Derived, MeshState
from trivet.solve.gear_size import ToothGeometry
from trivet.solve.mesh_geometry import mesh_geometry

# Of `teeth-slip`, which says where it is from.
LEAST_RATIO, WANTED_RATIO = 1.0, 1.2
WANTED_DEPTH_MODULES = 1.2
SHIFT_STEP = 0.01


def slips(mesh: MeshState, module_mm: float) -> bool:
    """Whether the mesh keeps too few pairs of teeth in contact, or too little depth, at its widest centres."""
    return mesh.contact_ratio_min < WANTED_RATIO or mesh.working_depth_min_mm < WANTED_DEPTH_MODULES * module_mm


def shortened_still_mesh(derived: Derived, names: Collection[str], more_mm: float) -> bool:
    """Whether all gears of the tooth forms of `names` may have their tips shortened by `more_mm` and no mesh slips at its widest."""
    forms = {derived.train.gear(name).gear.tooth_form.text for name in names}
    for mesh in derived.train.meshes:
        pair = [derived.train.gear(name) for name in (mesh.a, mesh.b)]
        if not any(state.gear.tooth_form.text in forms for state in pair):
            continue
        teeth = [_shorter(state.geometry, more_mm) if state.gear.tooth_form.text in forms else state.geometry for state in pair]
        after = mesh_geometry(teeth[0], teeth[1], mesh.centre_distance_most_mm)
        if after is None or after.contact_ratio < WANTED_RATIO or after.working_depth_mm < WANTED_DEPTH_MODULES * teeth[0].module_mm:
            return False
    return True


def largest_shift(teeth: ToothGeometry, least_land_mm: float) -> float | None:
    """The largest profile shift below the present one, from 0 up in steps of 0.01, that leaves the tips their thickness; or None."""
    for hundredths in range(math.ceil(teeth.profile_shift / SHIFT_STEP - 1e-9) - 1, -1, -1):
        shift = round(hundredths * SHIFT_STEP, 4)
        if replace(teeth, profile_shift=shift).tip_land_mm >= least_land_mm:
            return shift
    return None


def _shorter(teeth: ToothGeometry, by_mm: float) -> ToothGeometry:
    return replace(teeth, tip_shortening_mm=teeth.tip_shortening_mm + by_mm)
