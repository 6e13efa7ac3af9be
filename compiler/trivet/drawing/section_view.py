"""The section through drive, idlers and one foot, unfolded into one plane along the lines of centres.

Horizontal places run along those lines from the drive's axis, heights from the bench at the lowest height of the travel, mm.
What hangs on the board rises with it; what stands on the bench stays.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Literal

from trivet.drawing.section_metal import Metal, metals
from trivet.drawing.section_wood import Taken, Wood, crossed, depth_ranges, half_width_mm, wood
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived, FootState, GearState
from trivet.solve.level_gaps import level_gaps_mm
from trivet.solve.part_features import PartFeatures
from trivet.solve.parts import part_features
from trivet.solve.solid import Solid

# How far the section goes on past the outermost gears, mm.
BEYOND_MM = 12.0
SPACER_WALL_MM = 8.0  # As drawn; how wide a ring is, is the maker's choice.
Point = tuple[float, float]


@record
class SectionWood:
    """A board, gear or keeper that is cut. `rises`: with the board."""

    id: str
    kind: Literal["board", "gear", "keeper"]
    rises: bool
    wood: Wood


@record
class Teeth:
    """Teeth of a gear, beyond its root on either side: (left, low, right, high), mm."""

    gear: str
    kind: Literal["drive", "idler", "foot"]
    rises: bool
    boxes: tuple[tuple[float, float, float, float], ...]


@record
class Axis:
    """A shaft of the section: where, and what is on it."""

    at_mm: float
    name: str


@record
class Overlap:
    """Two gears in mesh: from where to where their teeth share the section, and each one's heights at the lowest height of the travel."""

    one: str
    other: str
    left_mm: float
    right_mm: float
    one_mm: tuple[float, float]
    one_rises: bool
    other_mm: tuple[float, float]
    other_rises: bool


@record
class SectionView:
    """`engaged`: the screw's thread (stands) and the live thread (rises, or stands with a captured nut's gear), at the lowest height.

    `limits`: heights of the work surface, as (words, height): comfortable and to parting. `notes` say what the section leaves out.
    """

    foot: FootState
    left_mm: float
    right_mm: float
    top_mm: float
    work_mm: float
    woods: tuple[SectionWood, ...]
    teeth: tuple[Teeth, ...]
    metals: tuple[Metal, ...]
    axes: tuple[Axis, ...]
    overlaps: tuple[Overlap, ...]
    screw_mm: tuple[float, float]
    live_mm: tuple[float, float] | None
    limits: tuple[tuple[str, float], ...]
    notes: tuple[str, ...]


def section_views(design: Design, derived: Derived) -> tuple[SectionView, ...]:
    """One section for each set of feet, through the foot that ends the travel or the first."""
    tight = [part for limit in (derived.lift.limits if derived.lift is not None else ()) for part in limit.parts]
    chosen: dict[str, FootState] = {}
    for state in sorted(derived.feet, key=lambda item: tight.index(item.id) if item.id in tight else len(tight)):
        chosen.setdefault(state.foot.name.text, state)
    solids = derived.solids[0].solids if derived.solids else ()
    made = [_section(design, derived, foot, solids) for foot in chosen.values()]
    return tuple(view for view in made if view is not None)


def _section(design: Design, derived: Derived, foot: FootState, solids: Sequence[Solid]) -> SectionView | None:
    gears = {state.id: state for state in derived.train.gears}
    path = [gears[name] for name in (gears[foot.gear].path or (foot.gear,))]
    axes = _axes(path, gears)
    standing = [item.low_mm for item in solids if item.moves and item.shaft == axes[-1][0].shaft]
    if not standing:
        return None
    bench = min(standing)
    on = {state.shaft or state.id: at for state, at in axes}
    here = [item for item in solids if item.shaft in on]
    places = {item.part: (item.low_mm - bench, item.high_mm - bench, not item.moves) for item in here if item.kind == "gear"}
    shown = [state for state in derived.train.gears if state.id in places]
    reach = {shaft: max(state.tip_radius_mm for state in shown if (state.shaft or state.id) == shaft) for shaft in on}
    left = -reach[axes[0][0].shaft or axes[0][0].id] - BEYOND_MM
    right = axes[-1][1] + reach[axes[-1][0].shaft or axes[-1][0].id] + BEYOND_MM
    parts: dict[str, list[PartFeatures]] = {}
    for part in part_features(design, derived):
        parts.setdefault(part.belongs_to or part.part, []).append(part)
    line = _line(axes, left, right)
    woods: list[SectionWood] = []
    for level in derived.boards:
        origin, name = (level.board.x_mm, level.board.y_mm), level.board.name.text
        woods += _board(name, origin, level.z_under_mm - bench, parts, line, (left, right))
    teeth = []
    for state in shown:
        low, high, rises = places[state.id]
        at = on[state.shaft or state.id]
        root, tip = state.geometry.root_radius_mm, state.tip_radius_mm
        woods.append(SectionWood(state.id, "gear", rises, _gear(parts[state.id], at, root, low, high)))
        boxes = ((at - tip, low, at - root, high), (at + root, low, at + tip, high))
        teeth.append(Teeth(state.id, state.kind, rises, boxes))
    woods += [
        SectionWood(item.part, "keeper", True, _keeper(item, foot, on[item.shaft], bench)) for item in here if item.kind == "keeper"
    ]
    woods += _spacers(design, derived, on, bench)
    overlaps = tuple(_overlaps(path, places, on))
    metal = metals(
        [item for item in here if item.kind not in ("gear", "keeper", "stand_off", "keeper_screw")],
        derived.feet,
        on,
        bench,
        (line[-1][1][0] - line[-1][0][0]) / math.dist(line[-1][0], line[-1][1]),
    )
    work = max((level.z_under_mm + level.thickness.mean - bench for level in derived.boards), default=0.0)
    screw = next(
        (item for item in metal if item.shaft == foot.gear and item.kind in ("shank", "rod") and item.thread_mm is not None), None
    )
    live = (foot.live_z_mm[0] - bench, foot.live_z_mm[1] - bench) if foot.live_z_mm is not None else None
    return SectionView(
        foot=foot,
        left_mm=left,
        right_mm=right,
        top_mm=max([work, *(item.high_mm for item in metal)]),
        work_mm=work,
        woods=tuple(woods),
        teeth=tuple(teeth),
        metals=metal,
        axes=tuple(Axis(at, _axis_name(state, shown, derived)) for state, at in axes),
        overlaps=overlaps,
        screw_mm=screw.thread_mm if screw is not None and screw.thread_mm is not None else (0.0, 0.0),
        live_mm=live,
        limits=_limits(derived),
        notes=tuple(_notes(foot, shown)),
    )


def _spacers(design: Design, derived: Derived, on: Mapping[str, float], bench: float) -> Iterator[SectionWood]:
    """The rings between a board and gears of lower levels."""
    unders = {level.board.name.text: level.z_under_mm - bench for level in derived.boards}
    for root, gap in level_gaps_mm(design, derived.train).items():
        if root in on:
            state, at = derived.train.gear(root), on[root]
            top, inner = unders[state.gear.under.text], state.hole_mm / 2.0
            outer = inner + SPACER_WALL_MM
            spans = ((at - outer, at - inner), (at + inner, at + outer))
            yield SectionWood(f"{root}.spacer", "keeper", True, wood(spans, top - gap, top, ()))


def _axes(path: Sequence[GearState], gears: Mapping[str, GearState]) -> list[tuple[GearState, float]]:
    """The holder of each shaft on the path with its place along the section."""
    found: list[tuple[GearState, float]] = []
    for state in path:
        holder = gears[state.shaft or state.id]
        if found and found[-1][0].id == holder.id:
            continue
        at = found[-1][1] + math.dist((found[-1][0].x_mm, found[-1][0].y_mm), (holder.x_mm, holder.y_mm)) if found else 0.0
        found.append((holder, at))
    return found


def _axis_name(holder: GearState, shown: Sequence[GearState], derived: Derived) -> str:
    names = [state.id for state in sorted(shown, key=lambda item: item.level) if (state.shaft or state.id) == holder.id]
    return ", ".join(names)


def _line(axes: Sequence[tuple[GearState, float]], left: float, right: float) -> list[tuple[Point, Point, float]]:
    """The line of the section in the plan: pieces from point to point, each with the place along the section where it begins."""
    points = [(state.x_mm, state.y_mm) for state, _ in axes]
    if len(points) == 1:
        first = last = (1.0, 0.0)
    else:
        first, last = _unit(points[0], points[1]), _unit(points[-2], points[-1])
    start = (points[0][0] + first[0] * left, points[0][1] + first[1] * left)
    rest = right - axes[-1][1]
    end = (points[-1][0] + last[0] * rest, points[-1][1] + last[1] * rest)
    stops = [start, *points, end]
    begins = [left, *(at for _, at in axes)]
    return [(one, other, begin) for one, other, begin in zip(stops, stops[1:], begins, strict=False)]


def _unit(one: Point, other: Point) -> Point:
    length = math.dist(one, other) or 1.0
    return (other[0] - one[0]) / length, (other[1] - one[1]) / length


def _board(
    name: str,
    origin: Point,
    under_mm: float,
    parts: Mapping[str, Sequence[PartFeatures]],
    line: Sequence[tuple[Point, Point, float]],
    ends: tuple[float, float],
) -> Iterator[SectionWood]:
    if not (layers := parts.get(name)):
        return
    top = under_mm + math.fsum(layer.thickness.mean for layer in layers)
    cuts, spans = [], []
    for one, other, begin in line:
        start, end = (one[0] - origin[0], one[1] - origin[1]), (other[0] - origin[0], other[1] - origin[1])
        spans += [(begin + low, begin + high) for low, high in crossed(layers[0].outline, start, end)]
        for item, low, high in depth_ranges(layers, top):
            cuts += [Taken(begin + a, begin + b, low, high) for a, b in crossed(item.shape, start, end)]
    yield SectionWood(name, "board", True, wood(spans, under_mm, top, cuts, ends))


def _gear(layers: Sequence[PartFeatures], at: float, root: float, low: float, high: float) -> Wood:
    cuts = []
    for item, bottom, top in depth_ranges(layers, high):
        half = half_width_mm(item.shape)
        if half > 0.0:
            cuts.append(Taken(at - half, at + half, bottom, top))
    return wood([(at - root, at + root)], low, high, cuts)


def _keeper(item: Solid, foot: FootState, at: float, bench: float) -> Wood:
    """Along the line of centres its box counts; the bore lets what hangs below the gear pass."""
    outline = foot.foot.keeper.outline if foot.foot.keeper is not None else None
    half = outline.width_mm / 2.0 if outline is not None else item.radius_mm
    head = foot.foot.screw.head.diameter_mm if foot.foot.kind == "sliding_hex" and foot.foot.screw is not None else 0.0
    bore = max(head, foot.foot.thread.major_mm) / 2.0 + 0.5
    low, high = item.low_mm - bench, item.high_mm - bench
    return wood([(at - half, at + half)], low, high, [Taken(at - bore, at + bore, low, high)])


def _overlaps(
    path: Sequence[GearState], places: Mapping[str, tuple[float, float, bool]], on: Mapping[str, float]
) -> Iterator[Overlap]:
    for one, other in pairwise(path):
        if (one.shaft or one.id) == (other.shaft or other.id) or one.id not in places or other.id not in places:
            continue
        a, b = on[one.shaft or one.id], on[other.shaft or other.id]
        first, second = places[one.id], places[other.id]
        yield Overlap(one.id, other.id, b - other.tip_radius_mm, a + one.tip_radius_mm, first[:2], first[2], second[:2], second[2])


def _limits(derived: Derived) -> tuple[tuple[str, float], ...]:
    """Heights of the work surface at mean sheets that all feet allow, from the lowest: comfortable, and until something parts or jams."""
    lift = derived.lift
    if lift is None or lift.travel_mm <= 0.0:
        return ()
    lows = [
        foot.height_at_zero_mm + item.extension_mm
        for foot in derived.feet
        for item in foot.limits
        if item.hard and item.end == "least"
    ]
    highs = [
        foot.height_at_zero_mm + item.extension_mm
        for foot in derived.feet
        for item in foot.limits
        if item.hard and item.end == "most"
    ]
    found = [("lowest", lift.height_min_mm), ("highest", lift.height_max_mm)]
    if lows and max(lows) < lift.height_min_mm - 0.05:
        found.insert(0, ("parting", max(lows)))
    if highs and min(highs) > lift.height_max_mm + 0.05:
        found.append(("parting", min(highs)))
    return tuple(found)


def _notes(foot: FootState, shown: Sequence[GearState]) -> Iterator[str]:
    if any(state.gear.web is not None for state in shown):
        yield "Openings in the webs of gears are left out."
    if foot.foot.keeper is not None:
        yield "The screws and stand-offs of the keeper stand beside this section and are left out."
