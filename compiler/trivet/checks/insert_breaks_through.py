"""An insert longer than the wood that it stands in."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import down_told
from trivet.checks._sets import by_set, ids
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.model.hardware import Insert
from trivet.solve.board_levels import board_thickness
from trivet.solve.derived import Derived
from trivet.units import two_lengths

RULE = Rule(
    "insert-breaks-through",
    "error",
    "an insert stands out of the topside where the board is thinnest; or, in the blind hole over a guide bore, leaves less than 0.5 mm"
    " of wood",
    "metal stands in the way of the workpiece or of the board above; a floor of a single ply splits when the insert is driven",
    "derived: thinnest board less the insert's far end; the 0.5 mm are common practice, no source",
    failing="""
- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
+   row M8, 16.0 +/- 0.1, 18, 4, 18, 13.5
""",
    passing="""
- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5
+   row M8, 16.0 +/- 0.1, 17.6, 4, 17.6, 13.5
""",
)

# Wood that is wanted between the end of an insert in a blind hole and the other face, mm.
FLOOR_MM = 0.5


def taken_mm(foot: Foot) -> float | None:
    """How much board an insert that begins at the underside takes, or at the topside; None where it may stand out as it likes.

    From `flush underside` it goes up by its length less what stands proud. One that is flush with the topside stands out of it only
    when it is stated proud; what hangs below the board then is a bound of the stroke, no finding of this rule.
    """
    use = foot.insert
    if use is None or (use.flush == "topside" and (foot.guide is None or use.driven_from == "underside")):
        return None
    length = use.hardware.length_mm if isinstance(use.hardware, Insert) else use.hardware.height_mm
    return length - (use.proud.mm if use.proud is not None else 0.0)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each foot set."""
    boards = {board.name.text: board for board in design.boards}
    for name, feet in by_set((*derived.feet, *derived.climbers)):
        foot = feet[0].foot
        taken, board = taken_mm(foot), boards[foot.into.text]
        wood = board_thickness(design, board)
        # The hole stays blind only where a guide bore goes on from it in the direction that the insert is driven.
        blind = foot.guide is not None and foot.insert is not None and foot.insert.driven_from == foot.insert.flush
        floor = FLOOR_MM if blind else 0.0
        if taken is None or foot.insert is None or wood.least - taken >= floor - 1e-9:
            continue
        needs, has = two_lengths(taken, wood.least, design.units)
        far = "topside" if foot.insert.flush == "underside" else "underside"
        left, wants = two_lengths(max(wood.least - taken, 0.0), floor, design.units)
        out = f"it stands out of the {far}" if taken > wood.least else f"{left} of wood is left beyond its end"
        wanted = f"; at least {wants} of wood is wanted there" if blind else ""
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the insert of `{name}` takes {needs} of `{board.name}`, {has} thick at the thinnest: {out}{wanted}",
            place(foot.insert.origin, foot.name.origin),
            related(("the thickness is stated here", wood.origin), ("its row", foot.insert.hardware.origin)),
            f"an insert no longer than {down_told(wood.least - floor, design.units, 0.1, 0.01)}, or a thicker board",
            ids(feet),
        )
