"""A cutter that does not reach as deep as it is to cut."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._cutter_uses import CutterUse, cutter_uses
from trivet.checks._round import up_told
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.units import two_lengths

RULE = Rule(
    "cutter-too-short",
    "error",
    "a cut is deeper than its cutter reaches, at the thickest of the sheet; a cutter whose reach is not stated is not judged",
    "the shank rubs and burns the edge, or the part is not cut free",
    "derived: layers are cut one by one and every cut from one face, so none is deeper than the sheet at its thickest",
    failing="""
-   reach 25 mm
+   reach 17.9 mm
""",
    passing="""
-   reach 25 mm
+   reach 18 mm
""",
)

SAME_MM = 1e-6


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a cutter."""
    reaches = {cutter.name.text: cutter.reach for cutter in design.cutters if cutter.reach is not None}
    short: dict[str, list[CutterUse]] = {}
    for use in cutter_uses(design):
        if use.cutter in reaches and use.depth_mm > reaches[use.cutter].mm + SAME_MM:
            short.setdefault(use.cutter, []).append(use)
    for name, uses in short.items():
        reach, deepest = reaches[name], max(use.depth_mm for use in uses)
        has, needs = two_lengths(reach.mm, deepest, design.units)
        names = tuple(dict.fromkeys(use.name.text for use in uses))
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the cutter `{name}` reaches {has}; {named(names)} {'need' if len(names) > 1 else 'needs'} up to {needs}",
            place(reach.origin),
            (),
            f"a cutter that reaches {up_told(deepest, design.units, 0.1, 0.01)} or more",
            # Of several parts none is accepted alone: they have one cause.
            (name, *names) if len(names) == 1 else (name,),
        )
