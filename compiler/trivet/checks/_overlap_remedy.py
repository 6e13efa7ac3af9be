"""A stated face overlap that would leave more travel."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from trivet.checks._round import down_text
from trivet.checks._stroke import ends
from trivet.model.design import Design
from trivet.solve.derived import Derived, Lift
from trivet.units import Quantity, decimal_beside

# Less overlap than this is no mesh: the hard limit of the stroke, mm.
LEAST_MM = 1.0
# Room for rounding in the number that is offered, mm.
_ROOM_MM = 0.05


def less_overlap(design: Design, derived: Derived, lacking_mm: float, meets: Callable[[Lift], bool], gives: str = "reaches it") -> str:
    """The face overlap with which the travel would do, where parting teeth end it and the overlap is stated; tried before it is said."""
    from trivet.solve.solve import solve

    found = ends(derived) if derived.try_changes else None
    if found is None or not any(limit.cause == "teeth_part" and not limit.hard for limit in found):
        return ""
    forms = [
        form
        for form in design.tooth_forms
        if form.face_overlap is not None and form.face_overlap.mm - lacking_mm - _ROOM_MM >= LEAST_MM
    ]
    for form in forms:
        assert form.face_overlap is not None
        text = down_text(form.face_overlap.mm - lacking_mm, form.face_overlap.unit)
        number, unit = text.split(" ")
        whole, _, part = number.rpartition("-")
        eased = form.model_copy(update={"face_overlap": Quantity(Fraction(whole or "0") + Fraction(part), unit)})
        after = solve(
            design.model_copy(update={"tooth_forms": tuple(eased if item is form else item for item in design.tooth_forms)})
        )
        if after.lift is not None and meets(after.lift):
            return f"`face_overlap {text}`{decimal_beside(text)} in `{form.name}` {gives}"
    return ""
