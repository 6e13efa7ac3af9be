"""An insert that may hardly tilt before its gear's mesh binds."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import up_text
from trivet.checks._train import mesh_place
from trivet.checks.mesh_binds import STEP_MM, binds
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Backlash, Derived, MeshState
from trivet.source import Origin

RULE = Rule(
    "insert-not-square",
    "note",
    "an insert that carries a gear may tilt by less than 0.5 deg before the other errors and the tilt together use up the backlash",
    "a gear that is carried by an insert leans with it; half a degree is what a guide block leaves",
    "derived: root sum of squares as in `mesh-binds`, solved for the tilt; the 0.5 deg are common practice, no source",
    failing="""
-   backlash 0.5 mm
+   backlash 0.35 mm
- inserts guide_block
+   inserts drill_press
""",
    passing="""
-   backlash 0.5 mm
+   backlash 0.4 mm
- inserts guide_block
+   inserts drill_press
""",
)

LEAST_DEG = 0.5
TILT = "insert tilt of"


def tolerated_deg(backlash: Backlash, tilt_deg: float) -> float | None:
    """The tilt of its inserts, degrees, at which the root sum of squares reaches the nominal backlash; None where tilt takes nothing.

    With s the tilt's shares and o the others: nominal² = Σ o² + (tan t/tan tilt)² Σ s². 0 where the others alone take it all.
    """
    tilts = math.fsum(rss**2 for what, _, rss in backlash.contributors if what.startswith(TILT))
    others = math.fsum(rss**2 for what, _, rss in backlash.contributors if not what.startswith(TILT))
    if tilts <= 0.0 or tilt_deg <= 0.0:
        return None
    left = max(0.0, max(backlash.nominal_mm, 0.0) ** 2 - others)
    return math.degrees(math.atan(math.sqrt(left / tilts) * math.tan(math.radians(tilt_deg))))


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each foot set with the least tilt of its meshes. Where a mesh binds already, `mesh-binds` says so."""
    feet = {foot.gear: foot for foot in derived.feet}
    worst: dict[str, tuple[float, MeshState, tuple[str, ...]]] = {}
    for mesh in derived.train.meshes:
        carried = [feet[name] for name in (mesh.a, mesh.b) if name in feet and feet[name].foot.insert is not None]
        # A guide bore bounds the tilt, and not the insert.
        if not carried or binds(mesh) or any(foot.foot.guide is not None for foot in carried):
            continue
        tilt = tolerated_deg(mesh.backlash, design.shop.insert_tilt_deg)
        if tilt is None or tilt >= LEAST_DEG - 1e-9:
            continue
        for foot in carried:
            name = foot.foot.name.text
            least, at, parts = worst.get(name, (math.inf, mesh, ()))
            worst[name] = (*((tilt, mesh) if tilt < least else (least, at)), (*parts, foot.id))
    names: dict[str, Origin | None] = {item.name.text: item.name.origin for item in design.feet}
    for name, (tilt, mesh, parts) in worst.items():
        which = f" `{derived.train.gear(mesh.b).gear.tooth_form}`" if len(design.tooth_forms) > 1 else ""
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"an insert of `{name}` may tilt by {tilt:.2f} deg before `{mesh.a}` and `{mesh.b}` have no backlash left;"
            f" {LEAST_DEG:g} deg is soon reached",
            place(names[name], mesh.mesh.origin),
            related((f"`{mesh.a}` and `{mesh.b}` mesh here", mesh_place(mesh))),
            f"`backlash {_backlash(design, derived, mesh)}` in the tooth form{which}, or a guide bore over the insert",
            tuple(dict.fromkeys(parts)),
        )


def _backlash(design: Design, derived: Derived, mesh: MeshState) -> str:
    """What the tooth form of a mesh would have to state for inserts that lean by as much as is soon reached; see `tolerated_deg`."""
    tilts = math.fsum(rss**2 for what, _, rss in mesh.backlash.contributors if what.startswith(TILT))
    others = math.fsum(rss**2 for what, _, rss in mesh.backlash.contributors if not what.startswith(TILT))
    more = math.tan(math.radians(LEAST_DEG)) / math.tan(math.radians(design.shop.insert_tilt_deg))
    form = next(item for item in design.tooth_forms if item.name == derived.train.gear(mesh.b).gear.tooth_form)
    return up_text(form.backlash.mm + math.sqrt(others + more**2 * tilts) - mesh.backlash.nominal_mm, design.units, STEP_MM, 0.002)
