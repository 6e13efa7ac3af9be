"""Little wood between what is cut in a gear and the roots of its teeth."""

from __future__ import annotations

import math
from collections.abc import Hashable, Iterator

from trivet.checks._cuts import Cut, cuts_of, quoted
from trivet.checks._equal import also_here, grouped, too
from trivet.checks._train import named
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived
from trivet.solve.feature import Round
from trivet.solve.gear_size import ToothGeometry
from trivet.units import length_text, two_lengths

RULE = Rule(
    "thin-gear-rim",
    "warning",
    "less than 6 mm or two modules of wood, whichever is more, between a bore or recess and the root circle; under 2 mm is an error",
    "teeth break out of a thin rim, and a bore that is pressed or knocked splits it",
    "common practice, no source (metal practice asks for 1.2 tooth heights, from memory)",
    failing="""
- jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
+   jam_nut ISO 4035, below gear, recessed 6 mm, round 60 mm
""",
    passing="""
- jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
+   jam_nut ISO 4035, below gear, recessed 6 mm, round 50 mm
""",
)

LEAST_MM = 2.0
WANTED_MM = 6.0
WANTED_MODULES = 2.0


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for equal gears, at their widest cut; openings of a web keep their rim by construction."""
    states = {state.id: state for state in derived.train.gears}
    widest: dict[str, tuple[float, Cut]] = {}
    for cut in cuts_of(design, derived):
        reach = _reach(cut)
        if cut.whole in states and cut.feature.operation != "opening" and reach > widest.get(cut.whole, (0.0, cut))[0]:
            widest[cut.whole] = (reach, cut)
    thin: list[tuple[Hashable, tuple[str, float, Cut]]] = []
    for name, (reach, cut) in widest.items():
        teeth = states[name].geometry
        if teeth.root_radius_mm - reach < _wanted(teeth) - 1e-9:
            thin.append(((round(reach, 6), teeth.root_radius_mm, cut.title.removesuffix(f".{name}")), (name, reach, cut)))
    for gears in grouped(thin):
        name, reach, cut = gears[0]
        teeth = states[name].geometry
        wanted = _wanted(teeth)
        rim = teeth.root_radius_mm - reach
        asked = LEAST_MM if rim < LEAST_MM else wanted
        has, least = two_lengths(rim, asked, design.units)
        yield Diagnostic(
            RULE.slug,
            "error" if rim < LEAST_MM else "warning",
            f"the rim between the {quoted(cut.title)} and the roots of {named([name])} is {has}; at least {least} is"
            f" {'required' if rim < LEAST_MM else 'wanted'}{too(other for other, _, _ in gears[1:])}",
            cut.span,
            also_here((other, held.span) for other, _, held in gears if held.span != cut.span),
            f"a cut of {length_text(2.0 * max(teeth.root_radius_mm - wanted, 0.0), design.units)} across or less, or more teeth",
            tuple(other for other, _, _ in gears),
        )


def _wanted(teeth: ToothGeometry) -> float:
    return max(WANTED_MM, WANTED_MODULES * teeth.module_mm)


def _reach(cut: Cut) -> float:
    shape = cut.feature.shape
    if isinstance(shape, Round):
        return math.hypot(shape.x_mm, shape.y_mm) + shape.diameter_mm / 2.0
    return max((math.hypot(v.x, v.y) for v in shape.vertices), default=0.0) if isinstance(shape, Contour) else 0.0
