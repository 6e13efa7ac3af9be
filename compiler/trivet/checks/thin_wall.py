"""Little wood between two cuts of a board, or between a cut and its edge."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence

from trivet.checks._check import related
from trivet.checks._cuts import Cut, cuts_of, quoted
from trivet.checks._equal import also_here, grouped
from trivet.checks._wall_remedy import wall_remedy
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
# Two cuts, or a cut and (None) the edge; the edge's points, and how much wood is left, mm.
Wall = tuple[Cut, Cut | None, Sequence[Point], float]


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for equal walls between cuts of two statements, or between those of one and the edge."""
    for walls in grouped((_alike(wall), wall) for wall in _walls(design, derived)):
        yield _finding(design, walls)


def _alike(wall: Wall) -> Hashable:
    cut, other, _, left = wall
    sets = tuple(_set_of(item) for item in (cut, other) if item is not None)
    return (cut.part.part, frozenset(sets), other is None, round(left, 3))


def _set_of(cut: Cut) -> str:
    """The title without the place's number: all cuts of one statement."""
    return cut.title.partition(".")[0]


def _walls(design: Design, derived: Derived) -> Iterator[Wall]:
    """Each wall that is too thin; only cuts that share a square are compared."""
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
        # Chords lie within a round edge: by so much a wall may seem thinner than it is.
        if left is not None and left < LEAST_MM - CHORD_MM:
            yield cut, None, edge, left
        near: dict[int, tuple[Cut, Round | Contour]] = {}
        for square in squares_of(shape, LEAST_MM):
            there = squares.setdefault((cut.part.part, *square), [])
            near.update({id(item[0]): item for item in there})
            there.append((cut, shape))
        for other, second in near.values():
            wall = None if far_apart(shape, second, LEAST_MM) else wall_mm(shape, second)
            if wall is None or wall >= LEAST_MM - 1e-9 or not share_height(cut.feature, other.feature, cut.part.thickness.mean):
                continue
            yield cut, other, edge, wall


def _finding(design: Design, walls: Sequence[Wall]) -> Diagnostic:
    cut, other, edge, wall = walls[0]
    there = f"the {quoted(other.title)}" if other is not None else f"the edge of `{cut.whole}`"
    has, least = two_lengths(wall, LEAST_MM, design.units)
    deep = length_text(-wall, design.units)
    what = f"between the {quoted(cut.title)} and {there} {has} of wood is left"
    if wall < 0.0:
        joins = f"and {there} run into each other" if other is not None else "breaks through the edge"
        what = f"the {quoted(cut.title)} {joins} by {deep}"
    count = len(walls) - 1
    more = f"; the same at {count} other place{'s' if count > 1 else ''}" if count else ""
    names = [(*item.names[:-1], *second.names) if second is not None else item.names for item, second, _, _ in walls]
    return Diagnostic(
        RULE.slug,
        RULE.severity,
        f"{what}; at least {least} of wood is required{more}",
        cut.span,
        (
            *(related((there, other.span)) if other is not None else ()),
            *also_here((item.names[0], item.span) for item, _, _, _ in walls if item.span != cut.span),
        ),
        wall_remedy(design, cut, other, edge, LEAST_MM - wall),
        tuple(dict.fromkeys(name for found in names for name in found)),
    )
