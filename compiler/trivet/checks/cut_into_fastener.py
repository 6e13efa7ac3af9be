"""A stated hole or pocket that runs into the hole of a foot, a pivot or the drive."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._cuts import Cut, cuts_of
from trivet.checks._walls import far_apart, share_height, squares_of
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived
from trivet.solve.feature import Round

RULE = Rule(
    "cut-into-fastener",
    "error",
    "a hole or pocket of the file that takes away the wood in which an insert, a pivot or the drive bolt stands",
    "what stood there has nothing left to hold it",
    "derived: the shapes of both cuts",
    failing="""
+ 
+ hole dog
+   into deck
+   diameter 19 mm
+   at (240, 180) mm
""",
    passing="""
+ 
+ hole dog
+   into deck
+   diameter 19 mm
+   at (240, 60) mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a pair. Cuts about one centre belong together; what stands further apart than its edge is left to the walls' check."""
    stated = {item.name.text for group in (design.holes, design.pockets, design.magnets, design.dowels) for item in group}
    boards = {board.name.text for board in design.boards}
    held: dict[tuple[str, int, int], list[Cut]] = {}
    own: list[Cut] = []
    for cut in cuts_of(design, derived):
        shape = cut.feature.shape
        if cut.whole not in boards or not isinstance(shape, Round | Contour):
            continue
        if _is_stated(cut, stated):
            own.append(cut)
        elif isinstance(shape, Round):
            for square in squares_of(shape, 0.0):
                held.setdefault((cut.part.part, *square), []).append(cut)
    for cut in own:
        shape = cut.feature.shape
        assert isinstance(shape, Round | Contour)
        near = {id(item): item for square in squares_of(shape, 0.0) for item in held.get((cut.part.part, *square), ())}
        said: set[tuple[str, ...]] = set()
        for other in near.values():
            if (
                other.names in said
                or not share_height(cut.feature, other.feature, cut.part.thickness.mean)
                or not _meet(shape, other)
            ):
                continue
            said.add(other.names)
            message = f"the {cut.title} runs into the {other.title}: none of its wood may be cut away"
            labels = related((f"the {other.title}", other.span))
            names = (*cut.names[:-1], *other.names[:-1], cut.whole)
            yield Diagnostic(RULE.slug, RULE.severity, message, cut.span, labels, "move it clear of it", names)


def _is_stated(cut: Cut, stated: set[str]) -> bool:
    return any(name.partition(".")[0] in stated for name in cut.names[:-1]) or any(
        f" {name}" in f" {cut.title}".replace(".", " ") for name in stated
    )


def _meet(shape: Round | Contour, other: Cut) -> bool:
    """Whether the shapes overlap: two circles by their distance, a contour by its points and the circle's middle."""
    from trivet.checks._walls import distance_mm, inside

    hole = other.feature.shape
    assert isinstance(hole, Round)
    if isinstance(shape, Round):
        apart = math.dist((shape.x_mm, shape.y_mm), (hole.x_mm, hole.y_mm))
        return 0.01 < apart < (shape.diameter_mm + hole.diameter_mm) / 2.0 - 1e-6
    if far_apart(shape, hole, 0.0):
        return False
    points = shape.points(0.05)
    middle = (hole.x_mm, hole.y_mm)
    return inside(middle, points) or distance_mm(middle, points) < hole.diameter_mm / 2.0 - 1e-6
