"""A bolt that has to be cut from a longer one."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._bolts import alike, origin_of, parts_of, row_of, sold_as, sold_text
from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.solve.derived import Derived
from trivet.units import told_text, two_lengths

RULE = Rule(
    "bolt-not-sold",
    "note",
    "a bolt in a length that is not sold: a longer one is bought and cut",
    "a length on paper that no shop has stops the work at the bench, and a length rounded in silence does not fit",
    "derived: longest stack <= L <= shortest stack with its room; the lengths sold are the library's, look before you order",
    failing="""
+ # From 27.1 to 27.7 mm the drive's bolt fits: 30 mm are bought and cut.
""",
    passing="""
- bolt ISO 4762, head recessed 9 mm
+   bolt ISO 4762, head recessed 6.4 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each group of bolts alike. Rods are always cut and are no finding."""
    for name, bolts in alike(derived):
        bolt = bolts[0]
        foot = isinstance(bolt.of, Foot)
        if bolt.buy_mm is None or bolt.cut_to_mm is None or not (bolt.fits or foot):
            continue
        buy, cut = sold_text(bolt, bolt.buy_mm), told_text(bolt.cut_to_mm, design.units)
        if bolt.stated_mm is not None:
            which = f"in a length of {cut}"
        else:
            least, most = two_lengths(bolt.least_mm, bolt.most_mm, design.units)
            which = f"between {least} and {most} long"
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"no {sold_as(bolt)} {which} is sold for `{name}`: buy {buy} and cut it to {cut}",
            place(origin_of(bolt), bolt.of.origin),
            related=related(("the lengths that are sold", row_of(bolt))),
            remedy=bolt.remedy
            or f"saw {told_text(bolt.buy_mm - bolt.cut_to_mm, design.units)} off, with a nut on the thread first",
            parts=parts_of(bolts),
        )
