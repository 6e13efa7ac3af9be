"""When a board tips over an edge of the polygon that its feet stand on. Forces in N, lengths in mm, moments in N·mm."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trivet.model.board import Load
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived, FootState
from trivet.solve.library_figures import DENSITY_KG_M3
from trivet.solve.load_shares import Push
from trivet.solve.outline_contour import drawn

# Standard acceleration of gravity, m/s² (3rd CGPM, 1901, exact by definition).
GRAVITY = 9.80665
# Chords that outlines are weighed by, mm.
CHORD_MM = 0.1
Point = tuple[float, float]


@record
class TipEdge:
    """An edge from foot to foot. `holds_nmm`: moment of the boards' own weight about it. `reach_mm`: how far the boards reach beyond it;
    `lifts_n`: the load pressed down there that lifts the far feet, None where no board reaches beyond.
    """

    feet: tuple[str, str]
    holds_nmm: float
    reach_mm: float
    lifts_n: float | None


def weight_of(design: Design) -> tuple[Push, str] | tuple[None, str]:
    """The boards' own weight and the place of its centre: outline area times mean thickness times the density of the sheet's material.

    Gears, screws and what is cut out are left out. Without a known density: None and the sheet's name;
    an empty name where no outline encloses anything.
    """
    sheets = {sheet.name.text: sheet for sheet in design.sheets}
    mass, mx, my = 0.0, 0.0, 0.0
    for board in design.boards:
        sheet = sheets[board.stock.text]
        density = DENSITY_KG_M3.get(sheet.material.text) if sheet.material is not None else None
        if density is None:
            return None, sheet.name.text
        # One that crosses itself counts as nothing: another check says so.
        area, x, y = _area_and_centre(drawn(board.outline).points(CHORD_MM))
        force = area * sheet.layered(board.layers).mean * density * 1e-9 * GRAVITY
        mass += force
        mx += force * (board.x_mm + x)
        my += force * (board.y_mm + y)
    return ((mass, mx / mass, my / mass), "") if mass > 0.0 else (None, "")


def support(feet: Sequence[FootState]) -> tuple[FootState, ...]:
    """The feet at the corners of the polygon that all feet stand on, anticlockwise; fewer than three where they stand in a line."""
    ordered = sorted(feet, key=lambda foot: (foot.x_mm, foot.y_mm, foot.id))
    half: list[list[FootState]] = []
    for run in (ordered, ordered[::-1]):
        chain: list[FootState] = []
        for foot in run:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], foot) <= 1e-9:
                chain.pop()
            chain.append(foot)
        half.append(chain[:-1])
    return (*half[0], *half[1])


def tip_edges(design: Design, derived: Derived, weight: Push) -> tuple[TipEdge, ...]:
    """Every edge of the support polygon; empty where the feet span no area."""
    outlines = [[(board.x_mm + x, board.y_mm + y) for x, y in drawn(board.outline).points(CHORD_MM)] for board in design.boards]
    found = []
    for one, other in _edges(derived.feet):
        holds = weight[0] * _inside_mm(one, other, weight[1], weight[2])
        reach = max(-_inside_mm(one, other, x, y) for outline in outlines for x, y in outline)
        lifts = max(0.0, holds) / reach if reach > 0.0 else None
        found.append(TipEdge((one.id, other.id), holds, max(0.0, reach), lifts))
    return tuple(found)


def tipped_edge(derived: Derived, weight: Push, loads: Sequence[Load], height_mm: float) -> tuple[tuple[str, str], float] | None:
    """The edge that loads tip the board over, and the moment by which they do; None where it stands.

    A load along x or y acts at the work surface, `height_mm` above the bench, either way.
    """
    worst: tuple[tuple[str, str], float] | None = None
    for one, other in _edges(derived.feet):
        moment = weight[0] * _inside_mm(one, other, weight[1], weight[2])
        normal = _outward(one, other)
        for load in loads:
            force = load.force.value
            if load.direction == "down":
                moment += force * _inside_mm(one, other, load.x_mm, load.y_mm)
            else:
                moment -= abs(force * normal[0 if load.direction == "x" else 1]) * height_mm
        if moment < 0.0 and (worst is None or -moment > worst[1]):
            worst = (one.id, other.id), -moment
    return worst


def hold_down_n(feet: Sequence[FootState], edge: tuple[str, str], over_nmm: float) -> tuple[str, float]:
    """The foot farthest behind a tipped edge, and the force down there that just keeps the board from tipping over it, N."""
    by_id = {foot.id: foot for foot in feet}
    one, other = (by_id[name] for name in edge)
    arms = {foot.id: _inside_mm(one, other, foot.x_mm, foot.y_mm) for foot in feet}
    far = max(sorted(arms), key=lambda name: arms[name])
    return far, over_nmm / arms[far]


def within_feet(feet: Sequence[FootState], x_mm: float, y_mm: float) -> bool:
    """Whether a place lies inside the polygon that the feet stand on."""
    edges = _edges(feet)
    return bool(edges) and all(_inside_mm(one, other, x_mm, y_mm) > 0.0 for one, other in edges)


def _edges(feet: Sequence[FootState]) -> tuple[tuple[FootState, FootState], ...]:
    corners = support(feet)
    return tuple(zip(corners, (*corners[1:], corners[0]), strict=True)) if len(corners) > 2 else ()


def _turn(a: FootState, b: FootState, c: FootState) -> float:
    return (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (c.x_mm - a.x_mm) * (b.y_mm - a.y_mm)


def _outward(a: FootState, b: FootState) -> Point:
    length = math.hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm)
    return (b.y_mm - a.y_mm) / length, -(b.x_mm - a.x_mm) / length


def _inside_mm(a: FootState, b: FootState, x: float, y: float) -> float:
    """Distance of a place from the edge, positive on the feet's side."""
    normal = _outward(a, b)
    return -(normal[0] * (x - a.x_mm) + normal[1] * (y - a.y_mm))


def _area_and_centre(points: Sequence[Point]) -> tuple[float, float, float]:
    area, mx, my = 0.0, 0.0, 0.0
    for (x0, y0), (x1, y1) in zip(points, (*points[1:], points[0]), strict=True):
        cross = x0 * y1 - x1 * y0
        area += cross / 2.0
        mx += (x0 + x1) * cross / 6.0
        my += (y0 + y1) * cross / 6.0
    return (area, mx / area, my / area) if area > 0.0 else (0.0, 0.0, 0.0)
