"""What gives a thin wall its wood: the place or the size to write down, where one stands in the file for this cut alone."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trivet.checks._cuts import Cut
from trivet.checks._round import down_text, up_text
from trivet.checks._walls import CHORD_MM, Point, inside, sides
from trivet.model.board import Hole, MagnetPlace, Pocket
from trivet.model.design import Design
from trivet.solve.contour import Contour
from trivet.solve.feature import Round
from trivet.units import length_text

# A place is written to a hundredth of a millimetre or a thousandth of an inch; what is moved goes a step further than it must.
STEP_MM = 0.01
STEP_INCH_MM = 0.0254
# A centre nearer to the edge than this lies on it, mm; directions that are tried then.
ON_EDGE_MM = 1e-3
DIRECTIONS = 16
Placed = Hole | Pocket | MagnetPlace


def wall_remedy(design: Design, cut: Cut, other: Cut | None, edge: Sequence[Point], lacking_mm: float) -> str:
    """Words for a wall between a cut and another, or (None) the part's edge, that lacks so much wood."""
    unit = design.units
    shape, opposite = cut.feature.shape, other.feature.shape if other is not None else None
    assert isinstance(shape, Round | Contour)
    words: list[str] = []
    for mine, there in ((cut, opposite), (other, shape)):
        moved = _moved(design, mine, there if isinstance(there, Round | Contour) else None, edge, lacking_mm) if mine else ""
        if moved:
            words.append(moved)
            break
    smaller = _smaller(design, cut, other, lacking_mm) or (_smaller(design, other, cut, lacking_mm) if other is not None else "")
    words += [smaller] if smaller else []
    if words:
        return ", or ".join(words)
    away = up_text(lacking_mm, unit)
    if other is None:
        return f"an outline of `{cut.whole}` that reaches {away} further there, or another place for what stands there"
    return f"move one of them {away} away, or make it smaller"


def _moved(design: Design, cut: Cut, other: Round | Contour | None, edge: Sequence[Point], lacking_mm: float) -> str:
    """`at (x, y)` for a cut with one place of its own."""
    owner = _owner(design, cut)
    shape = cut.feature.shape
    if owner is None or len(owner.places) != 1 or not isinstance(shape, Round | Contour):
        return ""
    (at,) = owner.places
    if at.mirrored:
        # What is stated of it is the place on the other side.
        return ""
    board = next(item for item in design.boards if item.name == owner.into)
    step = STEP_INCH_MM if design.units in ("in", "thou") else STEP_MM
    dx, dy = _away(shape, other, edge)
    by = lacking_mm + step
    x, y = (
        _rounded(at.x_mm - board.x_mm + by * dx, dx, step),
        _rounded(at.y_mm - board.y_mm + by * dy, dy, step),
    )
    texts = [length_text(mm, design.units, 3).partition(" ")[0] for mm in (x, y)]
    return f"`at ({texts[0]}, {texts[1]}) {'in' if design.units in ('in', 'thou') else 'mm'}` for `{owner.name}`"


def _smaller(design: Design, cut: Cut, other: Cut | None, lacking_mm: float) -> str:
    """`diameter …` for a hole whose diameter is plainly stated and whose cutter still enters."""
    owner, shape = _owner(design, cut), cut.feature.shape
    if not isinstance(owner, Hole) or not isinstance(shape, Round):
        return ""
    if not owner.because.startswith("diameter ") or owner.fit is not None or owner.counterbore is not None:
        return ""
    alone = other is None or _owner(design, other) is not owner
    size = owner.diameter_mm - (2.0 if alone else 1.0) * lacking_mm
    if size < cut.feature.cutter_diameter_mm and owner.drill_mm is None:
        return ""
    return f"`diameter {down_text(size, design.units)}` for `{owner.name}`"


def _owner(design: Design, cut: Cut) -> Placed | None:
    owners: tuple[Placed, ...] = (*design.holes, *design.pockets, *design.magnets)
    return next((item for item in owners if item.name.text in cut.names and item.into.text == cut.whole), None)


def _away(shape: Round | Contour, other: Round | Contour | None, edge: Sequence[Point]) -> Point:
    """The direction, of length one, in which the wall grows fastest."""
    if isinstance(shape, Round) and isinstance(other, Round):
        dx, dy = shape.x_mm - other.x_mm, shape.y_mm - other.y_mm
    else:
        mine = [(shape.x_mm, shape.y_mm)] if isinstance(shape, Round) else list(shape.points(CHORD_MM))
        theirs = edge if other is None else [(other.x_mm, other.y_mm)] if isinstance(other, Round) else other.points(CHORD_MM)
        pairs = [(p, _nearest(p, theirs)) for p in mine]
        if len(mine) > 1:
            # Two shapes apart are nearest to each other at a corner of one of them: of either.
            pairs += [(_nearest(p, mine), p) for p in theirs]
        point, near = min(pairs, key=lambda pair: math.dist(*pair))
        if other is None and math.dist(point, near) < ON_EDGE_MM:
            return _inwards(point, edge)
        dx, dy = point[0] - near[0], point[1] - near[1]
        if other is None and not inside(point, edge):
            dx, dy = -dx, -dy
    long = math.hypot(dx, dy)
    return (dx / long, dy / long) if long > 1e-9 else (1.0, 0.0)


def _inwards(point: Point, edge: Sequence[Point]) -> Point:
    """From a point on the edge into the wood: the direction that gets farthest from the edge in a millimetre."""
    found = []
    for index in range(DIRECTIONS):
        turn = 2.0 * math.pi * index / DIRECTIONS
        there = (point[0] + math.cos(turn), point[1] + math.sin(turn))
        if inside(there, edge):
            found.append((math.dist(there, _nearest(there, edge)), -index, (math.cos(turn), math.sin(turn))))
    return max(found)[2] if found else (1.0, 0.0)


def _nearest(point: Point, polygon: Sequence[Point]) -> Point:
    best, found = math.inf, polygon[0]
    for (x0, y0), (x1, y1) in sides(polygon):
        dx, dy = x1 - x0, y1 - y0
        length = dx * dx + dy * dy
        along = max(0.0, min(1.0, ((point[0] - x0) * dx + (point[1] - y0) * dy) / length)) if length > 0.0 else 0.0
        near = (x0 + along * dx, y0 + along * dy)
        if math.dist(point, near) < best:
            best, found = math.dist(point, near), near
    return found


def _rounded(mm: float, direction: float, step: float) -> float:
    """To the step of the unit, in the direction of the move."""
    if abs(direction) < 1e-6:
        return round(mm / step) * step
    return (math.ceil(mm / step - 1e-6) if direction > 0.0 else math.floor(mm / step + 1e-6)) * step
