"""Little wood between two cuts of a board, or between a cut and its edge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from trivet.checks._check import related
from trivet.checks._cuts import Cut, cuts_of
from trivet.checks._walls import (
    CHORD_MM,
    ROUGH_CHORD_MM,
    Point,
    edge_wall_mm,
    far_apart,
    far_inside,
    share_height,
    squares_of,
    wall_mm,
)
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived
from trivet.solve.feature import Round
from trivet.source import Origin
from trivet.units import length_text, two_lengths

RULE = Rule(
    "thin-wall",
    "error",
    "less than 2 mm of wood between two cuts of a board, or between a cut and its edge",
    "a thinner wall breaks out; two holes that run into each other hold nothing",
    "common practice, no source",
    failing="""
+ 
+ hole peg
+   into deck
+   diameter 12 mm
+   at (240, 7) mm
""",
    passing="""
+ 
+ hole peg
+   into deck
+   diameter 12 mm
+   at (240, 8) mm
""",
)

LEAST_MM = 2.0
_Labels = tuple[tuple[str, Origin | None], ...]


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each pair, and for each cut near the edge; only cuts that share a square are compared."""
    squares: dict[tuple[str, int, int], list[tuple[Cut, Round | Contour]]] = {}
    edges: dict[str, Sequence[Point]] = {}
    rough: dict[str, Sequence[Point]] = {}
    for cut in cuts_of(design, derived):
        shape = cut.feature.shape
        if cut.part.kind == "gear" or not isinstance(shape, (Round, Contour)):
            continue
        edge = edges.get(cut.part.part) or edges.setdefault(cut.part.part, cut.part.outline.points(CHORD_MM))
        coarse = rough.get(cut.part.part) or rough.setdefault(cut.part.part, cut.part.outline.points(ROUGH_CHORD_MM))
        left = None if far_inside(shape, coarse, LEAST_MM + ROUGH_CHORD_MM) else edge_wall_mm(shape, edge)
        if left is not None and left < LEAST_MM - 1e-9:
            yield _finding(design, cut, left, f"the edge of `{cut.whole}`", "breaks through the edge", (), cut.names)
        near: dict[int, tuple[Cut, Round | Contour]] = {}
        for square in squares_of(shape, LEAST_MM):
            there = squares.setdefault((cut.part.part, *square), [])
            near.update({id(item[0]): item for item in there})
            there.append((cut, shape))
        for other, second in near.values():
            wall = None if far_apart(shape, second, LEAST_MM) else wall_mm(shape, second)
            if wall is None or wall >= LEAST_MM - 1e-9 or not share_height(cut.feature, other.feature, cut.part.thickness.mean):
                continue
            label = (f"the {other.title}", other.span)
            yield _finding(design, cut, wall, f"the {other.title}", "run into each other", (label,), cut.names[:-1] + other.names)


def _finding(design: Design, cut: Cut, wall: float, other: str, joins: str, labels: _Labels, names: tuple[str, ...]) -> Diagnostic:
    has, least = two_lengths(max(wall, 0.0), LEAST_MM, design.units)
    deep = length_text(-wall, design.units)
    what = f"between the {cut.title} and {other} {has} of wood is left"
    if wall < 0.0:
        what = (
            f"the {cut.title} {joins} by {deep}" if joins.startswith("breaks") else f"the {cut.title} and {other} {joins} by {deep}"
        )
    return Diagnostic(
        RULE.slug,
        RULE.severity,
        f"{what}; at least {least} of wood is required",
        cut.span,
        related(*labels),
        f"move it {length_text(LEAST_MM - wall, design.units)} away, or make it smaller",
        names,
    )
