"""Contours that a cutting service would refuse."""

from __future__ import annotations

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
        layer = (cut.part.part, feature.face, feature.depth_mm)
        if isinstance(shape, Contour):
            yield from _faults(shape, feature.title, cut.span, cut.names)
            layers.setdefault(layer, []).append(cut)
        elif isinstance(shape, Round):
            key = (*layer, round(shape.x_mm, 3), round(shape.y_mm, 3), round(shape.diameter_mm, 3))
            if (other := rounds.setdefault(key, cut)) is not cut:
                yield _twice(other, cut)
    for cuts in layers.values():
        for one, two in duplicate_contours([c.feature.shape for c in cuts if isinstance(c.feature.shape, Contour)]):
            yield _twice(cuts[one], cuts[two])


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
