"""Wood round the holes that hold by their thread: inserts, tee nuts and wood screws, to the edge and to other cuts of their board."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from trivet.checks._cuts import Cut, cuts_of, quoted
from trivet.checks._walls import CHORD_MM, ROUGH_CHORD_MM, Point, edge_wall_mm, far_apart, far_inside, squares_of, wall_mm
from trivet.model.board import Board
from trivet.model.design import Design
from trivet.model.hardware import Insert
from trivet.record import record
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived
from trivet.solve.feature import Feature, Round
from trivet.solve.part_features import PartFeatures
from trivet.source import Span

# Chips fly from MDF nearer to its edge and corner than this, mm (a fixing guide of the MDF trade, face screws).
MDF_EDGE_MM, MDF_CORNER_MM = 12.0, 25.0
_SAME_MM = 1e-6
# No thread in wood is thicker than this: a slip of the keyboard must not make us search the whole sheet, mm.
_WIDEST_MM = 400.0
_Place = tuple[str, float, float]


@record
class Near:
    """Wood between a hole and something else. `outside_mm` is that of what is screwed in; `mdf_mm` the trade's least in MDF, else 0."""

    id: str
    set_name: str
    what: str
    other: str
    wood_mm: float
    outside_mm: float
    mdf_mm: float
    span: Span | None
    other_span: Span | None
    to_edge: bool
    names: tuple[str, ...]

    @property
    def wanted_mm(self) -> float:
        """The outside diameter, or what MDF needs where that is more."""
        return max(self.outside_mm, self.mdf_mm)


@record
class _Screwed:
    """`hole_mm` is None where any bore at the place is its hole, `z_mm` where it fills that hole."""

    id: str
    what: str
    outside_mm: float
    hole_mm: float | None
    z_mm: tuple[float, float] | None


@record
class _Cut:
    cut: Cut
    shape: Round | Contour
    z_mm: tuple[float, float]


def near_inserts(design: Design, derived: Derived) -> Iterator[Near]:
    """Every such wall that is less than is wanted. Cost linear in the holes; cuts at another height of the board do not count."""
    screwed = _screwed(design, derived)
    boards = {item.board.name.text: (item.board, item.z_under_mm) for item in derived.boards}
    mdf = {sheet.name.text for sheet in design.sheets if sheet.material is not None and "mdf" in sheet.material.text.lower()}
    parts: dict[str, tuple[PartFeatures, list[_Cut]]] = {}
    for cut in cuts_of(design, derived):
        shape = cut.feature.shape
        if cut.part.kind == "board" and isinstance(shape, (Round, Contour)):
            board, under = boards[cut.whole]
            held = parts.setdefault(cut.part.part, (cut.part, []))[1]
            held.append(_Cut(cut, shape, height_of(cut.part, board, cut.feature, under)))
    for part, cuts in parts.values():
        board = boards[part.belongs_to or part.part][0]
        held_here = [(item, hole) for item in cuts if (hole := _of(screwed, board, item)) is not None]
        if not held_here:
            continue
        squares: dict[tuple[int, int], list[_Cut]] = {}
        for item in cuts:
            for square in squares_of(item.shape, 0.0):
                squares.setdefault(square, []).append(item)
        rough = part.outline.points(ROUGH_CHORD_MM)
        for item, hole in held_here:
            at = item.z_mm if hole.z_mm is None else (max(item.z_mm[0], hole.z_mm[0]), min(item.z_mm[1], hole.z_mm[1]))
            if at[1] - at[0] > _SAME_MM:
                yield from _to_edge(item, hole, board, part, rough, board.stock.text in mdf)
                yield from _to_cuts(item, hole, at, squares)


def _screwed(design: Design, derived: Derived) -> dict[_Place, _Screwed]:
    found: dict[_Place, _Screwed] = {}
    for foot in (*derived.feet, *derived.climbers):
        use = foot.foot.insert
        if use is not None:
            insert = isinstance(use.hardware, Insert)
            outside = use.hardware.outside.mean if isinstance(use.hardware, Insert) else use.hardware.barrel_diameter_mm
            what = f"the {'insert' if insert else 'tee nut'} of `{foot.id}`"
            found[_place(foot.foot.into.text, foot.x_mm, foot.y_mm)] = _Screwed(
                foot.id, what, outside, use.hardware.hole_mm, foot.insert_z_mm
            )
    pivots = {pivot.name.text: pivot for pivot in design.pivots if not pivot.bolt and pivot.nut is None}
    for state in derived.train.gears:
        pivot = pivots.get(state.gear.turns_on.text) if state.gear.turns_on is not None else None
        if pivot is not None:
            name = f"{pivot.name}.{state.id}"
            screw = _Screwed(name, f"the screw of `{name}`", pivot.thread.major_mm, None, None)
            found[_place(state.gear.under.text, state.x_mm, state.y_mm)] = screw
    return found


def _place(board: str, x_mm: float, y_mm: float) -> _Place:
    return board, round(x_mm, 6), round(y_mm, 6)


def _of(screwed: dict[_Place, _Screwed], board: Board, item: _Cut) -> _Screwed | None:
    """What is screwed into this hole: other holes at the place (a guide bore, a flange's recess) hold nothing."""
    if not isinstance(item.shape, Round):
        return None
    found = screwed.get(_place(board.name.text, item.shape.x_mm + board.x_mm, item.shape.y_mm + board.y_mm))
    if found is None or item.cut.feature.operation != "bore":
        return None
    other = found.hole_mm is not None and abs(found.hole_mm - item.shape.diameter_mm) > _SAME_MM
    return None if other else found


def height_of(part: PartFeatures, board: Board, feature: Feature, under_mm: float) -> tuple[float, float]:
    """From where to where a cut of a board goes, z at mean sheets; `under_mm`: the board's underside."""
    thick = part.thickness.mean
    low = under_mm + (board.layers - part.layer) * thick if part.layer else under_mm
    depth = thick if feature.depth_mm is None else feature.depth_mm
    return (low + thick - depth, low + thick) if feature.face == "topside" else (low, low + depth)


def _to_edge(item: _Cut, hole: _Screwed, board: Board, part: PartFeatures, rough: Sequence[Point], mdf: bool) -> Iterator[Near]:
    shape = item.shape
    assert isinstance(shape, Round)
    mdf_mm = MDF_EDGE_MM if mdf else 0.0
    wanted = max(hole.outside_mm, mdf_mm)
    far = far_inside(shape, rough, wanted + ROUGH_CHORD_MM)
    wood = None if far else edge_wall_mm(shape, part.outline.points(CHORD_MM))
    if wood is not None and wood < wanted - CHORD_MM:
        yield _near(item, hole, f"the edge of `{board.name}`", wood, mdf_mm)
    elif mdf and board.outline.shape == "rectangle" and board.outline.corner_radius_mm <= MDF_CORNER_MM:
        # To the middle of each corner's rounding; a rounding wider than the distance is no corner.
        inset = board.outline.corner_radius_mm * (1.0 - math.sqrt(0.5))
        xs, ys = (inset, board.outline.width_mm - inset), (inset, board.outline.height_mm - inset)
        away = min(math.hypot(shape.x_mm - x, shape.y_mm - y) for x in xs for y in ys) - shape.diameter_mm / 2.0
        if away < MDF_CORNER_MM - _SAME_MM:
            yield _near(item, hole, f"a corner of `{board.name}`", away, MDF_CORNER_MM)


def _to_cuts(item: _Cut, hole: _Screwed, at: tuple[float, float], squares: dict[tuple[int, int], list[_Cut]]) -> Iterator[Near]:
    near: dict[int, _Cut] = {}
    for square in squares_of(item.shape, min(hole.outside_mm, _WIDEST_MM)):
        near.update({id(other): other for other in squares.get(square, ())})
    for other in near.values():
        if other is item or min(at[1], other.z_mm[1]) - max(at[0], other.z_mm[0]) <= _SAME_MM:
            continue
        wood = None if far_apart(item.shape, other.shape, hole.outside_mm) else wall_mm(item.shape, other.shape)
        if wood is not None and wood < hole.outside_mm - _SAME_MM:
            yield _near(item, hole, f"the {quoted(other.cut.title)}", wood, 0.0, other.cut)


def _near(item: _Cut, hole: _Screwed, other: str, wood: float, mdf_mm: float, mate: Cut | None = None) -> Near:
    names = item.cut.names if mate is None else item.cut.names[:-1] + mate.names
    set_name = hole.id.partition(".")[0]
    span = mate.span if mate is not None else None
    outside, ids = hole.outside_mm, tuple(dict.fromkeys(names))
    return Near(hole.id, set_name, hole.what, other, wood, outside, mdf_mm, item.cut.span, span, mate is None, ids)
