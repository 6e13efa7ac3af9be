"""Contours that a cutting service would refuse."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._cuts import Cut, cuts_of, part_places
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.contour import Contour
from trivet.solve.contour_faults import contour_faults, duplicate_contours
from trivet.solve.derived import Derived
from trivet.solve.feature import Round
from trivet.solve.parts import part_features
from trivet.source import Span

RULE = Rule(
    "faulty-contour",
    "error",
    "a contour to be cut crosses itself, encloses nothing, has points on one another, or lies on another of its face and depth",
    "cutting services refuse such drawings, or cut the same place twice",
    "common practice, no source: what services list as reasons to refuse a file",
    failing="""
+ 
+ hole peg
+   into deck
+   diameter 12 mm
+   at (240, 40) mm
+   at (240, 40) mm
""",
    passing="""
+ 
+ hole peg
+   into deck
+   diameter 12 mm
+   at (240, 40) mm
+   at (240, 60) mm
""",
)

# Looks at the shapes themselves, which is slow: `compile` and `check --full` run it.
FULL_ONLY = True


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Outer edges and inner contours by themselves, then cuts of one face and depth against each other."""
    at = part_places(design)
    states = {state.id: state for state in derived.train.gears}
    alike: set[object] = set()
    for part in part_features(design, derived):
        whole = part.belongs_to or part.part
        if part.kind == "gear":
            # Equal gears have one outline, turned: it is looked at once.
            teeth = (states[whole].geometry, states[whole].cutter_diameter_mm)
            if teeth in alike:
                continue
            alike.add(teeth)
        yield from _faults(part.outline, part.outline_title, place(at.get(whole.partition(".")[0]), design.origin), (whole,))
    layers: dict[tuple[str, str, float | None], list[Cut]] = {}
    rounds: dict[tuple[str, str, float | None, float, float, float], Cut] = {}
    for cut in cuts_of(design, derived):
        feature, shape = cut.feature, cut.feature.shape
        # What goes through is cut once, whichever face it is cut from.
        layer = (cut.part.part, feature.face if feature.depth_mm is not None else "", feature.depth_mm)
        circle = shape if isinstance(shape, Round) else None
        if isinstance(shape, Contour):
            yield from _faults(shape, feature.title, cut.span, cut.names)
            circle = _circle(shape)
            if circle is None:
                layers.setdefault(layer, []).append(cut)
        if circle is not None:
            key = (*layer, round(circle.x_mm, 3), round(circle.y_mm, 3), round(circle.diameter_mm, 3))
            if (other := rounds.setdefault(key, cut)) is not cut:
                yield _twice(other, cut)
    for cuts in layers.values():
        for one, two in duplicate_contours([c.feature.shape for c in cuts if isinstance(c.feature.shape, Contour)]):
            yield _twice(cuts[one], cuts[two])


def _circle(contour: Contour) -> Round | None:
    """The circle that an outline of arcs is, if it is one: no other shape fills as much of its square."""
    x0, y0, x1, y1 = contour.bounds
    wide, high = x1 - x0, y1 - y0
    round_all = all(segment.is_arc for segment in contour.segments())
    if not round_all or abs(wide - high) > 1e-6 or abs(abs(contour.area_mm2) - math.pi * wide * high / 4.0) > 1e-6 * wide * high:
        return None
    return Round((x0 + x1) / 2.0, (y0 + y1) / 2.0, wide)


def _faults(contour: Contour, title: str, span: Span | None, names: tuple[str, ...]) -> Iterator[Diagnostic]:
    for fault in contour_faults(contour):
        yield Diagnostic(RULE.slug, RULE.severity, f"{title}: {fault.words}", span, (), "mend the outline", names)


def _twice(one: Cut, other: Cut) -> Diagnostic:
    return Diagnostic(
        RULE.slug,
        RULE.severity,
        f"the {other.title} lies on the {one.title}: the same place would be cut twice",
        other.span,
        related((f"the {one.title}", one.span)),
        "leave one of them out",
        (*other.names[:-1], *one.names),
    )
