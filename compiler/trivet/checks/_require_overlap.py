"""The requirement on the face overlap of meshes in which one gear slides, at the worst combination of sheets."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._remedy import WORST, length_of, worst_travel_mm
from trivet.checks._require import met, side_of, too_great, unit_of, unmet
from trivet.checks._round import up_text
from trivet.diagnostics import Diagnostic
from trivet.model.design import Design
from trivet.model.intent import Require
from trivet.solve.derived import Derived, Lift, MeshState
from trivet.solve.solve import solve_heights
from trivet.units import length_text


def unmet_overlap(require: Require, design: Design, derived: Derived, lift: Lift) -> Iterator[Diagnostic]:
    """The mesh with the least overlap (with the most, where the requirement has an upper side)."""
    known = [(mesh.overlap_worst_mm, mesh) for mesh in derived.train.meshes if mesh.slides and mesh.overlap_worst_mm is not None]
    if not known:
        return
    pick = max if require.low is None else min
    value, mesh = pick(known, key=lambda item: (item[0], item[1].id))
    if met(require, value):
        return
    upper = too_great(require, value)
    labels = related((f"`{mesh.a}` and `{mesh.b}` mesh here; one slides along the other as the board rises", mesh.mesh.origin))
    remedy = "leave the upper side out: teeth that share more face only last longer" if upper else ""
    if not upper and derived.try_changes:
        remedy = _kept(require, design, derived, mesh, value)
    what = f"face overlap of `{mesh.a}` and `{mesh.b}`"
    yield unmet(require, design, what, value, side_of(require, upper), labels, remedy, (mesh.id, mesh.a, mesh.b), where=WORST, upper=upper)


def _kept(require: Require, design: Design, derived: Derived, mesh: MeshState, now_mm: float) -> str:
    """The overlap stated with the tooth form ends the travel earlier; how much travel that leaves. `now_mm`: what the mesh has."""
    form = derived.train.gear(mesh.a).gear.tooth_form.text
    unit = unit_of(require, design)
    wanted = side_of(require, False)
    least = length_of(wanted)
    forms = tuple(
        item.model_copy(update={"face_overlap": least}) if item.name.text == form else item for item in design.tooth_forms
    )
    after = solve_heights(design.model_copy(update={"tooth_forms": forms}), derived.train)
    kept = next(item.overlap_worst_mm for item in after.train.meshes if item.id == mesh.id)
    text = length_text(least.mm, unit)
    if after.lift is not None and worst_travel_mm(after.lift) > 0.0 and kept is not None and met(require, kept):
        left = length_text(worst_travel_mm(after.lift), unit)
        return f"`face_overlap {text}` in the tooth form `{form}` keeps it and leaves {left} of travel {WORST}"
    lacking = up_text(wanted - now_mm, unit)
    return f"a fixed gear thicker by {lacking}, with feet that stand out as much more, keeps it over this travel"
