"""A stated hole or pocket that runs into the hole of a foot, a pivot or the drive."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import related
from trivet.checks._cuts import Cut, cuts_of, quoted
from trivet.checks._insert_walls import height_of
from trivet.checks._round import down_told
from trivet.checks._walls import far_apart, share_height, squares_of
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived, FootState
from trivet.solve.feature import Round
from trivet.units import two_lengths

RULE = Rule(
    "cut-into-fastener",
    "error",
    "a hole or pocket of the file, beside the axis of an insert, a pivot or the drive bolt, that takes away the wood in which it stands; of"
    " an insert or tee nut 0.5 mm of its length may be laid bare at an end",
    "what stood there has nothing left to hold it: an insert that is open at its side is pushed out there",
    "derived: the shapes of both cuts and their heights; the 0.5 mm are common practice, no source",
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

# As much of an insert may stand in the air, mm.
BARE_MM = 0.5


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a pair. Cuts about one centre belong together; what stands further apart than its edge is left to the walls' check."""
    stated = {item.name.text for group in (design.holes, design.pockets, design.magnets, design.dowels) for item in group}
    boards = {item.board.name.text: item for item in derived.boards}
    inserts = {foot.id: foot for foot in (*derived.feet, *derived.climbers) if foot.foot.insert is not None}
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
            level, foot = boards[cut.whole], next((inserts[name] for name in other.names if name in inserts), None)
            height = height_of(cut.part, level.board, cut.feature, level.z_under_mm)
            bare = _bare_mm(foot, other, height)
            if bare is not None and bare <= BARE_MM:
                continue
            said.add(other.names)
            message, remedy = f"the {quoted(cut.title)} runs into the {quoted(other.title)}: none of its wood may be cut away", "move it clear of it"
            if bare is not None and cut.feature.depth_mm is not None:
                has, most = two_lengths(bare, BARE_MM, design.units)
                message = f"the {quoted(cut.title)} runs into the {quoted(other.title)} and opens {has} of its side; at most {most} is allowed"
                deep = cut.feature.depth_mm - bare
                remedy += f", or a depth of {down_told(deep, design.units, 0.1, 0.01)} or less" if deep > BARE_MM else ""
            labels = related((f"the {quoted(other.title)}", other.span))
            names = (*cut.names[:-1], *other.names[:-1], cut.whole)
            yield Diagnostic(RULE.slug, RULE.severity, message, cut.span, labels, remedy, names)


def _bare_mm(foot: FootState | None, hole: Cut, height: tuple[float, float]) -> float | None:
    """How much of an insert's length a cut lays bare; None for what is no hole of an insert or where its height is not known."""
    use = foot.foot.insert if foot is not None else None
    zone, shape = foot.insert_z_mm if foot is not None else None, hole.feature.shape
    if use is None or zone is None or not isinstance(shape, Round) or abs(shape.diameter_mm - use.hardware.hole_mm) > 1e-6:
        return None
    return min(zone[1], height[1]) - max(zone[0], height[0])


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
