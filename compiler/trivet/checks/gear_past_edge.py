"""A gear whose teeth stand out beyond the edge of the board over it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import up_told
from trivet.checks._walls import inside
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived, GearState
from trivet.units import length_text, two_lengths

RULE = Rule(
    "gear-past-edge",
    "warning",
    "the tips of a gear's teeth reach beyond the edge of the board that it hangs under, and no other board covers them",
    "teeth that stand out catch on clothes, fences and fingers, and break when the fixture is set down on its edge; a rim that is meant"
    " to be turned from outside has to say so",
    "derived: the tip circle as drawn and the board's outline as cut; that teeth belong under the board is common practice, no source",
    failing="""
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 480 by 330 mm, corner_radius 12 mm
""",
    passing="""
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 480 by 345 mm, corner_radius 12 mm
""",
)

LEAST_MM = 0.005


@record
class _Past:
    state: GearState
    by_mm: float
    angle_deg: float


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for the gears that reach equally far beyond one board. One that no mesh or place puts anywhere is left out."""
    boards = {board.name.text: board for board in design.boards}
    outlines: dict[str, Contour] = {}
    for part in derived.parts:
        board = boards.get(part.belongs_to or part.part)
        if board is not None and board.name.text not in outlines:
            outlines[board.name.text] = part.outline.anticlockwise().translated(board.x_mm, board.y_mm)
    origins = {board.name.text: board.outline.origin for board in design.boards}
    groups: dict[tuple[str, float], list[_Past]] = {}
    for state in () if derived.train.faults else derived.train.gears:
        own = outlines.get(state.gear.under.text)
        past = _past(state, own) if own is not None else None
        if past is not None and past.by_mm > LEAST_MM and all(_past(state, other).by_mm > LEAST_MM for other in outlines.values()):
            groups.setdefault((state.gear.under.text, round(past.by_mm, 3)), []).append(past)
    for (under, _), items in groups.items():
        first, *others = items
        radius = first.state.tip_radius_mm
        reach, room = two_lengths(radius, max(radius - first.by_mm, 0.0), design.units)
        more = "".join(f", `{item.state.id}` at {item.angle_deg:.0f} deg" for item in others[:3])
        more += f" and {len(others) - 3} more" if len(others) > 3 else ""
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the teeth of `{first.state.id}` reach {reach} from its middle, {length_text(first.by_mm, design.units)} past the edge of"
            f" `{under}` at {first.angle_deg:.0f} deg{more}; {room} or less stays under it",
            place(first.state.gear.name.origin, design.origin),
            related((f"the outline of `{under}` is stated here", origins[under])),
            f"the edge {up_told(first.by_mm, design.units)} farther out there, the gear as much farther in, or fewer teeth; where the rim"
            " is meant to be turned from outside, accept it with that reason",
            (*(item.state.id for item in items), under),
        )


def _past(state: GearState, outline: Contour) -> _Past:
    """How far the tip circle stands out beyond an outline, and in which direction, anticlockwise from +x."""
    x, y = state.x_mm, state.y_mm
    away, nx, ny, edge = min(
        ((math.hypot(nx - x, ny - y), nx, ny, edge) for edge in outline.segments() for nx, ny in (edge.nearest(x, y),)),
        key=lambda found: found[0],
    )
    within = inside((x, y), outline.points(0.01))
    dx, dy = (nx - x, ny - y) if within else (x - nx, y - ny)
    if away < 1e-6 and edge.is_arc:
        cx, cy = edge.centre
        dx, dy = (x - cx, y - cy) if edge.sweep_rad > 0.0 else (cx - x, cy - y)
    elif away < 1e-6:
        tx, ty = edge.direction(at_end=False)
        dx, dy = ty, -tx
    by = state.tip_radius_mm + (-away if within else away)
    return _Past(state, by, math.degrees(math.atan2(dy, dx)) % 360.0)
