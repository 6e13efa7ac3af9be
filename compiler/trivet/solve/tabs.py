"""Tabs on a part's outer edge: where they sit, or why they find no place."""

from __future__ import annotations

import math
from collections.abc import Mapping

from trivet.model.design import Design
from trivet.model.tabs import Tabs
from trivet.record import record, replace
from trivet.solve.feature import turned_point
from trivet.solve.part_features import PartFeatures
from trivet.solve.segment import Segment
from trivet.solve.tab_place import TabPlace

# Of a tab whose width is not stated: one service's is 4.8 mm and half the sheet (practice of one cutting service, no better source).
WIDTH_MM, HEIGHT_SHARE = 5.0, 0.5
# Left free of the tab at each end of a straight run, and of a tooth's tip; arcs bent more sharply than so many widths take none
# (common practice, no source).
END_MM, TIP_END_MM, LEAST_BEND = 3.0, 0.2, 2.0
# A narrower bridge on a tip breaks as the cutter passes (common practice, no source).
LEAST_WIDTH_MM = 2.0
_SAME_RADIUS_MM = 0.01


@record
class TabRefusal:
    """Tabs that were asked for and not placed. `tip_land_mm`: of a gear, else None; `longest_mm`: the widest that has a place."""

    part: str
    tabs: Tabs
    asked_mm: float
    placed: int
    longest_mm: float
    tip_land_mm: float | None


def width_mm(part: PartFeatures, tabs: Tabs) -> float:
    """Stated, else usual; on a gear at most what its tips hold, where that is enough for a bridge."""
    if tabs.width is not None:
        return tabs.width.mm
    room = longest_run_mm(part)
    return room if part.kind == "gear" and LEAST_WIDTH_MM <= room < WIDTH_MM else WIDTH_MM


def height_mm(part: PartFeatures, tabs: Tabs) -> float:
    """Stated, else half the sheet."""
    return tabs.height.mm if tabs.height is not None else HEIGHT_SHARE * part.sheet.thickness.mean


def with_tabs(design: Design, part: PartFeatures) -> PartFeatures:
    """The part with the tabs that found a place."""
    tabs = stated_tabs(design).get(part.belongs_to or part.part)
    return part if tabs is None else replace(part, tabs=tab_places(part, tabs))


def refusal(design: Design, part: PartFeatures) -> TabRefusal | None:
    """Why fewer tabs than stated are on a part; None where all are."""
    tabs = stated_tabs(design).get(part.belongs_to or part.part)
    if tabs is None or len(part.tabs) == tabs.number:
        return None
    longest = longest_run_mm(part)
    land = max((s.length_mm for s in _runs(part)), default=0.0) if part.kind == "gear" else None
    return TabRefusal(part.belongs_to or part.part, tabs, width_mm(part, tabs), len(part.tabs), longest, land)


def stated_tabs(design: Design) -> Mapping[str, Tabs]:
    """Tabs by the part's name."""
    every = [(board.name, board.tabs) for board in design.boards]
    every += [(gear.name, gear.tabs) for gear in design.gears]
    every += [(spacer.name, spacer.tabs) for spacer in design.spacers]
    return {name.text: tabs for name, tabs in every if tabs is not None}


def tab_places(part: PartFeatures, tabs: Tabs) -> tuple[TabPlace, ...]:
    """Evenly round the edge, each moved to the nearest run that holds it; never on a flank, a root or a corner. Fewer where there is no room."""
    width, height = width_mm(part, tabs), height_mm(part, tabs)
    runs = _runs(part)
    end = TIP_END_MM if part.kind == "gear" else END_MM
    total = part.outline.length_mm
    fitting = []
    at = 0.0
    for piece in part.outline.segments():
        if piece in runs and piece.length_mm >= width + 2.0 * end - _SAME_RADIUS_MM and _flat_enough(piece, width):
            fitting.append((at, piece))
        at += piece.length_mm
    found: list[tuple[float, TabPlace]] = []
    for index in range(tabs.number):
        wanted = total * (index + 0.5) / tabs.number
        best: tuple[float, float, Segment] | None = None
        for start, piece in fitting:
            spare = max(piece.length_mm / 2.0 - end - width / 2.0, 0.0)
            centre = start + piece.length_mm / 2.0
            middle = min(max(wanted, centre - spare), centre + spare)
            if any(_round_apart(middle, other, total) < width + 2.0 * end for other, _ in found):
                continue
            away = _round_apart(middle, wanted, total)
            if best is None or away < best[0] - 1e-9:
                best = away, middle, piece
                from_start = middle - start
                place = TabPlace(_cut_out(piece, from_start - width / 2.0, from_start + width / 2.0), height)
        if best is not None:
            found.append((best[1], place))
    return tuple(place for _, place in sorted(found, key=lambda item: item[0]))


def longest_run_mm(part: PartFeatures) -> float:
    """The widest tab that some run of the edge holds."""
    end = TIP_END_MM if part.kind == "gear" else END_MM
    return max((min(s.length_mm - 2.0 * end, s.radius_mm / LEAST_BEND if s.is_arc else math.inf) for s in _runs(part)), default=0.0)


def _runs(part: PartFeatures) -> tuple[Segment, ...]:
    """Pieces of the edge that nothing runs on: of a gear the tips of its teeth, of other parts all."""
    pieces = tuple(part.outline.segments())
    if part.kind != "gear":
        return pieces
    tip = max(math.hypot(s.x0, s.y0) for s in pieces)
    return tuple(s for s in pieces if all(tip - math.hypot(x, y) < _SAME_RADIUS_MM for x, y in ((s.x0, s.y0), (s.x1, s.y1))))


def _flat_enough(piece: Segment, width: float) -> bool:
    return not piece.is_arc or piece.radius_mm >= LEAST_BEND * width


def _round_apart(a: float, b: float, total: float) -> float:
    away = abs(a - b) % total
    return min(away, total - away)


def _cut_out(piece: Segment, low: float, high: float) -> Segment:
    """The part of a piece between two lengths along it, mm."""
    if not piece.is_arc:
        ux, uy = (piece.x1 - piece.x0) / piece.chord_mm, (piece.y1 - piece.y0) / piece.chord_mm
        return Segment(piece.x0 + ux * low, piece.y0 + uy * low, piece.x0 + ux * high, piece.y0 + uy * high, 0.0)
    cx, cy = piece.centre
    sense = math.copysign(1.0, piece.bulge) / piece.radius_mm
    (x0, y0), (x1, y1) = (turned_point(piece.x0 - cx, piece.y0 - cy, sense * along) for along in (low, high))
    return Segment(cx + x0, cy + y0, cx + x1, cy + y1, math.tan(sense * (high - low) / 4.0))
