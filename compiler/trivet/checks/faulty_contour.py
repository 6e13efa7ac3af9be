"""Contours that a cutting service would refuse."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._cuts import Cut, cuts_of, part_places, quoted
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.contour import Contour
from trivet.solve.contour_faults import FaultKind, contour_faults, duplicate_contours
from trivet.solve.derived import Derived
from trivet.solve.feature import Round
from trivet.solve.parts import part_features
from trivet.source import Span
from trivet.units import length_text

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
REMEDIES: dict[FaultKind, str] = {
    "not-finite": "write every point of the outline as a number",
    "too-few-points": "give the outline three points or more, or an arc",
    "points-too-close": "leave one of the two points out",
    "no-area": "give the outline points that do not lie on one line",
    "crosses-itself": "list its points in the order in which a pencil goes round it once, and keep its sides apart",
}


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
        yield from _faults(part.outline, part.outline_title, place(at.get(whole.partition(".")[0]), design.origin), (whole,), design.units)
    layers: dict[tuple[str, str, float | None], list[Cut]] = {}
    rounds: dict[tuple[str, str, float | None, float, float, float], Cut] = {}
    for cut in cuts_of(design, derived):
        feature, shape = cut.feature, cut.feature.shape
        # What goes through is cut once, whichever face it is cut from.
        layer = (cut.part.part, feature.face if feature.depth_mm is not None else "", feature.depth_mm)
        circle = shape if isinstance(shape, Round) else None
        if isinstance(shape, Contour):
            yield from _faults(shape, feature.title, cut.span, cut.names, design.units)
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


def _faults(contour: Contour, title: str, span: Span | None, names: tuple[str, ...], unit: str) -> Iterator[Diagnostic]:
    what, comma, size = title.partition(", ")
    for fault in contour_faults(contour):
        message = f"the {quoted(what)}{comma}{size}: {fault.words}"
        if fault.kind == "crosses-itself":
            x, y = (length_text(mm, unit).partition(" ")[0] for mm in (fault.x_mm, fault.y_mm))
            message = f"the {quoted(what)}{comma}{size}, crosses or touches itself near ({x}, {y}) {'mm' if unit == 'mm' else 'in'}"
        yield Diagnostic(RULE.slug, RULE.severity, message, span, (), REMEDIES[fault.kind], names)


def _twice(one: Cut, other: Cut) -> Diagnostic:
    return Diagnostic(
        RULE.slug,
        RULE.severity,
        f"the {quoted(other.title)} lies on the {quoted(one.title)}: the same place would be cut twice",
        other.span,
        related((f"the {quoted(one.title)}", one.span)),
        "leave one of them out",
        (*other.names[:-1], *one.names),
    )
