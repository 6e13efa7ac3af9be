"""Words on the chance that a train binds, which the rule and the requirement share."""

from __future__ import annotations

import math

from trivet.checks._check import related
from trivet.checks.mesh_binds import STEP_MM
from trivet.diagnostics import Label
from trivet.model.design import Design
from trivet.solve.binding import Binding
from trivet.solve.binding_words import chance_words, percent_words, remedies_words, risk_words
from trivet.solve.derived import Derived
from trivet.units import length_text


def drawn_words(found: Binding) -> str:
    """`8.27 percent of 100000 drawn, seed 20`, in brackets after the words."""
    return f"{percent_words(found.chance or 0.0)} of {found.draws} drawn, seed {found.seed}"


def binding_labels(design: Design, derived: Derived, found: Binding) -> tuple[Label, ...]:
    """The likeliest mesh, and where each tooth form states its backlash."""
    (worst, chance), meshes = found.meshes[0], {mesh.id: mesh for mesh in derived.train.meshes}
    mesh = meshes[worst]
    alone = f"`{mesh.a}` and `{mesh.b}`, the likeliest to bind, do so in {chance_words(chance)}"
    return related(
        (alone, mesh.mesh.b.origin or mesh.mesh.origin),
        *((f"the tooth form `{form.name}` states {form.backlash}", form.backlash.origin) for form in design.tooth_forms),
    )


def binding_remedy(design: Design, found: Binding, limit: float) -> str:
    """How much more backlash brings the chance under the limit, and what other cures give."""
    more = found.more_backlash_mm(limit)
    text = f"{length_text(more, design.units)} more backlash in every tooth form brings it to at most {percent_words(limit)}"
    if len(design.tooth_forms) == 1:
        (form,) = design.tooth_forms
        wanted = length_text(math.ceil((form.backlash.mm + more) / STEP_MM - 1e-9) * STEP_MM, design.units)
        text = f"`backlash {wanted}` in the tooth form brings it to at most {percent_words(limit)}"
    others = remedies_words(found, without=("backlash",))
    shares = risk_words(found)
    return "; ".join((text, *others, *((shares,) if shares else ())))
