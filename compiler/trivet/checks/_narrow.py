"""Round cuts that their cutter does not enter, with what makes two of them alike."""

from __future__ import annotations

from collections.abc import Hashable, Iterator

from trivet.checks._cuts import Cut, cuts_of
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.feature import Round

# Sizes closer than this are equal.
SAME_MM = 1e-6


def narrow_rounds(design: Design, derived: Derived) -> Iterator[tuple[Hashable, Cut]]:
    """Round cuts that their cutter does not enter: alike are those of one statement, and those of one kind in gears, keepers and layers.

    Shop aids are drilled by hand where the cutter is too wide; their drawings say so.
    """
    boards = {board.name.text for board in design.boards}
    for cut in cuts_of(design, derived):
        shape, cutter = cut.feature.shape, cut.feature.cutter_diameter_mm
        if isinstance(shape, Round) and shape.diameter_mm < cutter - SAME_MM and not (cut.drilled or cut.part.kind == "helper"):
            where = (
                (cut.span.start if cut.span is not None else None) if cut.whole in boards else cut.part.kind + cut.feature.operation
            )
            yield (where, round(shape.diameter_mm, 6), cutter), cut
