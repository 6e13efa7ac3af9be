"""Gears that are not in mesh and yet touch."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import product

from trivet.checks._check import place, related
from trivet.checks._collide_remedy import turned_away
from trivet.checks._equal import also_here, grouped
from trivet.checks._round import up_text
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived, GearState
from trivet.solve.train_graph import pair, train_graph
from trivet.units import length_text, two_lengths

RULE = Rule(
    "gears-collide",
    "error",
    "two gears that are not in mesh come closer than 1 mm where they share a height at some place of the travel",
    "their tips strike each other, and nothing turns",
    "gap = centres apart - both tip radii: SDP/SI, Elements of Metric Gear Technology, p. T-116, eq. 13-9; 1 mm: common practice",
    failing="""
-   with nw at 118 deg
+   with nw at 150 deg
-   with sw at 242 deg
+   with sw at 210 deg
""",
    passing="""
-   with nw at 118 deg
+   with nw at 130 deg
-   with sw at 242 deg
+   with sw at 230 deg
""",
)

LEAST_GAP_MM = 1.0
# Shared heights that count as none, mm: in a level; between levels, where spacers take up washers and play (common practice, no source).
SHARED_MM, BETWEEN_LEVELS_MM = 0.5, 3.0


# The two gears, and the height that they share, mm.
Near = tuple[GearState, GearState, float]


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for pairs alike."""
    close = [near for near in _near(design, derived) if _apart_mm(near) < _needed_mm(near)]
    for pairs in grouped(((round(_apart_mm(near), 2), round(_needed_mm(near), 2), near[0].level != near[1].level), near) for near in close):
        yield _finding(design, derived, sorted(pairs, key=lambda near: (near[0].id, near[1].id)))


def _near(design: Design, derived: Derived) -> Iterator[Near]:
    """Pairs to look at. Gears are sorted into squares as wide as the largest; only neighbouring squares are compared."""
    states = derived.train.gears
    meshes = train_graph(design).meshes
    riding = {foot.gear for foot in derived.feet if foot.foot.kind == "riding"}
    travel = derived.lift.travel_mm if derived.lift is not None else 0.0
    heights = {s.id: (s.z_top.mean - s.face_width.mean - (travel if s.shaft in riding else 0.0), s.z_top.mean) for s in states}
    side = max((2.0 * state.tip_radius_mm for state in states), default=1.0) + LEAST_GAP_MM
    squares: dict[tuple[int, int], list[GearState]] = {}
    for state in states:
        here = (math.floor(state.x_mm / side), math.floor(state.y_mm / side))
        for dx, dy in product((-1, 0, 1), repeat=2):
            for other in squares.get((here[0] + dx, here[1] + dy), ()):
                least = SHARED_MM if state.level == other.level else BETWEEN_LEVELS_MM
                apart = pair(state.id, other.id) not in meshes and state.shaft != other.shaft
                (low, top), (under, over) = heights[state.id], heights[other.id]
                shared = min(top, over) - max(low, under)
                if apart and shared > least:
                    yield other, state, shared
        squares.setdefault(here, []).append(state)


def _apart_mm(near: Near) -> float:
    return math.hypot(near[0].x_mm - near[1].x_mm, near[0].y_mm - near[1].y_mm)


def _needed_mm(near: Near) -> float:
    return near[0].tip_radius_mm + near[1].tip_radius_mm + LEAST_GAP_MM


def _finding(design: Design, derived: Derived, pairs: Sequence[Near]) -> Diagnostic:
    one, other, shared_mm = pairs[0]
    apart, needed = _apart_mm(pairs[0]), _needed_mm(pairs[0])
    has, least = two_lengths(apart, needed, design.units)
    gap = apart - needed + LEAST_GAP_MM
    words = f"their tips {'overlap by' if gap < 0.0 else 'pass with'} {length_text(abs(gap), design.units)}"
    if one.level != other.level:
        words += f", over {length_text(shared_mm, design.units)} of height"
    count = len(pairs) - 1
    more = f"; {count} other pair{'s are' if count > 1 else ' is'} alike" if count else ""
    turned = turned_away(design, derived, one, other, LEAST_GAP_MM) if not count else ""
    move = f"move them {up_text(needed - apart, design.units)} further apart, or join them by a mesh if they are meant to"
    return Diagnostic(
        RULE.slug,
        RULE.severity,
        f"`{one.id}` and `{other.id}` stand {has} apart and are not in mesh; at least {least} is required, {words}{more}",
        place(other.gear.name.origin),
        (
            *related((f"`{one.id}` is declared here", one.gear.name.origin)),
            *also_here((f"{a.id}` and `{b.id}", b.gear.name.origin) for a, b, _ in pairs[1:]),
        ),
        f"{turned} clears them, or {move}" if turned else move,
        tuple(dict.fromkeys(state.id for a, b, _ in pairs for state in (a, b))),
    )
