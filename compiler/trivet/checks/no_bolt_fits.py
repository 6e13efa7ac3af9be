"""A stack that no bolt or screw fits, not even one cut to length."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._bolts import SAME_MM, alike, is_wood_screw, origin_of, parts_of, row_of, sold_as, sold_text
from trivet.checks._check import place, related
from trivet.checks._round import up_told
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.solve.derived import BoltChoice, Derived
from trivet.units import length_text, two_lengths

RULE = Rule(
    "no-bolt-fits",
    "error",
    "a stack of sheets for which no length of bolt or screw does in every combination",
    "with thick sheets the bolt does not fill its nut, with thin ones it stands out and meets the bench",
    "derived: longest stack <= L <= shortest stack with its room; the lengths sold are the library's, look before you order",
    failing="""
- jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
+   jam_nut ISO 4035, below gear, recessed 3 mm, round 24 mm
""",
    passing="""
+ # Let in by 6 mm, the jam nut leaves room for a length that can be cut.
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each group of bolts alike whose length is not stated; and foot screws longer than any sold."""
    for name, bolts in alike(derived):
        bolt = bolts[0]
        foot = isinstance(bolt.of, Foot)
        if (
            bolt.buy_mm is not None
            or (isinstance(bolt.of, Foot) and bolt.of.screw is None)
            or (bolt.stated_mm is not None and not (foot or bolt.fits))
        ):
            continue
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"no {sold_as(bolt)} fits `{name}`: {_why(design, bolt)}",
            place(origin_of(bolt), bolt.of.origin),
            related=related(("the lengths that are sold", row_of(bolt))),
            remedy=_remedy(design, bolt),
            parts=parts_of(bolts),
        )


def _why(design: Design, bolt: BoltChoice) -> str:
    longest = max(bolt.stock_mm, default=0.0)
    if bolt.stated_mm is not None:
        return f"{length_text(bolt.stated_mm, design.units)} is stated, the longest sold is {sold_text(bolt, longest)}"
    least, most = two_lengths(bolt.least_mm, bolt.most_mm, design.units)
    if bolt.least_mm > bolt.most_mm + SAME_MM:
        return f"the longest stack takes {least}, but only {most} fits the shortest, whose room ends at {bolt.room_ends_at}"
    sold = ", ".join(sold_text(bolt, mm) for mm in _around(bolt))
    return (
        f"{least} to {most} is wanted"
        + (f", {sold} are sold" if sold else "")
        + (", and it is not cut" if is_wood_screw(bolt) else "")
    )


def _remedy(design: Design, bolt: BoltChoice) -> str:
    lacking = bolt.least_mm - bolt.most_mm
    if is_wood_screw(bolt) and lacking > SAME_MM:
        return f"a board thicker by {up_told(lacking, design.units)}, or a thinner screw"
    if isinstance(bolt.of, Foot) and bolt.stock_mm:
        return f"`length {sold_text(bolt, max(bolt.stock_mm))}` is the longest; or a rod, which is cut to length"
    return bolt.remedy or "a thinner stack, or a thread that is sold longer"


def _around(bolt: BoltChoice) -> tuple[float, ...]:
    """The lengths sold next below and next above what is wanted."""
    below = [mm for mm in bolt.stock_mm if mm < bolt.least_mm]
    above = [mm for mm in bolt.stock_mm if mm > bolt.most_mm]
    return (*below[-1:], *above[:1])
